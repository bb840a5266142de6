package packet

import (
	"fmt"

	"starwright/geom"
	"starwright/geom/star"
	"starwright/post/cut"
)

// starDrawings returns the outlines of the star's own parts.
func starDrawings(w *Work) []Drawing {
	b := w.Batch
	say := w.Say
	out := []Drawing{
		w.drawing("dxf/segment.dxf", b.Segments(), "one segment; for checking blanks or cutting them on a laser or CNC",
			fmt.Sprintf("segment %s x %s, %d for the batch", say(b.Main.Segment.Length), say(b.Main.Segment.Width), b.Segments()),
			single(b.Main.Segment.Outline())),
		w.drawing("dxf/star.dxf", b.Count, "the whole star; joints on GUIDE are never cut",
			fmt.Sprintf("star of %d points, %s from tip to tip", b.Main.Points, say(b.Main.Width())),
			wholeStar(b.Main.Star)),
	}
	if b.Offcut != nil {
		out = append(out, w.drawing("dxf/offcut-segment.dxf", b.Segments(), "one segment of the second star, from two glued tip off-cuts",
			fmt.Sprintf("off-cut segment %s x %s, %d for the batch", say(b.Offcut.Segment.Length), say(b.Offcut.Segment.Width), b.Segments()),
			single(b.Offcut.Segment.Outline())))
	}
	splines := func(path, what string, s *star.Spline) {
		if s == nil {
			return
		}
		out = append(out, w.drawing(path, s.Count, "one square-edged spline; grain runs the short way, across the joint",
			fmt.Sprintf("%s %s x %s of %s stock, %d for the batch", what, say(s.Length), say(s.Width), say(s.Thickness), s.Count),
			single(geom.Rect(geom.Box{Max: geom.Pt(s.Length, s.Width)}))))
	}
	splines("dxf/splines.dxf", "spline", b.Main.Spline)
	if b.Offcut != nil {
		splines("dxf/offcut-splines.dxf", "off-cut spline", b.Offcut.Spline)
	}
	return out
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
