package picture

import (
	"math"

	"starwright/geom"
)

// Panel is one view of a model with its dimensions and labels. Lengths of the
// model are mm.
type Panel struct {
	Name   string // what is seen, in a few words; stands under the view
	Note   string // stands after the scale: "seen from the front"
	Shapes []Shape
	Lines  []Path
	Words  []Lettering
	Dims   []Dim
	Angles []AngleDim
	Radii  []Radius
	Labels []Label
	Scale  float64 // mm on the page for a mm of the model; 0: as large as fits
	Room   Room    // kept free for labels, beyond what dimensions need
	Zoom   float64 // by how much the picture is enlarged when it is printed, for the scale in words; 0 for not
	Bare   bool    // without name and scale under it: for a screen, which has no scale

	frame geom.Box                                  // further box of the model to be shown, if it is not empty
	over  func(s *Picture, v View)                  // draws over the shapes, below dimensions and labels
	marks func(s *Picture, v View, within geom.Box) // sets marks between the dimensions and the labels
}

// Lettering is words that are part of the model, at their true size: engraved
// on a jig. Left end of the baseline at At.
type Lettering struct {
	At     geom.Point
	Height float64 // of capitals, mm
	Turn   geom.Angle
	Text   string
}

// lettering draws words that belong to the model.
func (s *Picture) lettering(v View, l Lettering) {
	t := Type{Size: l.Height * v.Scale / capEm / mmPerPoint, Color: Grey, Turn: l.Turn}
	s.Text(v.Point(l.At), l.Text, t)
}

// Room is space round a model, in mm on the page.
type Room struct{ Left, Right, Above, Below float64 }

// Distances of dimension lines, mm on the page.
const (
	firstRow   = 8.0 // from the model
	nextRow    = 6.5 // from one row to the next
	rowsEnd    = 3.0 // free beyond the last row
	captionGap = 6.0 // from there to the caption's line
)

// bounds returns the box round everything of the panel that is drawn to scale.
func (p Panel) bounds() geom.Box {
	b := geom.EmptyBox()
	if p.frame != (geom.Box{}) {
		b = b.Union(p.frame)
	}
	for _, s := range p.Shapes {
		b = b.Union(s.Bounds())
	}
	for _, l := range p.Lines {
		for _, c := range l.Curves {
			b = b.Union(c.Bounds())
		}
	}
	if b.Empty() || !b.Min.Finite() || !b.Max.Finite() {
		return geom.Box{Max: geom.Pt(1, 1)} // nothing to be shown
	}
	return b
}

// room returns the space that dimensions and labels take round the model. No
// side has more rows than dimensions.
func (p Panel) room() Room {
	r := p.Room
	rows := map[Side]int{}
	for _, d := range p.Dims {
		rows[d.Side]++
	}
	need := func(side Side) float64 {
		if rows[side] == 0 {
			return 0
		}
		return firstRow + nextRow*float64(rows[side]-1) + rowsEnd
	}
	for _, d := range p.Dims {
		if d.Side == Aligned && d.Off != 0 {
			r = r.reach(d.B.Sub(d.A).Unit().Left().Mul(d.Off))
		}
	}
	const least = 2.0
	r.Left = math.Max(least, r.Left+need(Left))
	r.Right = math.Max(least, r.Right+need(Right))
	r.Above = math.Max(least, r.Above+need(Above))
	r.Below = math.Max(least, r.Below+need(Below))
	return r
}

// reach returns the room enlarged for a line that stands off by d from a place
// on the model's rim.
func (r Room) reach(d geom.Point) Room {
	const more = 2.5 // half the height of the text and a little
	grow := func(side *float64, by float64) {
		if by > 0 {
			*side = math.Max(*side, by+more)
		}
	}
	grow(&r.Left, -d.X)
	grow(&r.Right, d.X)
	grow(&r.Below, -d.Y)
	grow(&r.Above, d.Y)
	return r
}

// Draw draws a panel as large as it fits into a box of the page, at the top of
// it and centred across, and returns where it lies.
func (s *Picture) Draw(p Panel, into geom.Box, say Say) View {
	v := p.view(into)
	for _, sh := range p.Shapes {
		holes := make([]geom.Contour, len(sh.Holes))
		for i, h := range sh.Holes {
			holes[i] = v.Contour(h)
		}
		s.shape(v.Contour(sh.Contour), holes, sh.Look.looks())
	}
	for _, l := range p.Lines {
		s.Curves(v.Curves(l.Curves), l.Look.looks().pen)
	}
	for _, l := range p.Words {
		s.lettering(v, l)
	}
	if p.over != nil {
		p.over(s, v)
	}
	s.annotate(p, v, say)
	s.finish(p, v, say)
	return v
}

// Around is the height that dimensions, words and caption take beside the model
// itself, mm of the picture.
func (p Panel) Around() float64 {
	r := p.room()
	return r.Above + r.Below + captionGap
}

// view returns where the panel's model comes to lie in a box.
func (p Panel) view(into geom.Box) View {
	r, b := p.room(), p.bounds()
	w := into.W() - r.Left - r.Right
	h := into.H() - r.Above - r.Below - captionGap
	k := p.Scale
	if k == 0 {
		k = tidyScale(p.zoom()*math.Min(w/math.Max(b.W(), geom.Touch), h/math.Max(b.H(), geom.Touch))) / p.zoom()
	}
	spare := math.Max(0, w-b.W()*k)
	at := geom.Pt(into.Min.X+r.Left+spare/2, into.Max.Y-r.Above-b.H()*k) // of the model's lower left
	v := View{Scale: k, Move: at.Sub(b.Min.Mul(k))}
	v.Used = geom.Box{
		Min: geom.Pt(into.Min.X, at.Y-r.Below-captionGap),
		Max: into.Max,
	}
	return v
}

// zoom is by how much the panel is enlarged in print.
func (p Panel) zoom() float64 {
	if p.Zoom > 0 {
		return p.Zoom
	}
	return 1
}

// annotate draws dimensions, angles and labels, in this order: each keeps
// clear of what is there already.
func (s *Picture) annotate(p Panel, v View, say Say) {
	body := v.Box(p.bounds())
	within := v.Used
	within.Min.Y += captionGap
	s.dims(v, p.Dims, body, within, say)
	for _, a := range p.Angles {
		s.angle(v, a, within)
	}
	if p.marks != nil {
		p.marks(s, v, within)
	}
	for _, r := range p.Radii {
		s.radius(v, r, within)
	}
	for _, l := range p.Labels {
		l.In = v.Contour(l.In)
		out := make([]geom.Contour, len(l.NotIn))
		for i, c := range l.NotIn {
			out[i] = v.Contour(c)
		}
		l.NotIn = out
		s.label(v.Point(l.At), l, within)
	}
}

func (s *Picture) finish(p Panel, v View, say Say) {
	if !p.Bare {
		s.caption(geom.Pt(v.Used.Min.X, v.Used.Min.Y+1.5), v.Used.Max.X, p, v.Scale, say)
	}
	s.MoveCursor(v.Used.Min.Y)
}
