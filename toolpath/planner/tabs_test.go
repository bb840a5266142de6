package planner_test

import (
	"math"
	"testing"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/planner"
)

// Tabs stand on straight runs: everywhere along a tab the outline lies a
// cutter's radius beside the way, and no corner of it within the lift.
func TestTabsStandClear(t *testing.T) {
	seat := geom.Curve{A: geom.Pt(0, 0), B: geom.Pt(80, 0)}
	tests := []struct {
		name string
		edit func(*planner.SheetJob)
	}{
		{"four", func(j *planner.SheetJob) {}},
		{"seat along the whole lower edge", func(j *planner.SheetJob) { j.Parts[0].NoTab = []geom.Curve{moved(seat, 20, 15)} }},
		{"seat along half of it", func(j *planner.SheetJob) { j.Parts[0].NoTab = []geom.Curve{moved(seat.Part(0.3, 0.8), 20, 15)} }},
		{"seven", func(j *planner.SheetJob) { j.Tabs.Count = 7 }},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			j, _, rep := plannedPlate(t, tt.edit)
			if len(rep.Tabs) != j.Tabs.Count {
				t.Fatalf("%d tabs, want %d", len(rep.Tabs), j.Tabs.Count)
			}
			r := j.CutterDiameter / 2
			for i, tab := range rep.Tabs {
				half := j.Tabs.Width/2 + r
				for _, s := range []float64{-half, 0, half} {
					p := tab.At.Add(tab.Along.Mul(s))
					if d := j.Parts[0].Outline.DistTo(p); math.Abs(d-r) > 1e-6 {
						t.Errorf("tab %d at %v: the outline is %.4f beside it, want %.4f", i, tab.At, d, r)
					}
				}
				for _, v := range j.Parts[0].Outline {
					if d := v.Dist(tab.At); d < math.Hypot(half+1, r)-1e-6 {
						t.Errorf("tab %d at %v is only %.3f from a corner", i, tab.At, d)
					}
				}
				for _, q := range j.Parts[0].NoTab {
					if d := q.DistTo(tab.At); d < math.Hypot(half, r) {
						t.Errorf("tab %d at %v is only %.3f from a seat", i, tab.At, d)
					}
				}
			}
		})
	}
}

func moved(c geom.Curve, x, y float64) geom.Curve {
	d := geom.Pt(x, y)
	return geom.Curve{A: c.A.Add(d), B: c.B.Add(d), Bulge: c.Bulge}
}

// Evenly spread: on a square plate four tabs stand in the middles of its
// sides, a quarter of the way round from each other.
func TestTabsSpreadEvenly(t *testing.T) {
	j := plateJob()
	j.Parts = []toolpath.Part{{Name: "square", Outline: geom.Rect(geom.Box{Min: geom.Pt(20, 20), Max: geom.Pt(80, 80)})}}
	_, rep, err := planner.Sheet(j)
	if err != nil {
		t.Fatal(err)
	}
	for _, tab := range rep.Tabs {
		d := math.Min(math.Abs(tab.At.X-50), math.Abs(tab.At.Y-50))
		if d > 1 {
			t.Errorf("tab at %v is %.2f from the middle of its side", tab.At, d)
		}
	}
}

// A tab holds a part to the scrap. Where another cut passes close by there is
// none, whether it belongs to the next part, or to the far wall of the part's
// own bay, or where the sheet ends; a tab there would be cut through.
func TestTabsFindScrap(t *testing.T) {
	plate := func(x float64) toolpath.Part {
		return toolpath.Part{Name: "plate", Outline: geom.Rect(geom.Box{Min: geom.Pt(x, 15), Max: geom.Pt(x+50, 85)})}
	}
	bay := toolpath.Part{Name: "bay", Outline: geom.Contour{
		{Point: geom.Pt(20, 15)}, {Point: geom.Pt(130, 15)}, {Point: geom.Pt(130, 85)}, {Point: geom.Pt(81, 85)},
		{Point: geom.Pt(81, 35), Bulge: -1}, {Point: geom.Pt(69, 35)}, {Point: geom.Pt(69, 85)}, {Point: geom.Pt(20, 85)}}}
	tests := []struct {
		name string
		edit func(*planner.SheetJob)
	}{
		{"two parts little more than a cutter apart", func(j *planner.SheetJob) {
			j.Parts = []toolpath.Part{plate(20), plate(78)}
		}},
		{"two parts far enough apart", func(j *planner.SheetJob) {
			j.Parts = []toolpath.Part{plate(15), plate(15 + 50 + planner.TabSpacing(6.35))}
		}},
		{"own bay", func(j *planner.SheetJob) { j.Parts = []toolpath.Part{bay} }},
		{"close to the sheet's edge", func(j *planner.SheetJob) { j.Parts = []toolpath.Part{plate(6.5)} }},
		{"close to the edge, climb, lines", func(j *planner.SheetJob) { j.Parts = []toolpath.Part{plate(6.5)}; j.Climb, j.Arcs = true, false }},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			j := plateJob()
			tt.edit(&j)
			p, rep, err := planner.Sheet(j)
			if err != nil {
				t.Fatal(err)
			}
			if want := j.Tabs.Count * len(j.Parts); len(rep.Tabs) != want {
				t.Fatalf("%d tabs, want %d", len(rep.Tabs), want)
			}
			for _, f := range first(prove(j, p, rep, 0.5), 5) {
				t.Error(f)
			}
			for _, tab := range rep.Tabs {
				// From the tab a strip of scrap must stand on the far side of
				// the cut: three millimetres, as the spacing for tabs says.
				out := tab.Along.Left().Mul(-1)
				if j.Climb {
					out = tab.Along.Left()
				}
				for _, d := range []float64{0.1, 1.5, 2.9} {
					q := tab.At.Add(out.Mul(j.CutterDiameter/2 + d))
					if q.X < 0 || q.Y < 0 || q.X > j.SheetW || q.Y > j.SheetH {
						t.Errorf("tab at %v: the sheet ends %.1f beyond the cut", tab.At, d)
					}
					for _, c := range rep.Cuts {
						if c.Way[0].DistTo(q) < j.CutterDiameter/2 {
							t.Errorf("tab at %v: no scrap %.1f beyond the cut", tab.At, d)
						}
					}
				}
			}
		})
	}
}

// TestTabSpacingIsEnough: three strips side by side, turned by any angle, just as far
// apart as the spacing for tabs says. The middle one has tabs on its long sides alone.
func TestTabSpacingIsEnough(t *testing.T) {
	const long, wide = 120.0, 30.0
	for deg := 0; deg < 180; deg += 7 {
		j := plateJob()
		j.SheetW, j.SheetH = 400, 400
		turn := geom.Place{Turn: geom.Deg(float64(deg)), Move: geom.Pt(200, 200)}
		j.Parts = nil
		for k := -1; k <= 1; k++ {
			y := float64(k) * (wide + planner.TabSpacing(j.CutterDiameter))
			p := toolpath.Part{Name: "strip", Outline: geom.Rect(geom.Box{Min: geom.Pt(-long/2, y-wide/2), Max: geom.Pt(long/2, y+wide/2)})}
			if k == 0 {
				p.NoTab = []geom.Curve{p.Outline.Curve(1), p.Outline.Curve(3)}
			}
			j.Parts = append(j.Parts, p.Placed(turn))
		}
		if _, rep, err := planner.Sheet(j); err != nil || len(rep.Tabs) != 3*j.Tabs.Count {
			t.Errorf("turned by %d degrees: %d tabs, %v", deg, len(rep.Tabs), err)
		}
	}
}
