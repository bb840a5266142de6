package packet

import (
	"context"
	"fmt"
	"math/rand"
	"os"
	"strconv"
	"testing"

	"starwright/post/rs274/ncwrite"
)

// TestShortSlotsPass makes slots that are hardly longer than their thin cutter is
// wide, where the rounding of coordinates turns a ramp most, and holds their
// programs against the job as check does: a job that is sound makes programs that
// pass. What the wood or the cutter does not allow is refused with advice.
// STARWRIGHT_SHORT=1000 tries so many jobs.
func TestShortSlotsPass(t *testing.T) {
	jobs := 40
	if n, err := strconv.Atoi(os.Getenv("STARWRIGHT_SHORT")); err == nil {
		jobs = n
	}
	rng := rand.New(rand.NewSource(1))
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	made, refused := 0, 0
	for tries := 0; made < jobs && tries < 40*jobs; tries++ {
		cutter := []float64{1, 1, 1.2, 1.25, 1.5, 25.4 / 16}[rng.Intn(6)]
		board := between(60, 140)
		facet := board / 2 / 0.5877852522925 // of a star of five points, sin 36 degrees
		margin := between(1, 12)
		start := facet - margin - cutter*between(2.05, 6)
		source := fmt.Sprintf("units = %q\n[star]\nboard_width = \"%.2f mm\"\nthickness = \"%.1f mm\"\n[jigs]\nmake = []\n"+
			"[slot]\nstart = \"%.2f mm\"\nend_margin = \"%.2f mm\"\ndepth = \"%.1f mm\"\nwidth = \"%g mm\"\n"+
			"[cutter]\ndiameter = \"%g mm\"\ndepth_per_pass = \"%.2f mm\"\nramp = \"%.1f deg\"\n[output]\ngcode_units = %q\n",
			[]string{"mm", "in"}[rng.Intn(2)], board, between(12, 25), start, margin, between(1, 5), cutter+[]float64{0, 0, 0.35}[rng.Intn(3)],
			cutter, between(0.3, 2.5), between(1.5, 20), []string{"mm", "in"}[rng.Intn(2)])
		w, err := Start(context.Background(), adviceInput(source), nil)
		if err != nil {
			refused++
			continue
		}
		made++
		for i := range w.Programs {
			g := &w.Programs[i]
			text, err := ncwrite.Bytes(g.Plan, g.UnitMM)
			if err != nil {
				t.Fatalf("%v\n%s", err, source)
			}
			p := &Proof{Path: g.Path, Text: text}
			if proveProgram(p, g); !p.OK() {
				t.Errorf("%s: %s\n%s", g.Path, firstFault(p), source)
			}
		}
	}
	t.Logf("%d jobs made, %d refused", made, refused)
	if made < jobs {
		t.Errorf("only %d jobs of %d were made", made, jobs)
	}
}
