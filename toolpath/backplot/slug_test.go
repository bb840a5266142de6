package backplot_test

import (
	"slices"
	"testing"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/backplot"
	"starwright/toolpath/planner"
)

// windowJob is a plate with a window that is cleared, a round one, and one whose
// slug hangs in tabs.
func windowJob() planner.SheetJob {
	j := plateJob()
	plate := toolpath.Part{Name: "plate", Outline: geom.Rect(geom.Box{Max: geom.Pt(150, 100)}), Holes: []geom.Contour{
		geom.RoundedRect(geom.Box{Min: geom.Pt(10, 10), Max: geom.Pt(40, 34)}, 3.175),
		geom.Circle(geom.Pt(25, 70), 15),
		geom.RoundedRect(geom.Box{Min: geom.Pt(60, 15), Max: geom.Pt(140, 85)}, 3.175),
	}}
	j.SheetW, j.SheetH = 240, 180
	j.Parts = []toolpath.Part{plate.Placed(geom.Place{Move: geom.Pt(40, 35)})}
	return j
}

// slugTask is the task of the window job, with the slugs as they are held.
func slugTask(j planner.SheetJob, tabs int) backplot.Task {
	t := sheetTask(j)
	t.Sheet.Parts[0].Slugs = []backplot.Slug{{}, {}, {Tabs: tabs}}
	return t
}

// A slug that is not cleared hangs in tabs, and one that does not is found: a
// loose piece is caught by the cutter and thrown. Common practice, no source.
func TestSlugs(t *testing.T) {
	for _, climb := range []bool{false, true} {
		for _, arcs := range []bool{true, false} {
			j := windowJob()
			j.Climb, j.Arcs = climb, arcs
			if res := backplot.Judge(slugTask(j, 4), sheetMoves(t, j)); !res.OK() {
				t.Errorf("climb %v, arcs %v: %v", climb, arcs, res.Findings)
			}
		}
	}
	j := windowJob()
	moves := sheetMoves(t, j)
	if got := rules(backplot.Judge(slugTask(j, 0), moves)); !slices.Contains(got, "standing") {
		t.Errorf("tabs in a cut-out that should be cleared: %v", got)
	}
	if got := rules(backplot.Judge(slugTask(j, 3), moves)); !slices.Contains(got, "tab-count") {
		t.Errorf("four tabs, three asked for: %v", got)
	}
	// The lifts at the slug's tabs are left out.
	window := geom.Box{Min: geom.Pt(100, 50), Max: geom.Pt(180, 120)}
	for i := range moves {
		m := &moves[i]
		for _, z := range []*float64{&m.From.Z, &m.To.Z} {
			if at := m.To.XY(); window.Holds(geom.Box{Min: at, Max: at}) && m.Kind != toolpath.Rapid && *z > -12+1.4 && *z < -12+1.6 {
				*z = -12.3
			}
		}
	}
	if got := rules(backplot.Judge(slugTask(j, 4), moves)); !slices.Contains(got, "loose") || !slices.Contains(got, "tab-count") {
		t.Errorf("the slug's tabs are cut: %v", got)
	}
}

// A part without tabs is no waste, wherever its edge lies to the rows in which the
// sheet is looked at: a row along that edge is no place in the part for certain.
func TestPartsWithoutTabs(t *testing.T) {
	plate := func(edge float64) planner.SheetJob {
		j := windowJob()
		j.Tabs.Count = 0
		j.Parts = []toolpath.Part{{Name: "plate", Outline: geom.Rect(geom.Box{Min: geom.Pt(40, edge), Max: geom.Pt(190, edge+20)})}}
		return j
	}
	const row = 35.5 // rows are 1 mm apart here, the first at 0.5
	for k := -5; k <= 5; k++ {
		off := float64(k) * 1e-5
		moves := sheetMoves(t, plate(row-off)) // as a program's digits round them
		if res := backplot.Judge(sheetTask(plate(row+off)), moves); !res.OK() {
			t.Errorf("edge at %.5f, cut at %.5f: %v", row+off, row-off, res.Findings)
		}
	}
}

// A strip of waste that tapers between two parts hangs by its broad end: it is not
// milled in two, which would free its point.
func TestSliverBetweenParts(t *testing.T) {
	tried := 0
	for tilt := 20; tilt <= 70; tilt += 10 {
		for _, taper := range []float64{3, 5, 8} {
			for _, apart := range []float64{6.5, 7, 8} {
				j := plateJob()
				j.SheetW, j.SheetH, j.ScrewZones = 420, 420, nil
				tip := geom.Place{Turn: geom.Deg(float64(tilt)), Move: geom.Pt(210, 210)}
				// Below the strip's lower edge lies one part; the other's edge rises from
				// near it towards the left.
				low := geom.Rect(geom.Box{Min: geom.Pt(-150, -60), Max: geom.Pt(90, 0)})
				rise := geom.Deg(taper).Tan()
				high := geom.Polygon(geom.Pt(0, apart), geom.Pt(60, apart+60), geom.Pt(-100, apart+60), geom.Pt(-100, apart+100*rise))
				j.Parts = []toolpath.Part{toolpath.Part{Name: "low", Outline: low}.Placed(tip), toolpath.Part{Name: "high", Outline: high}.Placed(tip)}
				if _, _, err := planner.Sheet(j); err != nil {
					continue // refused with a reason
				}
				tried++
				if res := backplot.Judge(sheetTask(j), sheetMoves(t, j)); !res.OK() {
					t.Errorf("edges at %d degrees, %.0f between them, %.1f mm apart: %v", tilt, taper, apart, res.Findings)
				}
			}
		}
	}
	t.Logf("%d strips", tried)
	if tried < 20 {
		t.Errorf("only %d strips were planned", tried)
	}
}
