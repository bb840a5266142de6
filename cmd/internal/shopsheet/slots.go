package shopsheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"starwright/geom"
	"starwright/geom/route"
	"starwright/geom/star"
	"starwright/geom/words"
	"starwright/post/picture"
)

func handOf(right bool) string {
	if right {
		return "right"
	}
	return "left"
}

func pick(right bool, r, l float64) float64 {
	if right {
		return r
	}
	return l
}

// routerPanel shows the router table from above: the fence at the top, the
// facet's footprint on the table, the bit at the beginning of the cut.
func (m *maker) routerPanel(u *star.Unit, right bool) picture.Panel {
	s, th := u.Slot, u.Thickness()
	f := u.Segment.Facet
	p := picture.Panel{Name: "the table seen from above", Note: "the round arrow is the bit's rotation",
		Room: picture.Room{Left: 4, Right: 4, Above: 2, Below: 2}}
	flip := func(x float64) float64 { // along the fence, the star's centre to the left for the left facet
		if right {
			return f - x
		}
		return x
	}
	fence := geom.Rect(geom.Box{Min: geom.Pt(-0.62*f, 0), Max: geom.Pt(1.62*f, f*0.16)})
	work := geom.Rect(geom.Box{Min: geom.Pt(0, -th), Max: geom.Pt(f, 0)})
	lo, hi := math.Min(flip(s.Start), flip(s.End)), math.Max(flip(s.Start), flip(s.End))
	slot := geom.RoundedRect(geom.Box{Min: geom.Pt(lo, -s.FromFace-s.Width/2), Max: geom.Pt(hi, -s.FromFace+s.Width/2)}, s.Corner)
	p.Shapes = []picture.Shape{{Contour: fence, Look: picture.Kerf}, {Contour: work, Look: picture.Part}, {Contour: slot, Look: picture.Slot}}
	for _, y := range []float64{0, f * 0.16} { // so that no word stands across the fence
		p.Lines = append(p.Lines, picture.Straight(geom.Pt(-0.62*f, y), geom.Pt(1.62*f, y), picture.Edge))
	}
	r := m.Order.Cutter / 2
	bit := geom.Pt(lo+r, -s.FromFace)
	p.Shapes = append(p.Shapes, picture.Shape{Contour: geom.Circle(bit, r), Look: picture.Hole})
	showFace(&p, geom.Pt(0, 0), geom.Pt(f, 0), -1, f*0.02)
	turnArrow(&p, bit, r+f*0.05)
	arrow(&p, geom.Pt(f*1.62, -th*0.5), geom.Pt(f*1.28, -th*0.5), f*0.06)
	ends := []string{"star's\ncentre", "valley"}
	p.Labels = []picture.Label{
		{At: geom.Pt(flip(0), -th*0.6), Text: ends[0], Away: geom.Pt(flip(0)-f/2, 0)},
		{At: geom.Pt(flip(f), -th*0.6), Text: ends[1], Away: geom.Pt(flip(f)-f/2, 0)},
		{At: geom.Pt(-0.2*f, f*0.08), Text: "fence", Mark: picture.On},
		{At: geom.Pt(f*1.45, -th*0.5), Text: "feed\nthis way", Away: geom.Pt(0, -1)},
		{At: geom.Pt(f*0.5, f*0.08), Text: "show face", Mark: picture.On},
	}
	p.Dims = []picture.Dim{
		{A: geom.Pt(flip(0), -th), B: geom.Pt(flip(s.Start), -s.FromFace), Side: picture.Below},
		{A: geom.Pt(flip(0), -th), B: geom.Pt(flip(s.End), -s.FromFace), Side: picture.Below},
		{A: geom.Pt(lo, 0), B: geom.Pt(lo+r, -s.FromFace), Side: picture.Left},
	}
	return p
}

// showFace marks the show face along the way from a to b: a thick line with
// the triangles that joiners draw, pointing to the side of the wood.
func showFace(p *picture.Panel, a, b geom.Point, side, size float64) {
	d := b.Sub(a)
	n := d.Unit().Left().Mul(side)
	for _, t := range []float64{0.2, 0.35} {
		o := a.Lerp(b, t)
		c := geom.Polygon(o.Sub(d.Unit().Mul(size)), o.Add(d.Unit().Mul(size)), o.Add(n.Mul(size*1.8)))
		p.Shapes = append(p.Shapes, picture.Shape{Contour: c.CCW(), Look: picture.Solid})
	}
	p.Lines = append(p.Lines, picture.Straight(a, b, picture.Joint))
}

