package shopsheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"starwright/geom"
	"starwright/geom/star"
	"starwright/geom/words"
	"starwright/post/picture"
	"starwright/post/sheet"
)

// slots writes a page for each hand of slot of each star, or says that there
// are none.
func (m *maker) slots() {
	for _, u := range m.units() {
		if u.Slot != nil {
			m.slotPages(u)
		}
	}
}

func (m *maker) slotPages(u *star.Unit) {
	what := u.Words("segment")
	for _, right := range []bool{false, true} {
		m.routerPage(m.doc.Section(fmt.Sprintf("Slots on the router table: %s facet, %s", handOf(right), what)), u, right)
	}
	for _, right := range []bool{false, true} {
		m.machinePage(m.doc.Section(fmt.Sprintf("Slots on the CNC: %s facet, %s", handOf(right), what)), u, right)
	}
}

func handOf(right bool) string {
	if right {
		return "right"
	}
	return "left"
}

func (m *maker) routerPage(f *sheet.Flow, u *star.Unit, right bool) {
	s := u.Slot
	r := m.Order.Cutter / 2
	from, to := "star's centre", "valley"
	if right {
		from, to = to, from
	}
	jigs := "carriage: slot with the jig that holds the segment, never with bare hands"
	if m.has("router-carriage") {
		jigs = fmt.Sprintf("router carriage %s, %s; never bare hands", handOf(right), u.Words("segment"))
	}
	facts(f,
		[2]string{"Bit", fmt.Sprintf("straight, %s, standing %s above the table", m.u.FormatSize(m.Order.Cutter), m.say(s.Depth))},
		[2]string{"Fence", fmt.Sprintf("%s from the middle of the bit; the show face lies against it", m.say(s.FromFace))},
		[2]string{"Jig", jigs},
		[2]string{"Feed", "from right to left, against the bit's rotation"},
		[2]string{"Slot", fmt.Sprintf("from %s to %s, measured from the star's centre", m.say(s.Start), m.say(s.End))},
		[2]string{"Cut", fmt.Sprintf("one slot in each %s facet, %d in all", handOf(right), u.Segments())})
	f.View(m.routerPanel(u, right), 96, m.say)
	steps := []string{
		fmt.Sprintf("Set the stops on the fence: the middle of the bit is %s from the star's centre where the cut begins at the %s, and %s from it where it ends at the %s.",
			m.say(pick(right, s.End-r, s.Start+r)), from, m.say(pick(right, s.Start+r, s.End-r)), to),
		"The facet lies on the table and the work stands on it, held in its jig.",
		fmt.Sprintf("Cut in passes of %s: raise the bit, run all segments, raise it again, up to %s.", m.say(m.Job.Cutter.DepthPerPass), m.say(s.Depth)),
		"Work against the right stop, lower it onto the running bit, feed to the left stop, stop the router, wait, lift.",
	}
	if s.Width > m.Order.Cutter+1e-6 {
		steps = append(steps, fmt.Sprintf("The slot is %s wide, wider than the bit: move the fence by %s to both sides of its middle and cut twice.",
			m.u.FormatSize(s.Width), m.u.FormatFine((s.Width-m.Order.Cutter)/2)))
	}
	f.Steps(steps...)
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
		{At: geom.Pt(f*0.5, f*0.08), Text: "SHOW FACE here", Mark: picture.On},
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

func (m *maker) machinePage(f *sheet.Flow, u *star.Unit, right bool) {
	s, j := u.Slot, m.Job
	path := "gcode/" + u.File("slot-"+handOf(right)) + ".nc"
	var prog File
	for _, p := range m.Programs {
		if p.Path == path {
			prog = p
		}
	}
	towards := "X grows from the star's centre to the valley"
	if right {
		towards = "X falls from the star's centre to the valley"
	}
	rows := [][2]string{
		{"Program", path},
		{"Zero", "X0 the star's centre end of the facet, Y0 the show face, Z0 the facet itself; " + towards},
		{"Cutter", fmt.Sprintf("straight, %s, %.0f rev/min, feed %s", m.u.FormatSize(m.Order.Cutter), j.Cutter.SpindleRPM, m.u.FormatFeed(j.Cutter.Feed))},
		{"Hold", "facet level on top, show face against the fence at Y0"},
		{"Room below the facet", m.roomWords(u, right) + "; on a lower machine let it hang over the table's edge"},
	}
	if prog.Quantity > 0 {
		rows = append(rows, [2]string{"Run", fmt.Sprintf("%s, about %.1f min each", words.Count(prog.Quantity, "time", "times"), prog.Minutes)})
	}
	if j.Slot.Stations > 1 {
		rows = append(rows, [2]string{"Stations", fmt.Sprintf("%d, show faces %s apart in Y", j.Slot.Stations, m.say(j.Slot.Pitch))})
	}
	facts(f, rows...)
	f.View(m.machinePanel(u, right), 86, m.say)
	f.Steps(
		"Zero on the first segment: edge finder or a piece of paper at the star's centre and at the fence, cutter touching the facet for Z.",
		"First run: an air cut with Z0 set "+m.say(m.u.Ceil(s.Depth+10))+" too high. Watch which way X goes.",
		"Then one try segment. Lay a spline in its slot against one from the other hand: the show faces must come out level.",
		"Change segments only when the spindle stands still. Blow the seat clean each time.",
	)
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
	cross := geom.Pt(math.Min(x(-0.2*f), x(1.2*f))-0.3*f, -f*0.16) // of the machine's axes, beside the work
	arrow(&p, cross, cross.Add(geom.Pt(0.16*f, 0)), f*0.04)
	arrow(&p, cross, cross.Add(geom.Pt(0, 0.16*f)), f*0.04)
	p.Shapes = append(p.Shapes, picture.Shape{Contour: geom.Circle(geom.Pt(0, 0), f*0.008), Look: picture.Solid})
	p.Labels = []picture.Label{
		{At: geom.Pt(x(0), th*0.6), Text: "X0 Y0\nstar's\ncentre", Away: geom.Pt(x(-1), 0.4)},
		{At: geom.Pt(x(f), th*0.6), Text: "valley", Away: geom.Pt(x(1), 0.4)},
		{At: geom.Pt(x(f*1.05), -f*0.08), Text: "fence", Mark: picture.On},
		{At: geom.Pt(x(f*0.5), -f*0.08), Text: "SHOW FACE here", Mark: picture.On},
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

// splines is the page of the spline stock.
func (m *maker) splines() {
	var f *sheet.Flow
	for _, u := range m.units() {
		if u.Spline == nil {
			continue
		}
		if f == nil {
			f = m.doc.Section("Spline stock")
			f.Text("The grain runs along the splines' width, across the joint: a spline with its grain along the joint splits where it should hold. Of plywood either way will do.")
		}
		if u.IsOffcut() {
			f.Head("Splines of the small stars")
		} else {
			f.Head("Splines")
		}
		m.splineBlock(f, u)
	}
	if f == nil {
		return
	}
	f.Ticks(
		fmt.Sprintf("Plane the stock to %s and try it in a slot that is cut: it slides in by hand and does not rattle.", m.u.FormatFine(m.star.Spline.Thickness)),
		"Break the four corners with a block: the slot's ends are round.",
		"Keep glue off a spline until it is used: it swells and sticks.",
	)
}

func (m *maker) splineBlock(f *sheet.Flow, u *star.Unit) {
	sp := u.Spline
	spare := sp.Count + max(2, sp.Count/10)
	run := float64(spare) * (sp.Width + m.Job.Saw.Kerf)
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
	f.View(p, 46, m.say)
	facts(f,
		[2]string{"Pieces", fmt.Sprintf("%d for the joints, cut %d", sp.Count, spare)},
		[2]string{"Rip strips", fmt.Sprintf("%s wide and %s thick, the grain along the strip", m.say(sp.Length), m.u.FormatFine(sp.Thickness))},
		[2]string{"Cross-cut", fmt.Sprintf("every %s; all strips together %s long", m.say(sp.Width), m.say(run))})
}
