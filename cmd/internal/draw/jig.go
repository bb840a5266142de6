package draw

import (
	"fmt"
	"math"
	"unicode/utf8"

	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/star"
	"starwright/geom/words"
	"starwright/post/picture"
)

// Jig returns the picture of a jig with its dimensions and the work drawn
// seated in it. thickness is that of the sheet it is cut from, mm.
func Jig(j jig.Jig, thickness float64, unit geom.Unit) *picture.Picture {
	w := lengthsIn(unit)
	d := picture.OneView{
		Title: words.Capital(j.Title), Say: w.say,
		Sub:  fmt.Sprintf("%d of sheet %s thick. Seen from above.", max(1, j.Quantity), w.say(thickness)),
		Keys: []picture.Key{{Text: "jig", Look: picture.Part}},
	}
	if j.Use != "" {
		d.Notes = []string{j.Use}
	}
	p := picture.Panel{Name: "the jig", Room: picture.Room{Left: 6, Right: 6, Above: 6, Below: 2}}
	switch {
	case len(j.Seats) > 0:
		p.Name = "the jig with the work seated"
		d.Keys = append(d.Keys, picture.Key{Text: "work", Look: picture.Work}, picture.Key{Text: "seat", Look: picture.Seat})
	case len(j.Marks) > 0:
		p.Name = "the jig with the work on it"
		d.Keys = append(d.Keys, picture.Key{Text: "work", Look: picture.Work})
	}
	p.Shapes = append(p.Shapes, picture.Shape{Contour: j.Outline, Look: picture.Part})
	for _, h := range j.Holes {
		p.Shapes = append(p.Shapes, picture.Shape{Contour: h.Contour, Look: picture.Hole})
	}
	box := j.Outline.Bounds()
	for _, s := range j.Seats {
		p.Shapes = append(p.Shapes, picture.Shape{Contour: s.Work, Look: picture.Work})
		for _, e := range s.Edges {
			p.Lines = append(p.Lines, picture.Path{Curves: []geom.Curve{e}, Look: picture.Seat})
		}
	}
	for _, m := range j.Marks {
		if whole := besideText(m, j.Text); len(whole) == len(m) {
			p.Shapes = append(p.Shapes, picture.Shape{Contour: m, Look: picture.Work})
		} else { // only its outline, and that not through the words
			p.Lines = append(p.Lines, picture.Path{Curves: whole, Look: picture.Work})
		}
	}
	for _, l := range j.Text {
		p.Words = append(p.Words, picture.Lettering{At: l.At, Height: l.Height, Turn: l.Turn, Text: l.Text})
	}
	p.Labels = append(p.Labels, workLabels(j)...)
	p.Dims = []picture.Dim{
		{A: box.Min, B: geom.Pt(box.Max.X, box.Min.Y), Side: picture.Below},
		{A: box.Min, B: geom.Pt(box.Min.X, box.Max.Y), Side: picture.Left},
	}
	p.Angles = corners(j.Outline)
	d.Facts = holeFacts(&p, j, w)
	if len(j.Holes) > 0 {
		d.Keys = append(d.Keys, picture.Key{Text: "hole", Look: picture.Hole})
	}
	d.Facts = append(d.Facts, seatFacts(j, w)...)
	d.Panel = p
	return picture.Draw(d)
}

// besideText returns the pieces of a contour that keep clear of engraved words.
func besideText(c geom.Contour, text []jig.Label) []geom.Curve {
	const room, steps = 1.5, 200 // mm round a word, pieces an edge is looked at in
	within := func(p geom.Point) bool {
		for _, l := range text {
			const wide, hang = 0.8, 0.3 // of a letter's height: more than any letter takes
			q := geom.Place{Turn: -l.Turn}.Point(p.Sub(l.At))
			if q.X > -room && q.X < wide*l.Height*float64(utf8.RuneCountInString(l.Text))+room &&
				q.Y > -hang*l.Height-room && q.Y < l.Height+room {
				return true
			}
		}
		return false
	}
	var out []geom.Curve
	for _, e := range c.Curves() {
		from := -1
		for i := 0; i <= steps; i++ {
			in := within(e.At(float64(i) / steps))
			if !in && from < 0 {
				from = i
			}
			if from >= 0 && (in || i == steps) {
				to := i
				if in {
					to = i - 1
				}
				if to > from {
					out = append(out, e.Part(float64(from)/steps, float64(to)/steps))
				}
				from = -1
			}
		}
	}
	return out
}

