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
		m.choice(u, "joints", "plain glued", "the job has no slots", "")
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
	has := []string{}
	for _, s := range []struct {
		name string
		is   bool
	}{{"mitre saw", m.Shop.MitreSaw}, {"router table", m.Shop.RouterTable}, {"cnc", m.Shop.CNC}, {"laser", m.Shop.Laser}} {
		if s.is {
			has = append(has, fmt.Sprintf("%q", s.name))
		}
	}
	return problem.List{{Key: "shop.has", Got: "[" + strings.Join(has, ", ") + "]",
		Why:   fmt.Sprintf("nothing there cuts the slots: they take %s, or %s", needCNC, needTable),
		Would: "make = false under [slot] for plain glued joints, or has = [" + strings.Join(append(has, `"router table"`), ", ") + "]"}}
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
	m.want(jig.Want{Key: "slot-stand", Unit: u.index})
	return ""
}

// tableNeed takes the router table for the slots of a unit, or says what that
// would need.
func (m *maker) tableNeed(u *unit) string {
	if !m.Shop.RouterTable {
		return "a router table"
	}
	if len(m.Shop.Bits) > 0 {
		has := false
		for _, d := range m.Shop.Bits {
			has = has || math.Abs(d-u.Slot.Width) <= bitSlack
		}
		if !has {
			return "a straight bit of " + u.FormatSize(u.Slot.Width) + " for the router table"
		}
	}
	way, ps := m.slotJigs(u, "router-carriage", "carries the segment over the bit, facet down")
	if len(ps) > 0 {
		return "a router carriage that can be made: " + ps[0].Why
	}
	way.machine = route.RouterTable
	if h := m.Shop.FenceHeight; h > 0 && h < tallFence(way.builds[route.Left])-near {
		return "a router fence " + u.Format(u.Ceil(tallFence(way.builds[route.Left]))) + " high"
	}
	u.slots = way
	m.want(jig.Want{Key: "router-carriage", Unit: u.index})
	return ""
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
	s.SetUp = []string{
		"Stand the " + string(hand) + " slot stand under the spindle, screwed to a fence board at Y0.",
		"Set X0 at the star's centre end of the facet, Y0 at the show face, Z0 on the facet.",
	}
	if u.slots.edge {
		s.SetUp = append(s.SetUp, "The segment hangs lower than the stand: set the stand at the table's edge.")
	}
	s.Steps = []string{
		"Push the segment home in the corner of the two seats, show face to the fence, and strap it.",
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
		u.atLeast(route.ReadTall, tallFence(b)))
	s.SetUp = []string{
		"Set the fence from the bit's middle, and screw a board to it where it is lower than the page says.",
		fmt.Sprintf("Clamp a stop at the star's centre side of the carriage, %s from the bit's middle: there the slot ends near the valley.", end.Printed),
		fmt.Sprintf("Clamp a stop at its other side, %s from the bit's middle: there the slot begins near the centre.", start.Printed),
	}
	s.Steps = []string{
		"Push the segment into the corner of the two seats, show face to the fence, and strap it.",
		"With the router off, try that the carriage moves from stop to stop.",
		"Tip the carriage down onto the bit at one stop, feed from right to left against the bit's rotation, both hands at the grip.",
		"Take the depth in passes of " + u.Format(math.Min(u.Slot.Depth, 3)) + ".",
	}
	s.Measure = []string{"Look how far the slot lies from the show face, and try a spline in it."}
	s.Cautions = append(s.Cautions, "Fix a guard over the bit; never lower work by hand without the carriage.")
}
