package packet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/words"
	"starwright/post/cut"
	"starwright/toolpath/planner"
)

// sheetHeader is what a sheet's program says of itself.
func sheetHeader(w *Work, job planner.SheetJob, r planner.SheetReport, p Program, stock sheetStock) []string {
	exact := w.exact
	side, of := "conventional", "Sheet"
	if job.Climb {
		side = "climb"
	}
	if stock.board != nil {
		of = "Board"
	}
	lines := []string{
		"Job: " + w.Title(),
		"Cuts: " + words.Count(len(job.Parts), "part", "parts") + ", " + stock.what,
		fmt.Sprintf("%s: %s by %s, %s thick, on a spoilboard", of, exact(job.SheetW), exact(job.SheetH), exact(job.Thickness)),
		fmt.Sprintf("Cutter: straight, %s, %.0f rev/min", exact(job.CutterDiameter), job.RPM),
		fmt.Sprintf("Zero: X0 Y0 the %s's lower left corner, Z0 its top", strings.ToLower(of)),
	}
	if stock.board != nil {
		lines = append(lines, "Grain: along X, the way the segments point",
			"Joint faces: no tab stands on a facet, leave those as they are cut")
	}
	lines = append(lines, w.holdLines(job, p.UnitMM)...)
	return append(lines,
		fmt.Sprintf("Depth: %s in %s of %s, %s of it into the spoilboard", exact(job.Thickness+job.Breakthrough), words.Count(r.Passes, "pass", "passes"), exact(r.PassDepth), exact(job.Breakthrough)),
		"Order: holes, cut-outs, outlines; side of cut "+side,
		fmt.Sprintf("Tabs: %d a part where there is room, %s wide, %s high; saw them through afterwards", job.Tabs.Count, exact(job.Tabs.Width), exact(job.Tabs.Height)),
		inside(job, r),
		w.parkLine(job.Park, p.UnitMM, "at the end"),
		w.controllerLine(),
		runLine(p),
		airCut,
	)
}

// inside says what becomes of what is cut out of the parts.
func inside(job planner.SheetJob, r planner.SheetReport) string {
	n := slugsInTabs(r.Tabs)
	switch {
	case n > 0:
		return fmt.Sprintf("Inside: holes are cleared, %d large cut-outs keep a piece that hangs in tabs", n)
	case slices.ContainsFunc(r.Cuts, func(c planner.Cut) bool { return c.Loose }):
		return "Inside: what large cut-outs free has no tabs either, so hold it too"
	}
	return "Inside: holes and cut-outs are cleared, no piece of them comes loose"
}

// slugsInTabs is how many cut-outs keep a slug that hangs in tabs.
func slugsInTabs(tabs []planner.Tab) int {
	type slug struct {
		part   string
		cutOut int
	}
	seen := map[slug]bool{}
	for _, t := range tabs {
		if t.CutOut > 0 {
			seen[slug{t.Part, t.CutOut}] = true
		}
	}
	return len(seen)
}

// airCut is the last statement of every head.
const airCut = "Air cut: first, with Z0 set high. The machine's manual comes first"

// exact prints a length without losing what the job has: to a thousandth of a
// millimetre, inches as a fraction where they lie on a 1/32, else to four
// decimals.
func (w *Work) exact(mm float64) string {
	u := w.Job.Units
	const onStep = 1e-4 // mm
	if u == geom.Inch && math.Abs(u.FractionError(mm)) < onStep {
		return u.Format(mm)
	}
	return formatNumber(mm/u.MM(), u.MM()) + " " + u.String()
}

// sheetDrawing draws a nested sheet: holes first, then outlines; sheet and
// screw zones on GUIDE, names on TEXT.
func sheetDrawing(job planner.SheetJob) cut.Drawing {
	var d cut.Drawing
	for _, p := range job.Parts {
		for _, h := range p.Holes {
			d.Contours = append(d.Contours, cut.Contour{Layer: cut.Hole, Contour: h})
		}
	}
	for _, p := range job.Parts {
		d.Contours = append(d.Contours, cut.Contour{Layer: cut.Outline, Contour: p.Outline})
	}
	d.Contours = append(d.Contours, cut.Contour{Layer: cut.Guide, Contour: geom.Rect(geom.Box{Max: geom.Pt(job.SheetW, job.SheetH)})})
	for _, z := range job.ScrewZones {
		d.Contours = append(d.Contours, cut.Contour{Layer: cut.Guide, Contour: geom.Rect(z)})
	}
	return d
}

// jigDrawings adds a drawing for each jig of the kit; for a laser, where the
// job gives its kerf, without the reliefs a cutter needs and with the kerf
// made up for.
func (w *Work) jigDrawings(kit []jig.Jig) {
	for _, j := range kit {
		d := w.drawing("dxf/"+j.File+".dxf", max(1, j.Quantity), j.Use, j.Title, jigDrawing(j))
		d.jig = true
		d.screwed, d.screws = j.Screwed, j.Screws()
		w.Drawings = append(w.Drawings, d)
	}
}

func jigDrawing(j jig.Jig) cut.Drawing {
	var d cut.Drawing
	for _, h := range j.Holes {
		d.Contours = append(d.Contours, cut.Contour{Layer: cut.Hole, Contour: h.Contour})
	}
	d.Contours = append(d.Contours, cut.Contour{Layer: cut.Outline, Contour: j.Outline})
	for _, m := range j.Marks {
		d.Contours = append(d.Contours, cut.Contour{Layer: cut.Guide, Contour: m})
	}
	for _, t := range j.Text {
		d.Texts = append(d.Texts, cut.Label{Layer: cut.Text, At: t.At, HeightMM: t.Height, Turn: t.Turn, Text: t.Text})
	}
	return d
}
