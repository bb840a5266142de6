package choose

import (
	"fmt"
	"math"
	"strings"

	"starwright/geom/jig"
	"starwright/geom/problem"
	"starwright/geom/route"
)

// slotWay is how the slots of a unit are cut.
type slotWay struct {
	machine     route.Machine // "" for no slots
	left, right route.JigUse
	builds      map[route.Side]*jig.Build
	edge        bool // the work hangs over the edge of the CNC's table
	farSide     float64
}

const bitSlack = 0.05 // mm by which a bit may differ from the slot's width

// slotMethod settles how the slots of a unit are cut.
func (m *maker) slotMethod(u *unit) problem.List {
	if u.Slot == nil {
		how := "plain glued"
		if u.Plate != nil {
			how += ", a plate on the back"
		}
		m.choice(u, "joints", how, "the job has no slots", "")
		return nil
	}
	needCNC := m.cncNeed(u)
	if needCNC == "" {
		m.choice(u, "slots", "CNC with the slot stand", "a program cuts them where they are wanted", "")
		return nil
	}
	needTable := m.tableNeed(u)
	if needTable == "" {
		m.choice(u, "slots", "router table with the carriage", "the shop has the table", needCNC)
		return nil
	}
	if m.Shop.CNC { // the machine is there: what keeps the stand from being made is the cause
		if _, ps := m.slotJigs(u, "slot-stand", ""); len(ps) > 0 {
			return ps
		}
	}
	return m.noSlots(u, needCNC, needTable)
}

// noSlots says why nothing in the shop cuts the slots of a unit: the machine
// that is there and what keeps it from doing so, or the machine that is missing.
func (m *maker) noSlots(u *unit, needCNC, needTable string) problem.List {
	plain := u.WithoutSlots() + " for plain glued joints"
	if m.Shop.RouterTable {
		if p, ok := m.tableFault(u); ok {
			p.Would += ", or " + plain
			return problem.List{p}
		}
	}
	would := plain
	for _, k := range []route.Machine{route.RouterTable, route.CNC} {
		if m.withMachine(k).cutsSlots(*u) {
			would += ", or has = " + m.Shop.list(k)
			break
		}
	}
	return problem.List{{Key: "shop.has", Got: m.Shop.list(""),
		Why:   fmt.Sprintf("nothing there cuts the slots: they take %s, or %s", needCNC, needTable),
		Would: would}}
}

// withMachine is the maker in a shop that has one machine more.
func (m *maker) withMachine(k route.Machine) *maker {
	n := &maker{Given: m.Given, units: m.units, kits: m.kits, worth: m.worth}
	n.Shop.RouterTable, n.Shop.CNC = m.Shop.RouterTable || k == route.RouterTable, m.Shop.CNC || k == route.CNC
	return n
}

// cutsSlots reports whether the shop cuts the slots of a unit.
func (m *maker) cutsSlots(u unit) bool { return m.cncNeed(&u) == "" || m.tableNeed(&u) == "" }

// list writes the machines as `[shop] has` does, with one more where there is
// one to add.
func (s Shop) list(more route.Machine) string {
	var out []string
	for _, k := range []struct {
		name route.Machine
		is   bool
	}{{route.MitreSaw, s.MitreSaw}, {route.RouterTable, s.RouterTable}, {route.CNC, s.CNC}, {route.Laser, s.Laser}} {
		if k.is || k.name == more {
			out = append(out, fmt.Sprintf("%q", k.name))
		}
	}
	return "[" + strings.Join(out, ", ") + "]"
}

// cncNeed takes the CNC for the slots of a unit, or says what that would need.
func (m *maker) cncNeed(u *unit) string {
	if !m.Shop.CNC {
		return "a CNC"
	}
	way, ps := m.slotJigs(u, "slot-stand", "holds the facet level under the spindle")
	if len(ps) > 0 {
		return "a slot stand that can be made: " + ps[0].Why
	}
	room := 0.0
	for _, b := range way.builds {
		room, way.edge = max(room, b.RoomZ), way.edge || b.RoomZ > b.FootZ+near
	}
	if r := m.Shop.Room; r > 0 && room > r && !way.edge {
		if m.Shop.RouterTable && m.tableNeed(u) == "" {
			return fmt.Sprintf("a CNC with %s under its spindle", u.Format(u.Ceil(room)))
		}
		way.edge = true
	}
	way.machine = route.CNC
	u.slots = way
	m.want(jig.Want{Key: "slot-stand", Unit: u.index, Sets: min(mostStands, m.stations(u).Count)})
	return ""
}

// tableNeed takes the router table for the slots of a unit, or says what that
// would need.
func (m *maker) tableNeed(u *unit) string {
	if !m.Shop.RouterTable {
		return "a router table"
	}
	way, need := m.tableWay(u)
	if need != "" {
		return need
	}
	u.slots = way
	m.want(jig.Want{Key: "router-carriage", Unit: u.index})
	return ""
}

