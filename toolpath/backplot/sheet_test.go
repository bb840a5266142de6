package backplot_test

import (
	"math"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/backplot"
	"starwright/toolpath/planner"
)

// plateJob is a plate of 80 by 50 mm with round holes, a rounded window and
// four tabs, in 12 mm plywood.
func plateJob() planner.SheetJob {
	plate := toolpath.Part{
		Name:    "plate",
		Outline: geom.Rect(geom.Box{Max: geom.Pt(80, 50)}),
		Holes: []geom.Contour{
			geom.Circle(geom.Pt(12, 12), 4),
			geom.Circle(geom.Pt(30, 14), 9),
			geom.RoundedRect(geom.Box{Min: geom.Pt(10, 32), Max: geom.Pt(50, 44)}, 3.175),
		},
	}
	return planner.SheetJob{
		Name: "jigs-1", Parts: []toolpath.Part{plate.Placed(geom.Place{Move: geom.Pt(40, 35)})},
		SheetW: 180, SheetH: 140, Thickness: 12, Breakthrough: 0.3,
		ScrewZones: []geom.Box{{Max: geom.Pt(25, 25)}}, CutLength: 22, Arcs: true,
		Tabs:    planner.Tabs{Count: 4, Width: 6, Height: 1.5},
		Cutting: planner.Cutting{CutterDiameter: 6.35, DepthPerPass: 3, Feed: 1200, PlungeFeed: 300, RampMax: geom.Deg(5), RPM: 18000, SafeZ: 10, Approach: 2},
	}
}

func sheetTask(j planner.SheetJob) backplot.Task {
	_, each := planner.Passes(j.Thickness+j.Breakthrough, j.DepthPerPass)
	s := &backplot.Sheet{Size: geom.Pt(j.SheetW, j.SheetH), Thickness: j.Thickness, Breakthrough: j.Breakthrough,
		Tabs: backplot.Tabs{Count: j.Tabs.Count, Width: j.Tabs.Width, Height: j.Tabs.Height}}
	for _, p := range j.Parts {
		s.Parts = append(s.Parts, backplot.Part{Name: p.Name, Outline: p.Outline, Holes: p.Holes, Seats: p.NoTab})
	}
	for _, z := range j.ScrewZones {
		s.Keepouts = append(s.Keepouts, geom.Rect(z))
	}
	return backplot.Task{File: j.Name, Cutter: j.CutterDiameter, Climb: j.Climb, Sheet: s, Limits: backplot.Limits{
		StepDown: each, Feed: j.Feed, PlungeFeed: j.PlungeFeed, RampMax: j.RampMax,
		RPMMin: 17000, RPMMax: 19000, SafeZ: j.SafeZ, Approach: j.Approach}}
}

// sheetMoves replays a sheet's plan without a file between.
func sheetMoves(t *testing.T, j planner.SheetJob) []toolpath.Move {
	t.Helper()
	p, _, err := planner.Sheet(j)
	if err != nil {
		t.Fatal(err)
	}
	at := geom.Point3{Z: j.SafeZ}
	var out []toolpath.Move
	for i, s := range p.Steps {
		if s.Do != toolpath.StepMove {
			continue
		}
		m := toolpath.Move{Line: i + 1, Kind: s.Kind, From: at, To: s.To, Center: s.Center, Feed: s.Feed, RPM: 18000}
		if m.IsArc() {
			a, b := at.XY().Sub(s.Center).Angle(), s.To.XY().Sub(s.Center).Angle()
			m.Sweep = (b - a).Normal()
			if at.XY().Dist(s.To.XY()) < 1e-6 {
				m.Sweep = 2 * math.Pi
			}
			if s.Kind == toolpath.ArcCW {
				if m.Sweep -= 2 * math.Pi; at.XY().Dist(s.To.XY()) < 1e-6 {
					m.Sweep = -2 * math.Pi
				}
			}
		}
		out, at = append(out, m), s.To
	}
	return out
}

