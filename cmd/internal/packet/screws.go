package packet

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/toolpath/finding"
)

// What a plate that is screwed to others needs. One screw lets it turn; a hole
// nearer to an edge breaks out. Common practice, no source.
const (
	screwsHold = 2
	screwWood  = 3.0 // mm of wood round a hole
	screwOff   = 0.1 // mm that a hole may lie beside its place
)

// proveScrews adds, to the drawing of a jig that is screwed to its other plates,
// to a base or to a fence, how many screws hold it as it stands on disk: holes
// where the jig has them, with wood all round.
func (w *Work) proveScrews(p *Proof, d *Drawing) {
	if !d.screwed || p.Drawing == nil {
		return
	}
	var rims []geom.Contour
	var holes []geom.Contour
	for i := range p.Drawing.Contours {
		c := &p.Drawing.Contours[i]
		if c.Layer == cut.Outline || c.Layer == cut.Hole {
			rims = append(rims, c.Contour)
		}
		if c.Layer == cut.Hole {
			holes = append(holes, c.Contour)
		}
	}
	n := 0
	for _, want := range d.screws {
		if firm(want.Bounds().Center(), holes, rims) {
			n++
		}
	}
	p.Checks = append(p.Checks, finding.AtLeast("screws", float64(n), screwsHold, "screws"))
	if n < screwsHold {
		p.Findings = append(p.Findings, finding.Finding{File: p.Path, Rule: "screws",
			What:   fmt.Sprintf("%d of %d screw holes have %s of wood all round; it takes %d to hold the plate", n, len(d.screws), w.Job.Units.FormatFine(screwWood), screwsHold),
			InWood: "the plate turns about its screw and the cut goes astray"})
	}
}

// firm reports whether a hole about a place has wood all round.
func firm(at geom.Point, holes, rims []geom.Contour) bool {
	for _, h := range holes {
		if h.Bounds().Center().Dist(at) > screwOff {
			continue
		}
		radius, wood := h.Bounds().W()/2, math.Inf(1)
		for _, r := range rims {
			if d := r.DistTo(at); d > radius+screwOff {
				wood = math.Min(wood, d-radius)
			}
		}
		return wood >= screwWood
	}
	return false
}