// tableWay is how the router table cuts the slots of a unit, or what that would
// need.
func (m *maker) tableWay(u *unit) (way slotWay, need string) {
	if !m.hasBit(u.Slot.Width) {
		return way, "a straight bit of " + u.FormatSize(u.Slot.Width) + " for the router table"
	}
	way, ps := m.slotJigs(u, "router-carriage", "carries the segment over the bit, facet down")
	if len(ps) > 0 {
		return way, "a router carriage that can be made: " + ps[0].Why
	}
	way.machine = route.RouterTable
	b := way.builds[route.Left]
	if h := m.Shop.FenceHeight; h > 0 && h < tallFence(b)-near {
		return way, "a router fence " + u.Format(u.Ceil(tallFence(b))) + " high"
	}
	if l := m.Shop.FenceLength; l > 0 && l < u.longFence(way)-near {
		return way, "a router fence " + u.Format(u.Ceil(u.longFence(way))) + " long"
	}
	return way, ""
}

// hasBit reports whether the router table has a bit of a width, as far as is
// known.
func (m *maker) hasBit(wide float64) bool {
	has := len(m.Shop.Bits) == 0
	for _, d := range m.Shop.Bits {
		has = has || math.Abs(d-wide) <= bitSlack
	}
	return has
}

// tableFault is what keeps the router table from cutting the slots of a unit.
func (m *maker) tableFault(u *unit) (problem.Problem, bool) {
	if !m.hasBit(u.Slot.Width) {
		var have []string
		for _, d := range m.Shop.Bits {
			have = append(have, fmt.Sprintf("%q", u.FormatSize(d)))
		}
		return problem.Problem{Key: "router_table.bits", Got: "[" + strings.Join(have, ", ") + "]",
			Why:   "no bit there cuts the slots, which are " + u.FormatSize(u.Slot.Width) + " wide",
			Would: fmt.Sprintf("bits = [%s]", strings.Join(append(have, fmt.Sprintf("%q", u.FormatSize(u.Slot.Width))), ", "))}, true
	}
	way, ps := m.slotJigs(u, "router-carriage", "")
	if len(ps) > 0 {
		return ps[0], true
	}
	b := way.builds[route.Left]
	for _, f := range []struct {
		key, why  string
		has, need float64
	}{
		{"fence_height", "the router carriage leans on a fence, or a board screwed to it, of half its height", m.Shop.FenceHeight, tallFence(b)},
		{"fence_length", "the fence, or a board screwed to it, must take a stop on either side of the bit", m.Shop.FenceLength, u.longFence(way)},
	} {
		if f.has > 0 && f.has < f.need-near {
			return problem.Problem{Key: "router_table." + f.key, Got: u.Format(f.has), Why: f.why,
				Would: fmt.Sprintf("%s = %q", f.key, u.Format(u.Ceil(f.need)))}, true
		}
	}
	return problem.Problem{}, false
}

// stopBlock is the length of a stop that is clamped to a fence, mm. Common
// practice, no source.
const stopBlock = 40.0

// longFence is how long a fence must be for both stops of a carriage, the bit at
// its middle: left and right carriage change the sides of the stops.
func (u *unit) longFence(way slotWay) float64 {
	r := u.Slot.Width / 2
	return 2 * (math.Max(way.builds[route.Left].SideX+u.Slot.End-r, way.farSide-u.Slot.Start-r) + stopBlock)
}

// tallFence is how high a fence must be for a carriage to lean on: half its
// height. Common practice, no source.
func tallFence(b *jig.Build) float64 { return b.FootZ / 2 }

// slotJigs makes the two hands of a stand or carriage for a unit.
func (m *maker) slotJigs(u *unit, key, does string) (slotWay, problem.List) {
	way := slotWay{builds: map[route.Side]*jig.Build{}}
	kit, ps := m.plates(jig.Want{Key: key, Unit: u.index})
	if len(ps) > 0 {
		return way, ps
	}
	for i := range kit {
		j := &kit[i]
		if j.Build == nil {
			continue
		}
		way.builds[route.Side(j.Hand)] = j.Build
		if j.Hand == "left" {
			way.left = m.use(j, does)
			// The side that is not the centre's: the carriage lies either way.
			way.farSide = j.Outline.Bounds().W() - j.Build.SideX
		} else {
			way.right = m.use(j, does)
		}
	}
	return way, nil
}

// slotCut returns a slot as printed on the page; a router's stops may place
// it otherwise.
func (u *unit) slotCut(hand route.Side) *route.SlotCut {
	edge := 0 // the right facet, from the centre to the valley
	if hand == route.Left {
		edge = 3
	}
	s := u.Slot
	return &route.SlotCut{Hand: hand, Edge: edge, Start: s.Start, End: s.End, Depth: s.Depth, Width: s.Width, FromFace: s.FromFace}
}