func TestSheetsPass(t *testing.T) {
	rows := map[string]func(*planner.SheetJob){
		"plain":    func(*planner.SheetJob) {},
		"climb":    func(j *planner.SheetJob) { j.Climb = true },
		"lines":    func(j *planner.SheetJob) { j.Arcs = false },
		"one pass": func(j *planner.SheetJob) { j.Thickness, j.DepthPerPass, j.Tabs.Height = 3, 4, 1 },
		"no tabs":  func(j *planner.SheetJob) { j.Tabs.Count = 0 },
		"two parts": func(j *planner.SheetJob) {
			j.SheetW = 320
			j.Parts = append(j.Parts, j.Parts[0].Placed(geom.Place{Move: geom.Pt(110, 0)}))
		},
		"turned part": func(j *planner.SheetJob) {
			j.Parts[0] = j.Parts[0].Placed(geom.Place{Turn: geom.Deg(17), Move: geom.Pt(30, 10)})
			j.SheetW, j.SheetH = 250, 250
		},
	}
	for name, change := range rows {
		t.Run(name, func(t *testing.T) {
			j := plateJob()
			change(&j)
			passes(t, backplot.Judge(sheetTask(j), sheetMoves(t, j)))
		})
	}
}

// Faults of a sheet, each made in a plan that passes, are found by name.
func TestSheetFaults(t *testing.T) {
	j := plateJob()
	clean := sheetMoves(t, j)
	lowest := -j.Thickness - j.Breakthrough
	rows := []struct {
		name, rule string
		change     func(t *backplot.Task, ms []toolpath.Move)
	}{
		{"shifted into the part", "gouge", func(_ *backplot.Task, ms []toolpath.Move) { shiftAll(ms, geom.Pt(0.05, 0)) }},
		{"too deep by 0.05", "spoilboard", func(_ *backplot.Task, ms []toolpath.Move) { lower(ms, lowest, lowest-0.05) }},
		{"not deep enough by 0.05", "standing", func(_ *backplot.Task, ms []toolpath.Move) { lower(ms, lowest, lowest+0.05) }},
		{"tabs cut away", "tab-weak", func(_ *backplot.Task, ms []toolpath.Move) {
			lower(ms, -j.Thickness+j.Tabs.Height+0.01, -j.Thickness+j.Tabs.Height-0.05)
		}},
		{"tabs too high", "standing", func(_ *backplot.Task, ms []toolpath.Move) {
			lower(ms, -j.Thickness+j.Tabs.Height+0.01, -j.Thickness+j.Tabs.Height+1)
		}},
		{"more tabs asked for", "tab-count", func(t *backplot.Task, _ []toolpath.Move) { t.Sheet.Tabs.Count = 5 }},
		{"wider tabs asked for", "tab-weak", func(t *backplot.Task, _ []toolpath.Move) { t.Sheet.Tabs.Width = 6.1 }},
		{"narrower tabs asked for", "standing", func(t *backplot.Task, _ []toolpath.Move) { t.Sheet.Tabs.Width = 5 }},
		{"a screw in the way", "screw-zone", func(t *backplot.Task, _ []toolpath.Move) {
			t.Sheet.Keepouts = append(t.Sheet.Keepouts, geom.Circle(geom.Pt(60, 30), 4))
		}},
		{"another part in the way", "gouge", func(t *backplot.Task, _ []toolpath.Move) {
			t.Sheet.Parts = append(t.Sheet.Parts, backplot.Part{Name: "strip", Outline: geom.Rect(geom.Box{Min: geom.Pt(60, 20), Max: geom.Pt(90, 30)})})
		}},
		{"smaller sheet", "off-sheet", func(t *backplot.Task, _ []toolpath.Move) { t.Sheet.Size = geom.Pt(119, 140) }},
		{"tabs on a seat", "tab-on-seat", func(t *backplot.Task, _ []toolpath.Move) {
			t.Sheet.Parts[0].Seats = t.Sheet.Parts[0].Outline.Curves()
		}},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			ms := append([]toolpath.Move(nil), clean...)
			task := sheetTask(j)
			row.change(&task, ms)
			r := backplot.Judge(task, ms)
			var got []string
			for _, f := range r.Findings {
				got = append(got, f.Rule)
			}
			if !strings.Contains(strings.Join(got, " "), row.rule) {
				t.Errorf("found %v, want %s among them", got, row.rule)
			}
			if r.OK() {
				t.Error("passes")
			}
		})
	}
}

func shiftAll(ms []toolpath.Move, d geom.Point) {
	for i := range ms {
		m := &ms[i]
		m.From.X, m.From.Y = m.From.X+d.X, m.From.Y+d.Y
		m.To.X, m.To.Y = m.To.X+d.X, m.To.Y+d.Y
		m.Center = m.Center.Add(d)
	}
}

// lower moves every height that is z to another.
func lower(ms []toolpath.Move, z, to float64) {
	for i := range ms {
		for _, p := range []*geom.Point3{&ms[i].From, &ms[i].To} {
			if math.Abs(p.Z-z) < 1e-6 {
				p.Z = to
			}
		}
	}
}