// arrow draws a long arrow from a to b.
func arrow(p *picture.Panel, a, b geom.Point, head float64) {
	u := b.Sub(a).Unit()
	n := u.Left().Mul(head * 0.5)
	back := b.Sub(u.Mul(head))
	p.Lines = append(p.Lines, picture.Straight(a, back, picture.Joint))
	p.Shapes = append(p.Shapes, picture.Shape{Contour: geom.Polygon(b, back.Add(n), back.Sub(n)).CCW(), Look: picture.Solid})
}

// turnArrow draws the bit's rotation: counter-clockwise, as a router's bit
// turns seen from above when it stands in a table.
func turnArrow(p *picture.Panel, o geom.Point, r float64) {
	from, sweep := 100*geom.Degree, 190*geom.Degree
	a, b := o.Add(geom.Polar(r, from)), o.Add(geom.Polar(r, from+sweep))
	p.Lines = append(p.Lines, picture.Path{Curves: []geom.Curve{{A: a, B: b, Bulge: math.Tan(float64(sweep) / 4)}}, Look: picture.Joint})
	u := geom.Polar(1, from+sweep+90*geom.Degree)
	head := r * 0.5
	n := u.Left().Mul(head * 0.45)
	p.Shapes = append(p.Shapes, picture.Shape{Contour: geom.Polygon(b.Add(u.Mul(head)), b.Add(n), b.Sub(n)).CCW(), Look: picture.Solid})
}

// roomBelow is how far the work reaches below its level facet, mm.
func roomBelow(s star.Segment) float64 {
	low := 0.0
	for _, v := range (geom.Place{Turn: -s.Center / 2}).Contour(s.Outline()) {
		low = math.Min(low, v.Y)
	}
	return -low
}

// roomWords says how far the work reaches below the facet, and with it the
// stand that holds it, whose facet lies on the X axis.
func (m *maker) roomWords(u *star.Unit, right bool) string {
	words := m.say(roomBelow(u.Segment)) + " for the segment"
	for _, j := range m.Jigs {
		if j.Key == "slot-stand" && slices.Contains(j.For, u) && strings.HasSuffix(j.File, handOf(right)) {
			words += ", " + m.say(math.Max(roomBelow(u.Segment), -j.Outline.Bounds().Min.Y)) + " with its stand"
		}
	}
	return words
}

// machinePanel shows the facet as the spindle sees it.
func (m *maker) machinePanel(u *star.Unit, right bool) picture.Panel {
	s, th, f := u.Slot, u.Thickness(), u.Segment.Facet
	p := picture.Panel{Name: "the facet seen from above", Room: picture.Room{Left: 16, Right: 16, Below: 4}}
	x := func(v float64) float64 {
		if right {
			return -v
		}
		return v
	}
	box := func(a, b, lo, hi float64) geom.Box {
		return geom.Box{Min: geom.Pt(math.Min(x(a), x(b)), lo), Max: geom.Pt(math.Max(x(a), x(b)), hi)}
	}
	p.Shapes = []picture.Shape{
		{Contour: geom.Rect(box(-0.2*f, 1.2*f, -f*0.16, 0)), Look: picture.Kerf},
		{Contour: geom.Rect(box(0, f, 0, th)), Look: picture.Part},
		{Contour: geom.RoundedRect(box(s.Start, s.End, s.FromFace-s.Width/2, s.FromFace+s.Width/2), s.Corner), Look: picture.Hole},
	}
	showFace(&p, geom.Pt(x(0), 0), geom.Pt(x(f), 0), pick(right, -1, 1), f*0.02)
	p.Lines = append(p.Lines, picture.Straight(geom.Pt(x(-0.2*f), 0), geom.Pt(x(1.2*f), 0), picture.Edge)) // the fence's face, so that no word stands across it
	cross := geom.Pt(math.Min(x(-0.2*f), x(1.2*f))-0.3*f, -f*0.16)                                         // of the machine's axes, beside the work
	arrow(&p, cross, cross.Add(geom.Pt(0.16*f, 0)), f*0.04)
	arrow(&p, cross, cross.Add(geom.Pt(0, 0.16*f)), f*0.04)
	p.Shapes = append(p.Shapes, picture.Shape{Contour: geom.Circle(geom.Pt(0, 0), f*0.008), Look: picture.Solid})
	p.Labels = []picture.Label{
		{At: geom.Pt(x(0), th), Text: "X0 Y0\nstar's\ncentre", Away: geom.Pt(x(-1), 1)},
		{At: geom.Pt(x(f), th*0.6), Text: "valley", Away: geom.Pt(x(1), 0.4)},
		{At: geom.Pt(x(f*1.05), -f*0.08), Text: "fence", Mark: picture.On},
		{At: geom.Pt(x(f*0.5), -f*0.08), Text: "show face", Mark: picture.On},
		{At: cross.Add(geom.Pt(0.16*f, 0)), Text: "X", Away: geom.Pt(1, 0)},
		{At: cross.Add(geom.Pt(0, 0.16*f)), Text: "Y", Away: geom.Pt(0, 1)},
	}
	p.Dims = []picture.Dim{
		{A: geom.Pt(x(0), th), B: geom.Pt(x(s.Start), s.FromFace), Side: picture.Above},
		{A: geom.Pt(x(0), th), B: geom.Pt(x(s.End), s.FromFace), Side: picture.Above},
		{A: geom.Pt(x(f), 0), B: geom.Pt(x(s.End), s.FromFace), Side: pickSide(right)},
	}
	return p
}

