package packet

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/toolpath"
)

func TestMoveSeconds(t *testing.T) {
	for _, c := range []struct {
		name            string
		length, v, a, s float64 // s by hand
	}{
		{"nothing", 0, 20, 100, 0},
		// 100 mm at 20 mm/s: 5 s, and 0.2 s for speeding up and slowing down.
		{"long", 100, 20, 100, 5.2},
		// 1 mm at 100 mm/s²: half of it speeding up, 2 sqrt(1/100).
		{"short", 1, 20, 100, 0.2},
		// 4 mm is just where both formulas meet: 2 sqrt(4/100) = 4/20 + 20/100.
		{"meeting point", 4, 20, 100, 0.4},
		{"a machine that needs no time to speed up", 100, 20, 0, 5},
	} {
		if got := moveSeconds(c.length, c.v, c.a); math.Abs(got-c.s) > 1e-12 {
			t.Errorf("%s: %v s, want %v", c.name, got, c.s)
		}
	}
}

// The slow twin: the speed is integrated in small steps, always as fast as the
// feed, the way behind and the way ahead allow.
func TestMoveSecondsAgainstSmallSteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.Float64Range(0.5, 200).Draw(t, "length")
		v := rapid.Float64Range(1, 100).Draw(t, "speed")
		a := rapid.Float64Range(20, 1000).Draw(t, "acceleration")
		const steps = 20000
		sum, dx := 0.0, length/steps
		for i := range steps {
			x := (float64(i) + 0.5) * dx
			sum += dx / math.Min(v, math.Sqrt(2*a*math.Min(x, length-x)))
		}
		// The first and last half step hold the largest error of the sum, near
		// 0.6 of a step from a stop.
		if got := moveSeconds(length, v, a); math.Abs(got-sum) > 2*math.Sqrt(2*dx/a) {
			t.Errorf("got %v s, small steps %v s", got, sum)
		}
	})
}

// By hand, at 200 mm/s²: 3 s for the spindle; 25 mm at 3000 mm/min take 0.5 +
// 0.25 s; 10 mm down at 300 mm/min 2 + 0.025 s; half a turn of 10 mm radius,
// 31.416 mm, at 1200 mm/min 1.5708 + 0.1 s.
func TestEstimate(t *testing.T) {
	p := toolpath.Program{SpinUpS: 3, SafeZ: 10, Steps: []toolpath.Step{
		{Do: toolpath.StepMove, Kind: toolpath.Rapid, To: geom.Point3{X: 0, Y: 9, Z: 10}}, // from nobody knows where
		{Do: toolpath.StepMove, Kind: toolpath.Rapid, To: geom.Point3{X: 25, Y: 9, Z: 10}},
		{Do: toolpath.StepMove, Kind: toolpath.Linear, To: geom.Point3{X: 25, Y: 9}, Feed: 300},
		{Do: toolpath.StepMove, Kind: toolpath.ArcCCW, To: geom.Point3{X: 5, Y: 9}, Center: geom.Pt(15, 9), Feed: 1200},
	}}
	const want = 3 + 0.75 + 2.025 + 10*math.Pi/20 + 0.1
	if got := 60 * estimate(p, 200); math.Abs(got-want) > 1e-9 {
		t.Errorf("%v s, want %v", got, want)
	}
}

// TestOneTime: what shows a program move by move, as it was read back, comes to the
// minutes that plan, list and head have. Coordinates are rounded in the file, each
// by half a thousandth of a millimetre at most.
func TestOneTime(t *testing.T) {
	for _, source := range []string{
		"[star]\nboard_width = \"100 mm\"\ncount = 3\n[slot]\nstations = 2\nloads = 2\n[machine]\nspin_up = 5\naccel = 400\n",
		"units = \"in\"\n[star]\nboard_width = \"1x4\"\n[cutter]\narcs = false\n",
	} {
		w := loaded(t, source)
		proofs := proofsOf(t, w, nil)
		minutes := map[string]float64{}
		for _, f := range w.manifest(proofs, nil).Files {
			minutes[f.Path] = f.Minutes
		}
		for _, p := range w.pageData(proofs).Programs {
			seconds := 0.0
			for _, s := range p.Times {
				seconds += s
			}
			if m := minutes[p.File]; m == 0 || math.Abs(seconds/60-m) > 0.01*m {
				t.Errorf("%s: %.3f min move by move, %.3f in the list", p.File, seconds/60, m)
			}
			head := fmt.Sprintf("about %.1f minutes", minutes[p.File])
			if !slices.ContainsFunc(p.Lines, func(l string) bool { return strings.Contains(l, head) }) {
				t.Errorf("%s: its head does not say %q", p.File, head)
			}
		}
		for _, g := range w.Programs {
			if g.Minutes != minutes[g.Path] {
				t.Errorf("%s: %v planned, %v in the list", g.Path, g.Minutes, minutes[g.Path])
			}
		}
	}
}
