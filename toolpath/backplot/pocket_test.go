package backplot_test

import (
	"math"
	"testing"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/backplot"
	"starwright/toolpath/planner"
)

func slotJob() planner.SlotJob {
	return planner.SlotJob{
		Name: "slot-left", Start: 18.8677, End: 84.974, FromFace: 9.5, Width: 6.35, Depth: 10,
		Stations: 1, Loads: 1,
		Cutting: planner.Cutting{CutterDiameter: 6.35, DepthPerPass: 3, Feed: 1200, PlungeFeed: 300, RampMax: 5 * geom.Degree, RPM: 18000, SafeZ: 10, Approach: 1},
	}
}

func task(j planner.SlotJob) backplot.Task {
	_, each := planner.Passes(j.Depth, j.DepthPerPass)
	t := backplot.Task{File: j.Name, Cutter: j.CutterDiameter, Climb: j.Climb, Limits: backplot.Limits{
		StepDown: each, Feed: j.Feed, PlungeFeed: j.PlungeFeed, RampMax: j.RampMax,
		RPMMin: 17000, RPMMax: 19000, SafeZ: j.SafeZ, Approach: j.Approach,
	}}
	for s := 0; s < j.Stations; s++ {
		y := j.FromFace + float64(s)*j.Pitch
		b := geom.Box{Min: geom.Pt(j.Start, y-j.Width/2), Max: geom.Pt(j.End, y+j.Width/2)}
		if j.Mirror {
			b.Min.X, b.Max.X = -b.Max.X, -b.Min.X
		}
		t.Pockets = append(t.Pockets, backplot.Pocket{Name: "slot", Outline: geom.RoundedRect(b, j.CutterDiameter/2), Depth: j.Depth})
	}
	return t
}

// moves replays a plan without a file between.
func moves(t *testing.T, j planner.SlotJob) []toolpath.Move {
	t.Helper()
	p, err := planner.Slot(j)
	if err != nil {
		t.Fatal(err)
	}
	at := geom.Point3{Z: j.SafeZ}
	var out []toolpath.Move
	round := func(v float64) float64 { return math.Round(v*1000) / 1000 }
	for i, s := range p.Steps {
		if s.Do != toolpath.StepMove {
			continue
		}
		to := geom.Point3{X: round(s.To.X), Y: round(s.To.Y), Z: round(s.To.Z)}
		m := toolpath.Move{Line: i + 1, Kind: s.Kind, From: at, To: to, Feed: s.Feed, RPM: 18000}
		out, at = append(out, m), to
	}
	return out
}

func TestSlotsPass(t *testing.T) {
	rows := map[string]func(*planner.SlotJob){
		"plain":         func(*planner.SlotJob) {},
		"mirrored":      func(j *planner.SlotJob) { j.Mirror = true },
		"wider":         func(j *planner.SlotJob) { j.Width = 8 },
		"two rings":     func(j *planner.SlotJob) { j.Width, j.Mirror = 13, true },
		"climb":         func(j *planner.SlotJob) { j.Width, j.Climb = 8, true },
		"four stations": func(j *planner.SlotJob) { j.Stations, j.Pitch = 4, 30 },
		"short, zigzag": func(j *planner.SlotJob) { j.End = j.Start + 13 },
		"one pass":      func(j *planner.SlotJob) { j.Depth, j.DepthPerPass = 3, 3 },
	}
	for name, change := range rows {
		t.Run(name, func(t *testing.T) {
			j := slotJob()
			change(&j)
			passes(t, backplot.Judge(task(j), moves(t, j)))
		})
	}
}

// Each coordinate of each cut turned by 0.1 mm is found. What is not found
// changes no wood: travel above it, and the way down to the surface.
func TestSlotCoordinateMutations(t *testing.T) {
	j := slotJob()
	clean := moves(t, j)
	for i := range clean {
		for axis := 0; axis < 3; axis++ {
			for _, d := range []float64{-0.1, 0.1} {
				ms := append([]toolpath.Move(nil), clean...)
				shift := func(p *geom.Point3) {
					switch axis {
					case 0:
						p.X += d
					case 1:
						p.Y += d
					case 2:
						p.Z += d
					}
				}
				// A modal word carries on until the next that names the axis.
				old := ms[i].To
				shift(&ms[i].To)
				for k := i + 1; k < len(ms); k++ {
					shift(&ms[k].From)
					same := [3]bool{ms[k].To.X == old.X, ms[k].To.Y == old.Y, ms[k].To.Z == old.Z}[axis]
					if !same {
						break
					}
					shift(&ms[k].To)
				}
				r := backplot.Judge(task(j), ms)
				if r.OK() && clean[i].To.Z < 0 {
					t.Errorf("not found: move %d %s axis %d by %+.1f", i, clean[i].Kind, axis, d)
				}
			}
		}
	}
}

// A height that a line gave before the place was known is laid at that line.
func TestHeightOfFirstLine(t *testing.T) {
	j := slotJob()
	r := backplot.New(task(j))
	r.Given(3, 2)
	r.Move(&toolpath.Move{Line: 7, Kind: toolpath.Rapid, From: geom.Point3{X: 25, Y: 9.5, Z: 9}, To: geom.Point3{X: 25, Y: 9.5, Z: 9}})
	if got := r.HeightLine(); got != 3 {
		t.Errorf("the height is said to be of line %d", got)
	}
	r.Given(8, 2) // too late: the place is known, and a move tells it
	res := r.Finish()
	if len(res.Findings) == 0 || res.Findings[0].Rule != "rapid-low" || res.Findings[0].Line != 3 {
		t.Errorf("%v, want rapid-low at line 3", res.Findings)
	}
}

// passes fails the test for each thing that a plan is found at fault for.
func passes(t *testing.T, r backplot.Result) {
	t.Helper()
	for _, f := range r.Findings {
		t.Error(f)
	}
	for _, c := range r.Checks {
		t.Logf("%+v", c)
		if !c.Pass {
			t.Errorf("failed: %+v", c)
		}
	}
}
