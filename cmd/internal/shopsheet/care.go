package shopsheet

import (
	"strings"

	"starwright/geom/route"
)

// careAt is what hurts people at each machine.
var careAt = []struct {
	machine route.Machine
	name    string
	points  []string
}{
	{route.MitreSaw, "Mitre saw", []string{
		"Pull the plug before you fix blocks, cradles and stops. Turn the blade by hand past block, screws and clamps before the first cut.",
		"Clamp short pieces, never hold them. Keep your hands a spread hand's width from the line of cut.",
		"Set no stop on the side that falls off: a piece caught between blade and stop is thrown.",
		"Let the blade come to speed, cut slowly, and wait until it stops before you lift it or reach for an off-cut.",
		"A block that turns the work leaves a gap at the fence: look whether the guard closes over it.",
	}},
	{route.RouterTable, "Router table", []string{
		"Feed against the bit's rotation: from right to left, the fence behind. The other way the bit pulls the work out of your hands.",
		"Keep the work in its carriage, both hands on the grip, a guard over the bit.",
		"Lower the work onto the bit only against the right stop. Never back up in a cut that has begun: stop the router first.",
	}},
	{route.CNC, "CNC", []string{
		"Make every first run an air cut. Keep a hand at the stop button until the first part is done.",
		"Keep clamps and screws outside of the travel and lower than {clamps} over the work, the safe height. Keep cords, hair and sleeves away from the spindle.",
	}},
	{"", "You and the wood", []string{
		"Wear eye and ear protection; no gloves, sleeves or strings near anything that turns. Catch the dust where it is made and wear a mask: some woods, cedar among them, harm the lungs.",
		"Look each board over for nails and stones before it meets a blade.",
		"Finishes: fresh air and no flame. Spread oily rags flat outdoors: they catch fire by themselves.",
	}},
}

// leave is the first caution of all.
const leave = "This sheet gives numbers, not permission. The machine's own manual, your local rules and the person who taught you on it come first."

// used reports whether the route does anything on a machine.
func (m *maker) used(k route.Machine) bool {
	for _, s := range m.Route.Setups {
		if s.Machine == k {
			return true
		}
	}
	return false
}

// cautions is the page before the first cut, for the machines of this route.
func (m *maker) cautions() {
	f := m.doc.Section("Before you switch on")
	f.Strong(leave)
	for _, c := range careAt {
		if c.machine == "" || m.used(c.machine) {
			f.Head(c.name)
			f.Points(m.points(c.points)...)
		}
	}
}

// care is the same in one list.
func (m *maker) care() []string {
	out := []string{leave}
	for _, c := range careAt {
		if c.machine == "" || m.used(c.machine) {
			out = append(out, m.points(c.points)...)
		}
	}
	return out
}

// points puts the job's own height into the words on clamps.
func (m *maker) points(said []string) []string {
	out := make([]string, len(said))
	for i, s := range said {
		out[i] = strings.Replace(s, "{clamps}", m.clampHeight(), 1)
	}
	return out
}

// clampHeight is what clamps and screws stay under, over the work: the height at
// which the cutter travels.
func (m *maker) clampHeight() string { return m.u.FormatSize(m.Job.Machine.SafeZ) }
