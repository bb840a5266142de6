package packet

import (
	"slices"
	"testing"

	"starwright/cmd/internal/job"
	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/dxf/dxfwrite"
	"starwright/toolpath/finding"
)

// screwFigure proves an edited drawing and returns its figure of screws.
func screwFigure(t *testing.T, d Drawing, edit func(*cut.Drawing)) (count float64, pass, has bool) {
	t.Helper()
	d.Want.Contours = slices.Clone(d.Want.Contours)
	edit(&d.Want)
	text, err := dxfwrite.Bytes(d.Want)
	if err != nil {
		t.Fatal(err)
	}
	p := &Proof{Path: d.Path, Text: text}
	w := &Work{Job: &job.Job{}}
	w.proveOutlines(p, &d, formats[0])
	w.proveScrews(p, &d)
	for _, c := range p.Checks {
		if c.Name == "screws" {
			found := slices.ContainsFunc(p.Findings, func(f finding.Finding) bool { return f.Rule == "screws" })
			if found == c.Pass {
				t.Errorf("%s: the check passes: %v, a finding says otherwise: %v", d.Path, c.Pass, found)
			}
			return c.Value, c.Pass, true
		}
	}
	return 0, false, false
}

// Every plate that is screwed down has its figure; without the holes, or with
// them at the very edge, it fails, for a cutter as for a laser.
func TestScrewsAreProven(t *testing.T) {
	for name, source := range map[string]string{
		"mm":   "[star]\nboard_width = \"100 mm\"\noffcut_star = true\n[sheet]\nwidth = 600\nheight = 600\nthickness = 6\n[laser]\nkerf = \"0.2 mm\"\n" + wholeKit,
		"inch": kits["eight, inch"],
	} {
		t.Run(name, func(t *testing.T) {
			w := loaded(t, source)
			plates, lasers := 0, 0
			for _, d := range w.Drawings {
				n, pass, has := screwFigure(t, d, func(*cut.Drawing) {})
				if has != d.screwed {
					t.Errorf("%s: figure %v, screwed %v", d.Path, has, d.screwed)
				}
				if !has {
					continue
				}
				plates++
				if !d.jig {
					lasers++
				}
				if !pass || n < 2 || n != float64(len(d.screws)) {
					t.Errorf("%s: %g of %d screws, passes %v", d.Path, n, len(d.screws), pass)
				}
				// With all but one hole gone.
				screw := func(c cut.Contour) bool {
					return c.Layer == cut.Hole && slices.ContainsFunc(d.screws[1:], func(s geom.Contour) bool {
						return s.Bounds().Center().Dist(c.Contour.Bounds().Center()) < screwOff
					})
				}
				if n, pass, _ := screwFigure(t, d, func(x *cut.Drawing) { x.Contours = slices.DeleteFunc(x.Contours, screw) }); pass || n != 1 {
					t.Errorf("%s: %g screws after all but one were filled, passes %v", d.Path, n, pass)
				}
				// With a second opening 2 mm beside each.
				if n, pass, _ := screwFigure(t, d, func(x *cut.Drawing) {
					for _, s := range d.screws {
						b := s.Bounds()
						x.Contours = append(x.Contours, cut.Contour{Layer: cut.Hole, Contour: geom.Circle(b.Center().Add(geom.Pt(b.W()+2, 0)), b.W()/2)})
					}
				}); pass || n != 0 {
					t.Errorf("%s: %g screws hold with 2 mm of wood beside them, passes %v", d.Path, n, pass)
				}
			}
			if plates < 9 || name == "mm" && lasers < 6 {
				t.Errorf("only %d plates with screws, %d for the laser", plates, lasers)
			}
		})
	}
}
