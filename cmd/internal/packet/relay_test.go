package packet

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"runtime"
	"testing"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/backplot"
)

// What goes through the relay comes to the back-plot as it was read and in its order:
// moves that go on from the one before and such that do not, arcs, other speeds, lines
// beyond all count, and what else a program does; in short programs and long ones, on
// one processor and on two.
func TestRelay(t *testing.T) {
	task := backplot.Task{Cutter: 6, Limits: backplot.Limits{StepDown: 3, Feed: 2000, PlungeFeed: 2000, RampMax: geom.Deg(80), RPMMin: 9000, RPMMax: 11000, SafeZ: 5, Approach: 1},
		Sheet: &backplot.Sheet{Size: geom.Pt(300, 200), Thickness: 9, Parts: []backplot.Part{{Name: "plate", Outline: geom.Rect(geom.Box{Min: geom.Pt(20, 20), Max: geom.Pt(80, 80)})}}}}
	for _, n := range []int{1, relaySteps - 1, relaySteps, relaySteps + 1, 5*relaySteps - 1} {
		for _, processors := range []int{1, 2} {
			t.Run(fmt.Sprintf("%d steps, %d processors", n, processors), func(t *testing.T) {
				defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(processors))
				random := rand.New(rand.NewPCG(uint64(n), 1))
				plain, plot := backplot.New(task), backplot.New(task)
				to := newRelay(plot, n/3)
				var was, is []int // the height's line whenever something else is done
				m := toolpath.Move{RPM: 10000}
				m.To = geom.Point3{X: 200, Y: 120, Z: 6}
				for i := range n {
					if random.IntN(20) == 0 {
						line, on := i, random.IntN(2) == 0
						plain.Spindle(line, on, 10000)
						was = append(was, plain.HeightLine())
						to.do(func(r *backplot.Replay) { r.Spindle(line, on, 10000); is = append(is, r.HeightLine()) })
					}
					about := geom.Pt(200, 120)
					if i > n-200 {
						about = geom.Pt(50, 50) // through the plate
					}
					drawMove(random, &m, i+1, about)
					plain.Move(&m)
					to.move(&m)
				}
				to.end()
				if !reflect.DeepEqual(is, was) {
					t.Errorf("other steps came out of order")
				}
				if got, want := plot.Finish(), plain.Finish(); !reflect.DeepEqual(got, want) {
					t.Errorf("found %d, want %d: %v, want %v", got.Count, want.Count, got.Checks, want.Checks)
				} else if got.Count >= backplot.MaxFindings {
					t.Errorf("%d findings: a back-plot that has enough of them asks no more", got.Count)
				}
			})
		}
	}
}

// drawMove makes m the move after it, some way or other about a place: mostly of a kind
// that is no fault away from the plate.
func drawMove(random *rand.Rand, m *toolpath.Move, line int, about geom.Point) {
	back := m.From
	m.From, m.Line, m.Kind, m.Feed = m.To, line, toolpath.Linear, 1500+400*random.Float64()
	m.Center, m.Sweep = geom.Point{}, 0
	m.To = geom.Point3{X: about.X + 25*random.NormFloat64(), Y: about.Y + 25*random.NormFloat64(), Z: -1 - random.Float64()}
	if random.IntN(2) == 0 {
		m.To.X, m.To.Y = back.X, back.Y
	}
	switch random.IntN(200) {
	case 0:
		m.From.X++
	case 1:
		m.RPM = 8000 + 4000*random.Float64()
	case 2:
		m.Kind, m.Feed, m.To.Z = toolpath.Rapid, 0, 6
	case 3:
		m.Kind, m.Sweep = toolpath.ArcCCW, math.Pi
		m.Center = m.From.XY().Add(m.To.XY()).Mul(0.5)
	case 4:
		m.Line = math.MaxInt32 + 7
	case 5:
		m.Feed = 2500
	}
}
