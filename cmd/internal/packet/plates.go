package packet

import (
	"fmt"

	"starwright/geom"
	"starwright/geom/star"
	"starwright/post/cut"
	"starwright/toolpath"
	"starwright/toolpath/nest"
)

// plateOutlines is a unit's back plate as it is cut: holes before the outline.
func plateOutlines(u *star.Unit) cut.Drawing {
	var d cut.Drawing
	for _, h := range u.Plate.Holes() {
		d.Contours = append(d.Contours, cut.Contour{Layer: cut.Hole, Contour: h})
	}
	d.Contours = append(d.Contours, cut.Contour{Layer: cut.Outline, Contour: u.Plate.Outline()})
	return d
}

// plateDrawing draws a unit's back plate with the joints that it crosses; as a jig
// that is screwed down, it is held to have wood round its screws.
func (w *Work) plateDrawing(u *star.Unit) Drawing {
	want := plateOutlines(u)
	p := u.Plate
	for i := range p.Points {
		way := 2*p.Half*geom.Angle(i) + p.Half
		want.Lines = append(want.Lines, cut.Line{Layer: cut.Guide, A: geom.Point{}, B: geom.Polar(p.Side, way)})
	}
	b := p.Outline().Bounds()
	d := w.drawing("dxf/"+u.File("plate")+".dxf", u.Count(), "the plate for the back of the star; joints on GUIDE are never cut",
		fmt.Sprintf("%s %s x %s, %d for the batch", u.Words("back plate"), w.Say(b.W()), w.Say(b.H()), u.Count()), want)
	d.screwed, d.screws = true, p.Screws()
	return d
}

// plateItems are the back plates of all stars, to be nested with the jigs: they are
// of the same sheet.
func (w *Work) plateItems() (items []nest.Item) {
	for _, u := range w.Order.Units {
		if u.Plate == nil {
			continue
		}
		for n := range u.Count() {
			part := toolpath.Part{Name: u.Words("plate"), Outline: u.Plate.Outline(), Holes: u.Plate.Holes()}
			if u.Count() > 1 {
				part.Name = fmt.Sprintf("%s, %d of %d", part.Name, n+1, u.Count())
			}
			items = append(items, nest.Item{Part: part})
		}
	}
	return items
}
