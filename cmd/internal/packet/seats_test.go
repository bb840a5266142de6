package packet

import (
	"math"
	"slices"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/geom/jig"
	"starwright/post/cut"
)

// wholeKit names every jig.
var wholeKit = "[jigs]\nmake = [\"" + strings.Join(jig.Keys(), `", "`) + "\"]\n"

// kits are jobs whose whole kit has seats, in both units.
var kits = map[string]string{
	"five, mm":    "[star]\nboard_width = \"100 mm\"\noffcut_star = true\n[machine]\ntravel = [700, 700, 150]\n[sheet]\nwidth = 600\nheight = 600\n" + wholeKit,
	"eight, inch": "units = \"in\"\n[star]\npoints = 8\nboard_width = \"2 3/4 in\"\noffcut_star = true\n[sheet]\nwidth = 24\nheight = 24\n" + wholeKit,
}

// proven returns the proof of a drawing as it would be read from disk, the same in
// every format.
func proven(t *testing.T, w *Work, d *Drawing, edit func(*cut.Drawing)) *Proof {
	t.Helper()
	want := d.Want
	want.Contours = slices.Clone(want.Contours)
	for i := range want.Contours {
		want.Contours[i].Contour = slices.Clone(want.Contours[i].Contour)
	}
	edit(&want)
	var proofs []*Proof
	for _, f := range formats {
		text, err := f.write(want)
		if err != nil {
			t.Fatal(err)
		}
		p := &Proof{Path: d.in(f), Text: text}
		w.proveDrawing(p, d, f)
		proofs = append(proofs, p)
	}
	first := figures(proofs[0])
	for _, p := range proofs[1:] {
		for name, v := range figures(p) {
			if math.Abs(v-first[name]) > 1e-3 {
				t.Errorf("%s: %s is %v, in %s %v", p.Path, name, v, proofs[0].Path, first[name])
			}
		}
	}
	return proofs[0]
}

// figures returns the seat checks by name.
func figures(p *Proof) map[string]float64 {
	out := map[string]float64{}
	for _, c := range p.Checks {
		if strings.HasPrefix(c.Name, "seat-") {
			out[c.Name] = c.Value
		}
	}
	return out
}

// foundSeat reports whether a finding and a failed check say that a seat is
// wrong.
func foundSeat(p *Proof) (rule string, checked bool) {
	for _, f := range p.Findings {
		if strings.HasPrefix(f.Rule, "seat-") && f.What != "" && f.InWood != "" {
			rule = f.Rule
		}
	}
	for _, c := range p.Checks {
		checked = checked || strings.HasPrefix(c.Name, "seat-") && !c.Pass
	}
	return rule, checked
}

// seatCorners returns the vertices of a drawing at which a seat's edge ends, as
// contour and vertex.
func seatCorners(d cut.Drawing, e geom.Curve) [][2]int {
	var out [][2]int
	for i, c := range d.Contours {
		for k, v := range c.Contour {
			if (c.Layer == cut.Outline || c.Layer == cut.Hole) && min(v.Dist(e.A), v.Dist(e.B)) < 1e-6 {
				out = append(out, [2]int{i, k})
			}
		}
	}
	return out
}