func pickSide(right bool) picture.Side {
	if right {
		return picture.Left
	}
	return picture.Right
}

// splinePanel shows one spline with its grain.
func (m *maker) splinePanel(u *star.Unit) (picture.Panel, bool) {
	sp := u.Spline
	if sp == nil {
		return picture.Panel{}, false
	}
	p := picture.Panel{Name: "one spline", Room: picture.Room{Left: 20, Right: 30},
		Shapes: []picture.Shape{{Contour: geom.Rect(geom.Box{Max: geom.Pt(sp.Length, sp.Width)}), Look: picture.Part}},
		Dims: []picture.Dim{
			{A: geom.Pt(0, 0), B: geom.Pt(sp.Length, 0), Side: picture.Below, Text: "along the joint " + m.say(sp.Length)},
			{A: geom.Pt(sp.Length, 0), B: geom.Pt(sp.Length, sp.Width), Side: picture.Right},
		},
		Labels: []picture.Label{{At: geom.Pt(0, sp.Width/2), Text: "grain\nup and down", Away: geom.Pt(-1, 0)}}}
	for i := 1; i < 12; i++ {
		x := sp.Length * float64(i) / 12
		p.Lines = append(p.Lines, picture.Straight(geom.Pt(x, sp.Width*0.08), geom.Pt(x, sp.Width*0.92), picture.Edge))
	}
	return p, true
}

// programFacts are what a set-up of the CNC has beside its readings.
func (m *maker) programFacts(s *route.Setup) [][2]string {
	if len(s.Sheets) > 0 {
		return m.flatFacts(s)
	}
	if s.Slot == nil || s.Slot.Program == "" {
		return nil
	}
	u, right := m.Order.Units[s.Unit], s.Slot.Hand == route.Right
	towards := "grows from the star's centre to the valley"
	if right {
		towards = "falls from the star's centre to the valley"
	}
	rows := [][2]string{
		{"Program, " + handOf(right), s.Slot.Program + m.runs(s.Slot.Program)},
		{"X, " + handOf(right), towards},
		{"Room below the facet", m.roomWords(u, right) + "; on a lower machine let it hang over the table's edge"},
	}
	own := m.Job.Of(u.Spec.Name).Slot
	if own.Stations > 1 {
		rows = append(rows, [2]string{"Stations", fmt.Sprintf("%d, show faces %s apart in Y", own.Stations, m.say(own.Pitch))})
	}
	if own.Loads > 1 {
		rows = append(rows, [2]string{"Loads", fmt.Sprintf("%d in one run; at each stop wait for the spindle, change the segments, then go on", own.Loads)})
	}
	return rows
}

// runs says how often a program is run, and how long it takes.
func (m *maker) runs(path string) string {
	for _, p := range m.Programs {
		if p.Path == path {
			return fmt.Sprintf(": run it %s, %.1f min each", words.Count(p.Quantity, "time", "times"), p.Minutes)
		}
	}
	return ""
}
