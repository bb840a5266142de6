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
	Dims   []Dim
	Angles []Angle
	Labels []Label
	Scale  float64 // mm on the page for a mm of the model; 0: as large as fits
	Room   Room    // kept free for labels, beyond what dimensions need
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
	for _, s := range p.Shapes {
		b = b.Union(s.Bounds())
	}
	for _, l := range p.Lines {
		for _, c := range l.Curves {
			b = b.Union(c.Bounds())
		}
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
	const least = 2.0
	r.Left = math.Max(least, r.Left+need(Left))
	r.Right = math.Max(least, r.Right+need(Right))
	r.Above = math.Max(least, r.Above+need(Above))
	r.Below = math.Max(least, r.Below+need(Below))
	return r
}

// Draw draws a panel as large as it fits into a box of the page, at the top of
// it and centred across, and returns where it lies.
func (s *Sheet) Draw(p Panel, into geom.Box, say Say) View {
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
	s.annotate(p, v, say)
	s.finish(p, v, say)
	return v
}

// view returns where the panel's model comes to lie in a box.
func (p Panel) view(into geom.Box) View {
	r, b := p.room(), p.bounds()
	w := into.W() - r.Left - r.Right
	h := into.H() - r.Above - r.Below - captionGap
	k := p.Scale
	if k == 0 {
		k = tidyScale(math.Min(w/math.Max(b.W(), 1e-6), h/math.Max(b.H(), 1e-6)))
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

// annotate draws dimensions, angles and labels, in this order: each keeps
// clear of what is there already.
func (s *Sheet) annotate(p Panel, v View, say Say) {
	body := v.Box(p.bounds())
	s.dims(v, p.Dims, body, say)
	within := v.Used
	within.Min.Y += captionGap
	for _, a := range p.Angles {
		s.angle(v, a, within)
	}
	for _, l := range p.Labels {
		s.label(v.Point(l.At), l, within)
	}
}

func (s *Sheet) finish(p Panel, v View, say Say) {
	s.caption(geom.Pt(v.Used.Min.X, v.Used.Min.Y+1.5), p.Name, v.Scale, p.Note, say)
	s.MoveCursor(v.Used.Min.Y)
}
