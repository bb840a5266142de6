package packet

import (
	"fmt"

	"starwright/geom"
	"starwright/geom/star"
	"starwright/post/cut"
)

// starDrawings returns the outlines of the stars' own parts.
func starDrawings(w *Work) []Drawing {
	var out []Drawing
	for _, u := range w.Order.Units {
		out = append(out, w.unitDrawings(u)...)
	}
	for _, u := range w.Order.Units {
		if u.Plate != nil {
			out = append(out, w.plateDrawing(u))
		}
		if s := u.Spline; s != nil {
			out = append(out, w.drawing("dxf/"+u.File("splines")+".dxf", s.Count, "one square-edged spline; grain runs the short way, across the joint",
				fmt.Sprintf("%s %s x %s of %s stock, %d for the batch", u.Words("spline"), w.Say(s.Length), w.Say(s.Width), w.Say(s.Thickness), s.Count),
				single(s.Outline())))
		}
	}
	return out
}

// unitDrawings returns the outlines of a unit's segment and, where it is cut
// from boards, of the whole star.
func (w *Work) unitDrawings(u *star.Unit) []Drawing {
	say, s := w.Say, u.Segment
	use := "one segment; for checking blanks or cutting them on a laser or CNC"
	if u.IsOffcut() {
		use = "one segment of the second star, from two glued tip off-cuts"
	}
	out := []Drawing{w.drawing("dxf/"+u.File("segment")+".dxf", u.Segments(), use,
		fmt.Sprintf("%s %s x %s, %d for the batch", u.Words("segment"), say(s.Length), say(s.Width), u.Segments()),
		single(s.Outline()))}
	if u.IsOffcut() {
		return out
	}
	whole := w.drawing("dxf/"+u.File("star")+".dxf", u.Count(), "the whole star; joints on GUIDE are never cut",
		fmt.Sprintf("%s of %d points, %s from tip to tip", u.Words("star"), u.Points, say(u.Width())),
		wholeStar(u.Star))
	whole.upright = true
	return append(out, whole)
}

// drawing finishes a drawing with its unit, words and check bar.
func (w *Work) drawing(path string, quantity int, use, name string, d cut.Drawing) Drawing {
	d.Name = name
	d.UnitMM = w.Job.Output.DXFUnits.MM()
	d.Comments = []string{
		"job: " + w.Title(),
		fmt.Sprintf("cut %d of each outline; lines are the true edge, no kerf taken off", quantity),
		"layers: OUTLINE and HOLE are cut, GUIDE and TEXT never",
	}
	return Drawing{Path: path, Quantity: quantity, Use: use, Want: d.WithCheckBar()}
}

func single(c geom.Contour) cut.Drawing {
	return cut.Drawing{Contours: []cut.Contour{{Layer: cut.Outline, Contour: c}}}
}

// wholeStar draws the assembled star: one outline, and a joint line from the
// centre to each valley.
func wholeStar(s star.Star) cut.Drawing {
	d := single(s.Outline())
	for _, v := range s.Valleys() {
		d.Lines = append(d.Lines, cut.Line{Layer: cut.Guide, A: geom.Pt(0, 0), B: v})
	}
	return d
}