// Every vertex at the end of a seat, moved square to it by a tenth of a
// millimetre either way, is found by the seat's own figures.
func TestMovedSeatIsFound(t *testing.T) {
	for name, source := range kits {
		t.Run(name, func(t *testing.T) {
			w := loaded(t, source)
			moved, jigs := 0, 0
			for i := range w.Drawings {
				d := &w.Drawings[i]
				k := slices.IndexFunc(w.Jigs, func(j jig.Jig) bool { return "dxf/"+j.File+".dxf" == d.Path })
				if k < 0 || len(w.Jigs[k].Seats) == 0 {
					continue
				}
				jigs++
				good := proven(t, w, d, func(*cut.Drawing) {})
				if f := figures(good); !good.OK() || len(f) != 4 || f["seat-contact"] <= 0 || f["seat-interference"] > 1e-3 {
					t.Errorf("%s as made: %v, %v", d.Path, f, good.Findings)
				}
				for _, s := range w.Jigs[k].Seats {
					for _, e := range s.Edges {
						square := e.B.Sub(e.A).Unit().Left()
						for _, at := range seatCorners(d.Want, e) {
							for _, by := range []float64{0.1, -0.1} {
								moved++
								p := proven(t, w, d, func(x *cut.Drawing) {
									v := &x.Contours[at[0]].Contour[at[1]]
									v.Point = v.Add(square.Mul(by))
								})
								if rule, checked := foundSeat(p); rule == "" || !checked {
									t.Errorf("%s: vertex %v of the %s moved by %g mm: rule %q, check failed %v", d.Path, at, s.What, by, rule, checked)
								}
							}
						}
					}
				}
			}
			if jigs < 15 || moved < 100 {
				t.Errorf("only %d vertices of %d jigs were moved", moved, jigs)
			}
		})
	}
}

// A finding names the line of the vertex that was moved.
func TestMovedSeatNamesTheLine(t *testing.T) {
	w := loaded(t, kits["five, mm"])
	i := slices.IndexFunc(w.Drawings, func(d Drawing) bool { return d.Path == "dxf/jig-centre-gauge.dxf" })
	d := &w.Drawings[i]
	j := w.Jigs[slices.IndexFunc(w.Jigs, func(j jig.Jig) bool { return j.File == "jig-centre-gauge" })]
	e := j.Seats[0].Edges[0]
	at := seatCorners(d.Want, e)[0]
	p := proven(t, w, d, func(x *cut.Drawing) {
		v := &x.Contours[at[0]].Contour[at[1]]
		v.Point = v.Add(e.B.Sub(e.A).Unit().Left().Mul(0.1))
	})
	was := d.Want.Contours[at[0]].Contour[at[1]].Point
	want := 0
	for _, c := range p.Drawing.Contours {
		for k, v := range c.Contour {
			if near := v.Dist(was); near > 0.05 && near < 0.15 {
				want = int(c.VertexLines[k])
			}
		}
	}
	for _, f := range p.Findings {
		if f.Rule == "seat-gap" {
			if f.Line != want || want == 0 {
				t.Errorf("line %d, the vertex stands on line %d", f.Line, want)
			}
			return
		}
	}
	t.Errorf("no seat-gap among %v", p.Findings)
}

// Without the relief in its corner the cutter leaves a fillet there, and the
// work does not go home: r(1/sin(36°) - 1) at 72°, for the cutter of 1/4 in.
func TestLostReliefIsFound(t *testing.T) {
	w := loaded(t, kits["five, mm"])
	i := slices.IndexFunc(w.Drawings, func(d Drawing) bool { return d.Path == "dxf/jig-centre-gauge.dxf" })
	d := &w.Drawings[i]
	j := w.Jigs[slices.IndexFunc(w.Jigs, func(j jig.Jig) bool { return j.File == "jig-centre-gauge" })]
	centre := j.Seats[0].Work[0].Point // the segment's outline begins at the star's centre
	p := proven(t, w, d, func(x *cut.Drawing) {
		for i := range x.Contours {
			c := &x.Contours[i]
			if c.Layer != cut.Outline {
				continue
			}
			var sharp geom.Contour
			for _, v := range c.Contour {
				if v.Dist(centre) > 15 {
					sharp = append(sharp, v)
				} else if len(sharp) == 0 || sharp[len(sharp)-1].Point != centre {
					sharp = append(sharp, geom.Vertex{Point: centre})
				}
			}
			c.Contour = sharp
		}
	})
	f := figures(p)
	if want := 6.35 / 2 * (1/math.Sin(36*math.Pi/180) - 1); math.Abs(f["seat-interference"]-want) > 0.05 {
		t.Errorf("interference of %.3f mm, want %.3f; %v", f["seat-interference"], want, p.Findings)
	}
	if rule, checked := foundSeat(p); rule != "seat-interference" || !checked {
		t.Errorf("rule %q, check failed %v", rule, checked)
	}
}
