package jig

import (
	"fmt"
	"math"
	"testing"

	"starwright/geom"
	"starwright/geom/star"
)

// Every build accounts for the plates of its kit, and what it says of screws,
// clamps, fence and line of cut is what its drawings have.
func TestBuildsSayWhatTheDrawingsHave(t *testing.T) {
	for _, n := range []int{4, 5, 8, 12} {
		for _, p := range []Params{kitParams(), onSheet(280, 170, 9), onSheet(600, 400, 6)} {
			t.Run(fmt.Sprintf("%d points, %g mm", n, p.MaxW), func(t *testing.T) {
				width := 60.0
				o := orderOf(t, n, width, map[int]float64{4: 45, 5: 36, 8: 45, 12: 30}[n])
				kit, ps := Kit(o, p, Named([]string{"angle-block", "tip-cradle", "slot-stand", "router-carriage", "centre-gauge"}))
				if len(ps) > 0 {
					t.Fatal(ps)
				}
				files, counted := map[string]Jig{}, map[string]int{}
				for _, j := range kit {
					files[j.File] = j
				}
				for _, j := range kit {
					if j.Use == "" {
						t.Errorf("%s says nothing of its use", j.File)
					}
					if j.Build == nil {
						continue
					}
					built(t, j, p, files)
					for _, l := range j.Build.Layers {
						counted[l.File] += l.Count * j.Build.Sets
					}
				}
				for f, j := range files {
					if counted[f] != j.Quantity {
						t.Errorf("%s: %d in the builds, %d made", f, counted[f], j.Quantity)
					}
				}
			})
		}
	}
}

// built checks one build.
func built(t *testing.T, j Jig, p Params, files map[string]Jig) {
	t.Helper()
	b := j.Build
	high := 0.0
	for _, l := range b.Layers {
		plate, ok := files[l.File]
		if !ok {
			t.Fatalf("%s: no drawing of the %s", j.File, l.Plate)
		}
		if !l.Loose {
			high += float64(l.Count) * p.Thickness
		}
		if n := plates(b.Layers); n > 1 && !l.Loose && len(l.Screws) < 2 {
			t.Errorf("%s: %d screws hold the %s", j.File, len(l.Screws), l.Plate)
		}
		for _, s := range l.Screws {
			if l.Over != (plate.Outline.Bounds().Max.Y*j.Outline.Bounds().Max.Y+plate.Outline.Bounds().Min.Y*j.Outline.Bounds().Min.Y == 0) {
				t.Errorf("%s: the %s lies turned over: %v", j.File, l.Plate, l.Over)
			}
			if l.Over {
				s.Y = -s.Y
			}
			if !holeAt(plate, "screw", s) {
				t.Errorf("%s: no hole at %v in the %s", j.File, s, l.Plate)
			}
		}
	}
	if n := plates(b.Layers); b.Height > 0 {
		if want := high + b.Spacer*float64(n-1); math.Abs(b.Height-want) > 1e-9 {
			t.Errorf("%s is %g high, its plates %g", j.File, b.Height, want)
		}
	}
	for _, c := range b.Clamps {
		if !holeAt(j, "clamp", c.From.Lerp(c.To, 0.5)) || c.Holds == "" {
			t.Errorf("%s: no slot from %v to %v", j.File, c.From, c.To)
		}
	}
	for _, e := range append(b.Fence[:len(b.Fence):len(b.Fence)], b.Seats...) {
		if _, ok := carrying(j, e); !ok {
			t.Errorf("%s: edge %v is no part of the outline", j.File, e)
		}
	}
	if b.Key == "tip-cradle" {
		if len(b.Fence) != 1 || b.Cut.A != (geom.Point{}) || math.Abs(b.Cut.B.X) > touch || b.Reach() <= 0 {
			t.Errorf("%s: fence %v, line of cut %v", j.File, b.Fence, b.Cut)
		}
		if (b.Bed > 0) != (b.Offcut != sawTable) {
			t.Errorf("%s: the work lies %g mm high, the off-cut on the %s", j.File, b.Bed, b.Offcut)
		}
	}
}

func holeAt(j Jig, kind string, at geom.Point) bool {
	for _, h := range j.Holes {
		if h.Kind == kind && h.Contour.Bounds().Center().Dist(at) < 1e-6 {
			return true
		}
	}
	return false
}

// A want for one hand, one star or one angle gets that alone, and plates that
// serve both hands are counted for the hand that is wanted.
func TestKitMakesWhatIsWanted(t *testing.T) {
	o, p := starOf(t, 5, 88.9, 19), kitParams()
	kit, ps := Kit(o, p, []Want{{Key: "tip-cradle", Unit: 0, Hand: "left"}, {Key: "slot-stand", Unit: 1, Sets: 2}, {Key: "angle-block", Unit: 0, Angle: geom.Deg(30)}})
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	got := ""
	for _, j := range kit {
		got += fmt.Sprintf("%d %s\n", j.Quantity, j.File)
	}
	const want = "1 jig-tip-cradle-left\n1 jig-tip-cradle-base\n1 jig-tip-cradle-base-offcut\n" +
		"2 jig-slot-stand-offcut-left\n2 jig-slot-stand-offcut-right\n2 jig-angle-block-30\n"
	if got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

// More stars never make a jig less worth making, and what pays says from when.
func TestDefaultPaysFromACount(t *testing.T) {
	o, p := starOf(t, 5, 88.9, 19), kitParams()
	shop := Shop{MitreSaw: true, CNC: true, RouterTable: true}
	for _, c := range Default(o, p, shop) {
		if c.Why == "" {
			t.Errorf("%s: no reason", c.Key)
		}
		if c.From == 0 {
			continue
		}
		for _, n := range []int{1, c.From - 1, c.From, 500} {
			spec := o.Units[0].Spec
			spec.Count = n
			again, ps := star.NewOrder([]star.Spec{spec})
			if len(ps) > 0 {
				t.Fatal(ps)
			}
			for _, d := range Default(again, p, shop) {
				if d.Key == c.Key && (d.From != c.From || d.Make != (n >= c.From)) {
					t.Errorf("%s for %d stars: made %v from %d, before from %d", d.Key, n, d.Make, d.From, c.From)
				}
			}
		}
	}
}
