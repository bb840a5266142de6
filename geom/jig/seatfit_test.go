package jig

import (
	"math"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"starwright/geom"
)

// A block 100 by 40 with work lying on its upper side from X 10 to X 90. Wood
// that was changed, worked by hand.
func TestSeatFitByHand(t *testing.T) {
	seat := Seat{What: "board", Work: geom.Rect(geom.Box{Min: geom.Pt(10, 40), Max: geom.Pt(90, 60)}),
		Edges: []geom.Curve{{A: geom.Pt(90, 40), B: geom.Pt(10, 40)}}}
	wood := func(left, right float64) geom.Contour { // heights of the upper corners
		return geom.Polygon(geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, right), geom.Pt(0, left))
	}
	degrees := func(rise float64) float64 { return math.Atan(rise/100) * 180 / math.Pi }
	for _, c := range []struct {
		name                             string
		wood                             geom.Contour
		contact, interference, gap, turn float64
	}{
		{"as meant", wood(40, 40), 80, 0, 0, 0},
		{"all 0.1 low", wood(39.9, 39.9), 0, 0, 0.1, 0},
		{"all 0.1 high", wood(40.1, 40.1), 0, 0.1, 0, 0},
		// The line falls by 0.1 over 100: 0.01 low at X 90, 0.09 low at X 10.
		{"left end 0.1 low", wood(39.9, 40), 0, 0, 0.09, degrees(0.1)},
		// By 0.02 over 100: 0.018 low at X 10, within 0.01 from X 50 on.
		{"left end 0.02 low", wood(39.98, 40), 40, 0, 0.018, degrees(0.02)},
		{"turned about X 50", wood(39.95, 40.05), 20, 0.04, 0.04, degrees(0.1)},
		{"a saw cut 5 wide in it", geom.Polygon(geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 40), geom.Pt(50, 40), geom.Pt(50, 35),
			geom.Pt(45, 35), geom.Pt(45, 40), geom.Pt(0, 40)), 75, 0, 2.5, 0},
		{"the wood ends at X 60", geom.Polygon(geom.Pt(0, 0), geom.Pt(60, 0), geom.Pt(60, 40), geom.Pt(0, 40)), 50, 0, 15, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			fit, edges := SeatFit(c.wood, nil, seat)
			got := [4]float64{fit.Contact, fit.Interference, fit.Gap, edges[0].Turn.Degrees()}
			for i, want := range [4]float64{c.contact, c.interference, c.gap, c.turn} {
				if math.Abs(got[i]-want) > 1e-6 {
					t.Errorf("%s %.6f, want %.6f", [4]string{"contact", "interference", "gap", "turn"}[i], got[i], want)
				}
			}
			if fit.Wanted != 80 {
				t.Errorf("wanted %g", fit.Wanted)
			}
		})
	}
}

// A window 0.1 mm wider than the work on all sides: twice 0.1 is its play.
func TestSeatFitWithPlay(t *testing.T) {
	plate := geom.Rect(geom.Box{Min: geom.Pt(-20, -20), Max: geom.Pt(70, 50)})
	window := geom.Rect(geom.Box{Min: geom.Pt(-0.1, -0.1), Max: geom.Pt(50.1, 30.1)})
	work := geom.Rect(geom.Box{Max: geom.Pt(50, 30)})
	seat := Seat{Work: work, Edges: facing(work, window, 0.1), Play: 0.2}
	fit, _ := SeatFit(plate, []geom.Contour{window}, seat)
	if math.Abs(fit.Contact-160) > 1 || fit.Interference > 0 || math.Abs(fit.Gap-0.1) > 1e-9 {
		t.Errorf("%+v", fit)
	}
	wide := geom.Rect(geom.Box{Min: geom.Pt(-0.2, -0.1), Max: geom.Pt(50.1, 30.1)})
	if fit, _ = SeatFit(plate, []geom.Contour{wide}, seat); math.Abs(fit.Gap-0.2) > 1e-9 {
		t.Errorf("one side moved out by 0.1 mm: gap %g, want 0.2", fit.Gap)
	}
}

