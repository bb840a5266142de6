package packet

import (
	"math"
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
		{Do: toolpath.StepMove, Kind: toolpath.Rapid, To: geom.Point3{X: 25, Z: 10}},
		{Do: toolpath.StepMove, Kind: toolpath.Linear, To: geom.Point3{X: 25}, Feed: 300},
		{Do: toolpath.StepMove, Kind: toolpath.ArcCCW, To: geom.Point3{X: 5}, Center: geom.Pt(15, 0), Feed: 1200},
	}}
	const want = 3 + 0.75 + 2.025 + 10*math.Pi/20 + 0.1
	if got := 60 * estimate(p, 200); math.Abs(got-want) > 1e-9 {
		t.Errorf("%v s, want %v", got, want)
	}
}
