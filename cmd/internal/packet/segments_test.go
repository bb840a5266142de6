package packet

import (
	"context"
	"errors"
	"fmt"
	"math/rand"
	"os"
	"strconv"
	"strings"
	"testing"

	"starwright/cmd/internal/jobgen"
	"starwright/geom"
	"starwright/toolpath/backplot"
)

// TestRandomSegments makes random jobs whose segments the CNC cuts: each that is not
// refused passes its own proof and the virtual bench, has all its segments, and no tab
// on a facet. Its defaults, written into it, change no file. STARWRIGHT_SEGMENTS=200
// makes so many.
func TestRandomSegments(t *testing.T) {
	jobs := 8
	if n, err := strconv.Atoi(os.Getenv("STARWRIGHT_SEGMENTS")); err == nil {
		jobs = n
	}
	seed := int64(16)
	if n, err := strconv.ParseInt(os.Getenv("STARWRIGHT_SEED"), 10, 64); err == nil {
		seed = n
	}
	rng := rand.New(rand.NewSource(seed))
	made, refused := 0, map[string]int{}
	for n := 0; made < jobs && n < 10*jobs; n++ {
		source := jobgen.Flat(func(_ string, n int) int { return rng.Intn(n) })
		if own := ownShop(rng); !strings.Contains(own, "[stock]") || !strings.Contains(source, "[stock]") {
			source += own
		}
		w, err := Load(context.Background(), adviceInput(source), nil)
		var refusal JobErrors
		if errors.As(err, &refusal) {
			refused[refusal[0].Table+"."+refusal[0].Key]++
			continue
		} else if err != nil {
			t.Fatalf("%v\n%s", err, source)
		}
		made++
		proofs := proofsOf(t, w, nil)
		for _, p := range proofs {
			if !p.OK() {
				t.Fatalf("%s: %v\n%s", p.Path, p.Findings, source)
			}
		}
		if tried := w.tryRoute(proofs); !tried.OK() {
			t.Fatalf("the route: %v\n%s", tried.Findings, source)
		}
		segmentsWhole(t, w, source)
		all := source
		for _, d := range append(w.Job.Defaults, w.Order.Defaults...) {
			all = withDefault(all, d)
		}
		same, err := Load(context.Background(), adviceInput(all), nil)
		if err != nil {
			t.Fatalf("with its defaults: %v\n%s", err, all)
		}
		if what := otherFiles(w, same); what != "" {
			t.Fatalf("with its defaults it differs in %s\n%s", what, all)
		}
	}
	t.Logf("%d jobs made, refused at %v", made, refused)
	if made < jobs {
		t.Errorf("only %d of %d jobs were made", made, jobs)
	}
}

// Without tabs the cuts free what lies between segments that are close to each other:
// the message offers tabs. Where there is a strip between two cuts nothing comes free,
// though the segments lie askew in squares, which do not tell their areas exactly.
func TestNothingHoldsTheWaste(t *testing.T) {
	const source = `[star]
points = %d
star_width = "%d mm"
thickness = "16.4 mm"
count = 2
[tabs]
count = 0
[jigs]
make = []
[segments]
cut = "cnc"
longest = "1500 mm"
board_length = "3 m"
spacing = "%s mm"
[stock]
trim = "8 mm"
boards = [{ length = "2.2 m", width = "310 mm", bad = [["700 mm", "760 mm"]] }, { length = "2.9 m", width = "400 mm" }]
`
	if errs := load1(fmt.Sprintf(source, 12, 1051, "15.7")); len(errs) > 0 {
		t.Errorf("with a strip between the cuts: %v", errs)
	}
	near := fmt.Sprintf(source, 10, 760, "9")
	errs := load1(near)
	if len(errs) == 0 || errs[0].Table+"."+errs[0].Key != "tabs.count" {
		t.Fatalf("without tabs: %v", errs)
	}
	if next, ok := follow(near, errs[0].Error()); !ok || len(load1(next)) > 0 {
		t.Errorf("%v leads to %v", errs[0], load1(next))
	}
}

// segmentsWhole looks that the programs together cut all segments, and that no tab
// touches a facet: each stands nearer to an outer edge than to any facet.
func segmentsWhole(t *testing.T, w *Work, source string) {
	t.Helper()
	want, got := 0, 0
	for _, u := range w.Order.Units {
		want += u.Segments()
	}
	for _, g := range w.Programs {
		if !g.board {
			continue
		}
		got += g.Quantity * len(g.Task.Sheet.Parts)
		for _, p := range g.Task.Sheet.Parts {
			if len(p.Seats) != 2 {
				t.Fatalf("%s: %s has %d joint faces\n%s", g.Path, p.Name, len(p.Seats), source)
			}
			onFacet(t, p, g.Task.Cutter, source)
		}
	}
	if got != want {
		t.Fatalf("%d segments are cut of %d\n%s", got, want, source)
	}
}

// onFacet looks that the tabs of a part keep half a cutter and half a tab away from
// its facets: a tab's middle lies on the cutter's way.
func onFacet(t *testing.T, p backplot.Part, cutter float64, source string) {
	t.Helper()
	for _, at := range p.TabsAt {
		for _, facet := range p.Seats {
			if d := geom.CurveDist(facet, geom.Curve{A: at, B: at}); d < cutter/2+1 {
				t.Fatalf("%s: a tab stands %.2f mm from a facet\n%s", p.Name, d, source)
			}
		}
	}
}