// What a cutter leaves: in a right corner a fillet whose middle stands off the
// corner by r(√2 - 1); work with a sharp corner there reaches into it.
func TestAsCut(t *testing.T) {
	notch := geom.Polygon(geom.Pt(-50, -20), geom.Pt(50, -20), geom.Pt(50, 0), geom.Pt(0, 0), geom.Pt(0, 40), geom.Pt(-50, 40))
	work := geom.Rect(geom.Box{Max: geom.Pt(40, 30)})
	seat := Seat{What: "board", Work: work, Edges: against(work, notch)}
	const r = 3.0
	cut := AsCut(notch, 2*r)
	if d := cut.DistTo(geom.Point{}); math.Abs(d-r*(math.Sqrt2-1)) > 1e-9 {
		t.Errorf("the corner is %g mm from the wood", d)
	}
	// The fillet takes r of each edge, and 0.01 mm of wood still counts as none:
	// sqrt(2 r 0.01) of each again.
	fit, _ := SeatFit(cut, nil, seat)
	if want := 30 + 40 - 2*r; fit.Contact > want+1e-6 || fit.Contact < want-1e-6 {
		t.Errorf("contact %g, want %g", fit.Contact, want)
	}
	if math.Abs(fit.Interference-r*(math.Sqrt2-1)) > 0.02 {
		t.Errorf("interference %g, want %g", fit.Interference, r*(math.Sqrt2-1))
	}
	relieved := relieve(notch, []int{3}, 2*r)
	if fit, _ = SeatFit(AsCut(relieved, 2*r), nil, seat); fit.Interference > 0 {
		t.Errorf("relieved: %+v", fit)
	}
	if len(AsCut(notch, 0)) != len(notch) || len(AsCut(geom.Circle(geom.Pt(0, 0), 5), 6)) != 2 {
		t.Error("a laser leaves sharp corners, and arcs are not touched")
	}
}

// The contact of every jig, against a ruler of points on the work's outline and
// the distances of another library.
func TestSeatFitOfTheKit(t *testing.T) {
	for _, c := range []struct {
		name       string
		n          int
		width, tip float64
	}{{"four", 4, 140, 45}, {"five", 5, 96, 36}, {"eight", 8, 70, 45}, {"twelve", 12, 80, 60}} {
		t.Run(c.name, func(t *testing.T) {
			b := orderOf(t, c.n, c.width, c.tip)
			for _, cutter := range []float64{0, 6} {
				p := Params{Cutter: cutter, MaxMiter: 45 * geom.Degree, MaxW: 900, MaxH: 900, Thickness: 12}
				jigs, ps := Kit(b, p, all(b, p))
				if len(ps) > 0 {
					t.Fatal(ps)
				}
				for _, j := range jigs {
					for _, s := range j.Seats {
						measured(t, j, s, cutter)
					}
				}
			}
		})
	}
}

func measured(t *testing.T, j Jig, s Seat, cutter float64) {
	t.Helper()
	fit, _ := SeatFit(AsCut(j.Outline, cutter), contours(j.Holes), s)
	if fit.Interference > 1e-5 || fit.Gap > s.Play/2+1e-5 || math.Abs(fit.Wanted-fit.Contact) > 1e-3 {
		t.Errorf("%s: %s: %+v", j.File, s.What, fit)
	}
	if ruled, slack := ruler(j, s); math.Abs(fit.Contact-ruled) > slack {
		t.Errorf("%s: %s lies against %.2f mm; measured %.2f, %.2f unsure", j.File, s.What, fit.Contact, ruled, slack)
	}
}

// ruler returns how much of the work's outline lies within the stated gap of
// the wood, mm, and how unsure that is.
func ruler(j Jig, s Seat) (length, slack float64) {
	wood := []sf.Geometry{ring(j.Outline).AsGeometry()}
	for _, h := range j.Holes {
		wood = append(wood, ring(h.Contour).AsGeometry())
	}
	const points = 60
	for _, e := range s.Work.Curves() {
		step := e.Length() / points
		for i := range points {
			q := e.At((float64(i) + 0.5) / points)
			at := sf.XY{X: q.X, Y: q.Y}.AsPoint().AsGeometry()
			for _, w := range wood {
				if d, ok := sf.Distance(at, w); ok && d < s.Play/2+0.011 {
					length += step
					break
				}
			}
		}
		slack += 3 * step
	}
	return length, slack
}
