package choose

import (
	"fmt"

	"starwright/geom/route"
)

// layPlates adds the set-up that cuts the back plates of a unit.
func (m *maker) layPlates(u *unit) {
	if u.Plate == nil {
		return
	}
	machine, method, how := route.Hand, route.ByHand, "from the template or the drawing, with a bandsaw or jigsaw; bore the holes and saw out the keyhole"
	switch {
	case m.Shop.CNC:
		machine, method, how = route.CNC, route.Program, "with the sheet programs"
	case m.Shop.Laser:
		machine, method, how = route.Laser, route.Drawing, "from the drawing"
	}
	s := m.setup(u, route.Plates, machine, "back plates", route.All)
	s.Method = method
	s.Count, s.Of, s.Pieces = u.Count(), "plates", u.Count()
	s.Readings = []route.Reading{u.plain(route.ReadThick, m.Jigs.Thickness)}
	s.Steps = []string{"Cut the plates " + how + ".", "Break their edges on the side that you see."}
}

// layPlate adds the set-up that screws the back plates on.
func (m *maker) layPlate(u *unit) {
	p := u.Plate
	if p == nil {
		return
	}
	s := m.setup(u, route.Plate, route.Hand, "screw on the back plate", route.All)
	s.Count, s.Of, s.Pieces = u.Count(), "stars", u.Count()
	// A screw ends short of the show face by some mm of wood. Common practice, no source.
	const short, least, head = 4.0, 1.0, 5.0
	long := m.Jigs.Thickness + u.Thickness() - short
	s.Readings = []route.Reading{u.plain(route.ReadScrew, u.Spec.Unit.Floor(long))}
	s.Steps = []string{
		"Lay the star on its show face and the plate on its back: each corner on the middle line of a segment, the keyhole in the one that points up, its neck towards the tip.",
		fmt.Sprintf("Draw the keyhole through. Take the plate off and bore the star's back along it, %s deep, with a bit as wide as its round end: room for the head of the screw that the star hangs on.", u.Format(head)),
		"Bore for the screws and drive one in each hole, with a washer under its head. Put no glue between plate and star: the wood moves across its grain, and the holes leave it room.",
		fmt.Sprintf("Hang it on a screw whose head is wider than %s and no wider than %s.", u.Format(u.Ceil(p.Neck+least)), u.Format(u.Spec.Unit.Floor(p.KeyHead-least))),
	}
	s.Cautions = []string{fmt.Sprintf("A longer screw than %s comes near the show face or through it.", u.Format(u.Spec.Unit.Floor(long)))}
	s.Measure = []string{"The plate shows nowhere from the front: its sides lie behind the valleys."}
}