func workLabels(j jig.Jig) []picture.Label {
	var out []picture.Label
	for _, s := range j.Seats {
		if s.What == "" || len(s.Work) == 0 {
			continue
		}
		at := middle(s.Work)
		away := at.Sub(j.Outline.Bounds().Center())
		out = append(out, picture.Label{At: at, Text: s.What, Mark: picture.On, In: s.Work, Away: away})
	}
	return out
}

// middle returns the centre of area of a contour's corners, which for convex
// work lies in it.
func middle(c geom.Contour) geom.Point {
	var sum geom.Point
	for _, v := range c {
		sum = sum.Add(v.Point)
	}
	return sum.Mul(1 / float64(len(c)))
}

// corners returns the angles between an outline's long straight edges that
// are not square. Reliefs and roundings between two edges are passed over.
func corners(c geom.Contour) []picture.AngleDim {
	const longPart = 0.1 // of the outline's size, from which an edge counts
	const most = 6
	const square, straight = 0.01, 0.5 // degrees off a square corner, and off a straight line, that nobody has to set
	size := math.Hypot(c.Bounds().W(), c.Bounds().H())
	var edges []geom.Curve
	for _, e := range c.CCW().Curves() {
		if !e.IsArc() && e.Length() > longPart*size {
			edges = append(edges, e)
		}
	}
	var out []picture.AngleDim
	for i, e := range edges {
		f := edges[(i+1)%len(edges)]
		at, ok := meet(e, f)
		if !ok || at.Dist(e.B) > longPart*size || at.Dist(f.A) > longPart*size {
			continue
		}
		from, to := f.B.Sub(f.A).Angle(), e.A.Sub(e.B).Angle()
		inner := (to - from).Normal()
		if d := inner.Degrees(); math.Abs(d-90) < square || math.Abs(d-180) < straight || math.Abs(d-270) < square || d > 181 {
			continue
		}
		out = append(out, picture.AngleDim{At: at, From: from, To: to, Text: star.FormatAngle(inner)})
		if len(out) == most {
			break
		}
	}
	return out
}

// meet returns where the lines of two straight edges cross.
func meet(e, f geom.Curve) (geom.Point, bool) {
	d, g := e.B.Sub(e.A), f.B.Sub(f.A)
	det := d.Unit().Cross(g.Unit())
	const parallel = 1e-3 // sine of the angle
	if math.Abs(det) < parallel {
		return geom.Point{}, false
	}
	t := f.A.Sub(e.A).Cross(g) / d.Cross(g)
	return e.A.Add(d.Mul(t)), true
}

// holeFacts numbers the round holes in the picture and lists where they are,
// from the lower left corner of the jig.
func holeFacts(p *picture.Panel, j jig.Jig, w lengths) []picture.Fact {
	const most = 12 // rows; the drawing for the machine has them all
	box := j.Outline.Bounds()
	var facts []picture.Fact
	n := 0
	for _, h := range j.Holes {
		o, r, ok := circle(h.Contour)
		if !ok {
			continue
		}
		n++
		if n > most {
			continue
		}
		if n == 1 {
			facts = append(facts, picture.Head("Holes: Ø, place from lower left"))
		}
		p.Labels = append(p.Labels, picture.Label{At: o.Add(geom.Polar(r, 45*geom.Degree)), Text: fmt.Sprint(n), Away: geom.Pt(1, 1), Color: picture.Blue})
		name := fmt.Sprintf("%d %s %s", n, h.Kind, w.exact(2*r))
		facts = append(facts, picture.Fact{Name: name, Value: w.say(o.X-box.Min.X) + " / " + w.say(o.Y-box.Min.Y)})
	}
	if n > most {
		facts = append(facts, picture.Fact{Name: "further holes: see the drawing", Value: fmt.Sprint(n - most)})
	}
	return facts
}

// circle returns centre and radius of a contour that is a circle.
func circle(c geom.Contour) (o geom.Point, r float64, ok bool) {
	if len(c) < 2 {
		return o, 0, false
	}
	const same = 1e-6 // mm
	for i, e := range c.Curves() {
		if !e.IsArc() {
			return o, 0, false
		}
		if i == 0 {
			o, r = e.Center(), e.Radius()
		} else if e.Center().Dist(o) > same || math.Abs(e.Radius()-r) > same {
			return o, 0, false
		}
	}
	return o, r, true
}

func seatFacts(j jig.Jig, w lengths) []picture.Fact {
	var out []picture.Fact
	for _, s := range j.Seats {
		if s.Play <= 0 {
			continue
		}
		if len(out) == 0 {
			out = append(out, picture.Head("Play in the seat, at most"))
		}
		out = append(out, picture.Fact{Name: s.What, Value: w.exact(s.Play)})
	}
	return out
}
