package backplot_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/backplot"
	"starwright/toolpath/finding"
)

// The table of axes finds what a plain map does, in either direction: axes far
// apart and thousands in one spot, those filed again, none that was never filed, and
// nothing after it was emptied.
func TestAxes(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for _, spread := range []float64{0.05, 5, 5000} {
		var table backplot.Axes
		draw := func() geom.Curve {
			p := func() geom.Point { return geom.Pt(random.Float64()*spread, random.Float64()*spread) }
			return geom.Curve{A: p(), B: p(), Bulge: float64(random.IntN(3)-1) / 2}
		}
		for range 2 {
			want := map[geom.Curve]int32{}
			var all []geom.Curve
			for range 5_000 {
				switch c := draw(); {
				case len(all) > 0 && random.IntN(4) == 0:
					c = all[random.IntN(len(all))]
					if random.IntN(2) == 0 {
						c = c.Reversed()
					}
					if n, ok := want[c]; !ok || table.Find(c) != n {
						t.Fatalf("spread %g: found %d, want %d", spread, table.Find(c), n)
					}
					want[c] = table.Set(c)
					want[c.Reversed()] = want[c]
				default:
					if n := table.Find(c); n >= 0 {
						t.Fatalf("spread %g: an axis that was never filed is number %d", spread, n)
					}
					all = append(all, c)
					want[c] = table.Set(c)
					want[c.Reversed()] = want[c]
				}
			}
			for c, n := range want {
				if got := table.Find(c); got != n {
					t.Fatalf("spread %g: found %d in the end, want %d", spread, got, n)
				}
			}
			table.Reset()
			if n := table.Find(all[0]); n >= 0 {
				t.Errorf("spread %g: number %d is found in an empty table", spread, n)
			}
		}
	}
}

// Where no more is asked of the wood, what a program does in the air is still
// judged, and cuts go on as if they had been looked at.
func TestSpent(t *testing.T) {
	const n = backplot.MaxFindings + 200
	more := func(rapids int) backplot.Result {
		ms := gouges(n, -10.5)
		p := pen{at: ms[len(ms)-1].To, line: len(ms), emit: func(m *toolpath.Move) { ms = append(ms, *m) }}
		for i := range rapids {
			p.to(toolpath.Rapid, 30, 9.5, -11-float64(i%2))
			p.to(toolpath.Linear, 30, 9.5, -0.5)
		}
		return judge(task(slotJob()), ms, 1<<40, 0, 0)
	}
	was, is := more(0), more(7)
	if is.Count != was.Count+7 {
		t.Errorf("%d findings with 7 rapids in the wood, %d without", is.Count, was.Count)
	}
	lowest := func(r backplot.Result) float64 {
		return r.Checks[slices.IndexFunc(r.Checks, func(c finding.Check) bool { return c.Name == "lowest rapid" })].Value
	}
	if lowest(is) != -12 {
		t.Errorf("lowest rapid %g, want -12", lowest(is))
	}
}
