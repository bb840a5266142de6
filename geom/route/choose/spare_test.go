package choose

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/geom/route"
	"starwright/geom/star"
)

// A pair that has lost length is cut as the page says, a line nearer to its tip:
// the small segment comes out shorter and whole, with the same angles.
func TestShortPairsGiveWholeSegments(t *testing.T) {
	ways := map[route.Method]int{}
	for k, j := range testJobs(t) {
		if k%3 != 1 {
			continue
		}
		for i, u := range j.Order.Units {
			if u.From == nil {
				continue
			}
			t.Run(fmt.Sprintf("%s unit %d", j.name, i), func(t *testing.T) {
				r, ps := New(j.Given)
				if len(ps) > 0 {
					t.Fatal(ps)
				}
				lost, by, glue := shortWords(t, r.Route.Setups, i, u.Spec.Unit)
				pair := clip(glue.Join.After, line{geom.Pt(lost, 1), geom.Pt(lost, -1)}) // what is left of it
				for _, s := range r.Route.Setups {
					if s.Kind != route.PairFacet || s.Unit != i || s.Stage == route.Rest {
						continue
					}
					ways[s.Method]++
					pair = shortCut(s, pair, u, lost, by)
				}
				// Cut along the same lines, a piece that lost more keeps its outer edges.
				tip := geom.Pt(u.Segment.Length, 0)
				scaled := make([]geom.Point, len(u.Segment.Outline()))
				for k, p := range points(u.Segment.Outline()) {
					scaled[k] = tip.Lerp(p, 1-lost/u.Segment.Length)
				}
				if d := apart(pair, scaled); d > 0.1 {
					t.Errorf("what comes of a pair that is %.2f mm short is %.3f mm off a smaller segment", lost, d)
				}
			})
		}
	}
	t.Log(ways)
	for _, w := range []route.Method{route.OnEdge, route.Cradled, route.ByHand} {
		if ways[w] == 0 {
			t.Errorf("no off-cut star is cut by way of %q", w)
		}
	}
}

// shortCut cuts a pair with its set-up changed as the words say.
func shortCut(s route.Setup, pair []geom.Point, u *star.Unit, lost, by float64) []geom.Point {
	h, c := *s.Hold, *s.Cut
	tip := u.Segment.Tip / 2
	switch s.Method {
	case route.OnEdge: // the stop stands nearer to the line of cut by so much
		way := -1.0
		if !c.KeepLeft {
			way = 1
		}
		h.X += way * by
	case route.Cradled: // papers on both sides push the pair's tip out of the notch
		out := machine(&h, geom.Point{}).Sub(machine(&h, geom.Pt(1, 0))) // from the tip to the centre
		h.X, h.Y = h.X+out.X*by/tip.Sin(), h.Y+out.Y*by/tip.Sin()
	case route.ByHand: // marks along the edge and the joint, less by so much
		c.From, c.To = c.From.Add(geom.Pt(lost, 0)), c.To.Add(geom.Pt(lost, 0))
	}
	s.Hold, s.Cut = &h, &c
	p := *s.Piece
	p.Before = pair
	s.Piece = &p
	kept, _ := carryOut(&s)
	return kept
}

// shortWords reads what the page says of pairs that are short: for how much, and
// by how much the set-up changes.
func shortWords(t *testing.T, setups []route.Setup, unit int, u geom.Unit) (lost, by float64, glue route.Setup) {
	t.Helper()
	for _, s := range setups {
		if s.Kind != route.GluePairs || s.Unit != unit {
			continue
		}
		said := strings.Join(s.Measure, " ")
		m := regexp.MustCompile(`For each (.*?) that it is shorter (?:set the stop|lay|mark) (.*? (?:mm|in)) `).FindStringSubmatch(said)
		if m == nil {
			t.Fatalf("nothing said of short pairs: %s", said)
		}
		var errs [2]error
		lost, errs[0] = geom.ParseLength(m[1], u)
		by, errs[1] = geom.ParseLength(m[2], u)
		if errs[0] != nil || errs[1] != nil {
			t.Fatal(m, errs)
		}
		return lost, by, s
	}
	t.Fatal("no pairs are glued")
	return 0, 0, glue
}

// Wood to spare behind the off-cut star's centre is there until its facets are cut.
func TestSpareIsBehindTheCentre(t *testing.T) {
	for _, n := range []int{4, 5, 8, 12} {
		spec := specOf(n, 100, geom.Millimetre)
		spec.OffcutStar, spec.OffcutSpare = true, 1.5
		r, ps := New(jobOf(t, spec, shops["saw and router"]))
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		for _, s := range r.Route.Setups {
			if s.Kind != route.GluePairs {
				continue
			}
			behind := 0.0
			for _, p := range s.Join.After {
				behind = math.Max(behind, -p.X)
			}
			if behind < 1.5-1e-6 {
				t.Errorf("%d points: the pairs reach %.3f mm behind the off-cut star's centre, want 1.5", n, behind)
			}
			if said := strings.Join(s.SetUp, " "); !strings.Contains(said, "mm longer than the off-cut star takes") {
				t.Errorf("%d points: the spare is not told: %s", n, said)
			}
		}
	}
}