// laySlots adds the set-ups for the slots of a unit.
func (m *maker) laySlots(u *unit) {
	if u.slots.machine == "" {
		return
	}
	for _, hand := range []route.Side{route.Left, route.Right} {
		s := m.setup(u, route.Slot, u.slots.machine, "slots in the "+string(hand)+" facets", route.All)
		s.Count, s.Of, s.Pieces = u.Segments(), "slots", u.Segments()
		s.Slot = u.slotCut(hand)
		jigUse := u.slots.left
		if hand == route.Right {
			jigUse = u.slots.right
		}
		if u.slots.machine == route.CNC {
			jigUse.Sets = m.stations(u).Count
		}
		s.Jigs = []route.JigUse{jigUse}
		s.Touches = []route.Touch{{What: route.TouchFence, Edge: -1, Corner: -1, Jig: jigUse.Path}}
		if u.slots.machine == route.CNC {
			m.cncSlot(u, s, hand)
		} else {
			m.tableSlot(u, s, hand)
		}
		s.Cautions = append(s.Cautions, "Keep hands clear until the spindle stands still.")
	}
}

// cncSlot fills a set-up under the spindle.
func (m *maker) cncSlot(u *unit, s *route.Setup, hand route.Side) {
	s.Method = route.Program
	if m.Path != nil {
		s.Slot.Program = m.Path(u.Unit, string(hand))
	}
	read := func(name string, mm float64) float64 {
		r := u.place(name, mm, 1)
		s.Readings = append(s.Readings, r)
		return *r.MM
	}
	s.Slot.Start, s.Slot.End = read(route.ReadSlotStart, u.Slot.Start), read(route.ReadSlotEnd, u.Slot.End)
	s.Slot.Depth, s.Slot.FromFace = read(route.ReadSlotDepth, u.Slot.Depth), read(route.ReadFromFace, u.Slot.FromFace)
	s.Readings = append(s.Readings, set(u.size(route.ReadBit, m.Order.Cutter)))
	row := m.stations(u)
	stands, home := "the right slot stand", "Push the segment home"
	s.SetUp = []string{
		"Stand the left slot stand under the spindle, screwed to a fence board at Y0.",
		"Set X0 at the star's centre end of the facet, Y0 at the show face, Z0 on the facet.",
	}
	if row.Count > 1 {
		stands, home = "the right slot stands", "Push a segment home in each stand,"
		s.SetUp = row.setUp(u, u.slots.builds[hand])
	}
	if u.slots.edge {
		s.SetUp = append(s.SetUp, "The segment hangs lower than the stand: set the stand at the table's edge.")
	}
	if hand == route.Right {
		s.SetUp = nil
		s.TurnBefore = "Change to " + stands + ", set the zeros again, and cut the right facets in the same way, with their own program."
	}
	s.Steps = []string{
		home + " in the corner of the two seats, show face to the fence, and strap it.",
		"Run the program once over the work in the air, then cut.",
	}
	s.Measure = []string{"Look how far the slot lies from the show face, and try a spline in it."}
}

// tableSlot fills a set-up on the router table. The carriage rides along the
// fence; a stop at the side of the star's centre ends the slot at the valley,
// one at the other side begins it.
func (m *maker) tableSlot(u *unit, s *route.Setup, hand route.Side) {
	s.Method = route.Carried
	b := u.slots.builds[hand]
	r := u.Slot.Width / 2
	far := u.slots.farSide
	end := set(u.place(route.ReadStopEnd, b.SideX+u.Slot.End-r, 1))
	start := set(u.place(route.ReadStopStart, far-u.Slot.Start-r, 1))
	fence := set(u.place(route.ReadFence, u.Slot.FromFace, 1))
	high := set(u.place(route.ReadBitHeight, u.Slot.Depth, 1))
	s.Slot.End, s.Slot.Start = *end.MM-b.SideX+r, far-*start.MM-r
	s.Slot.FromFace, s.Slot.Depth = *fence.MM, *high.MM
	s.Readings = append(s.Readings, set(u.size(route.ReadBit, u.Slot.Width)), high, fence, end, start,
		u.atLeast(route.ReadTall, tallFence(b)), u.atLeast(route.ReadLong, u.longFence(u.slots)))
	s.SetUp = []string{
		"Set the fence. Where it is lower or shorter than the page says, screw a board to it.",
		"Clamp the end stop on the side of the star's centre, the start stop on the other side, each so far from the bit's middle.",
	}
	s.Steps = []string{
		"Push the segment into the corner of the two seats, show face to the fence, and strap it.",
		"With the router off, try that the carriage moves from stop to stop.",
		"Hold the carriage against the right stop, tip it down onto the bit, and feed to the left, against the bit's rotation, as far as the other stop. Both hands stay at the grip.",
		"Take the depth in passes of " + u.Format(math.Min(u.Slot.Depth, 3)) + ".",
	}
	if hand == route.Right {
		s.SetUp = nil
		s.TurnBefore = "Take the right carriage, and change the stops over to the other sides of the bit. Cut the right facets in the same way."
	}
	s.Measure = []string{"Look how far the slot lies from the show face, and try a spline in it."}
	s.Cautions = append(s.Cautions, "Fix a guard over the bit; never lower work by hand without the carriage.")
}
