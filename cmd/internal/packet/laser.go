package packet

import (
	"fmt"

	"starwright/geom/jig"
	"starwright/geom/problem"
	"starwright/post/cut"
	"starwright/toolpath"
	"starwright/toolpath/planner"
)

// laserDrawings adds, where the job gives the kerf of a laser, each jig and
// spline once more as the beam has to be led: outlines grown and holes shrunk
// by half the kerf, without the reliefs that only a cutter needs.
func (w *Work) laserDrawings() {
	k := w.Job.Laser.Kerf
	if k == nil || *k <= 0 {
		return
	}
	p := w.jigParams(0)
	kit, problems := jig.Kit(w.Order, p, w.wants)
	for _, one := range problems {
		w.warnOf(one, "no jigs are drawn for the laser: ")
	}
	for _, j := range kit {
		if d := w.laserDrawing("dxf/laser-"+j.File+".dxf", max(1, j.Quantity), j.Title, jigDrawing(j), *k); d != nil {
			d.screwed, d.screws = j.Screwed, j.Screws()
		}
	}
	for _, u := range w.Order.Units {
		if u.Plate != nil {
			w.laserDrawing("dxf/laser-"+u.File("plate")+".dxf", u.Count(), u.Words("back plate"), plateOutlines(u), *k)
		}
		if s := u.Spline; s != nil {
			w.laserDrawing("dxf/laser-"+u.File("splines")+".dxf", s.Count, u.Words("spline"), single(s.Outline()), *k)
		}
	}
}

// laserDrawing adds one drawing with the kerf made up for; holes stand before
// outlines, so that what falls out is cut last. It returns it, nil where the
// beam is too wide for it.
func (w *Work) laserDrawing(path string, quantity int, title string, d cut.Drawing, kerf float64) *Drawing {
	part := toolpath.Part{Name: title}
	var rest []cut.Contour
	for _, c := range d.Contours {
		switch c.Layer {
		case cut.Outline:
			part.Outline = c.Contour
		case cut.Hole:
			part.Holes = append(part.Holes, c.Contour)
		default:
			rest = append(rest, c)
		}
	}
	led, err := planner.KerfOutline(part, kerf)
	if err != nil {
		p := problem.Problem{Key: "laser.kerf", Got: w.Job.Units.FormatFine(kerf), Why: err.Error()}
		if thin := w.thinnerKerf(part, kerf); thin > 0 {
			p.Would = fmt.Sprintf("kerf = %q, of a finer beam", w.Job.Units.FormatExact(thin))
		}
		w.warnOf(p, "left out for the laser: ")
		return nil
	}
	d.Contours = nil
	for _, h := range led.Holes {
		d.Contours = append(d.Contours, cut.Contour{Layer: cut.Hole, Contour: h})
	}
	d.Contours = append(append(d.Contours, cut.Contour{Layer: cut.Outline, Contour: led.Outline}), rest...)
	made := w.drawing(path, quantity, title+", for the laser: cut on the line, no offset", title, d)
	made.Want.Comments[1] = fmt.Sprintf("cut %d of each outline on the line: a kerf of %s is made up for", quantity, w.Job.Units.FormatFine(kerf))
	w.Drawings = append(w.Drawings, made)
	return &w.Drawings[len(w.Drawings)-1]
}

// thinnerKerf is a kerf a little finer than one that is too wide for a part, for which
// the part can be led round; 0 where there is none.
func (w *Work) thinnerKerf(part toolpath.Part, kerf float64) float64 {
	const least = 0.02 // mm; no beam of a shop is finer
	for k := kerf; k > least; k *= 0.9 {
		thin := w.Job.Units.FloorFine(k)
		if _, err := planner.KerfOutline(part, thin); err == nil && thin > 0 {
			return thin
		}
	}
	return 0
}
