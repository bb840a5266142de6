package page

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/rs274/ncread"
	"starwright/post/rs274/ncwrite"
	"starwright/toolpath"
	"starwright/toolpath/finding"
	"starwright/toolpath/planner"
)

var sampleDir = flag.String("sample", "", "write pages to look at, backplot.html and hostile.html, into this folder")

// TestSamplePage makes the pages that the browser tests look at beside the one
// of a real packet. They have what an honest packet has not: a gouge, a program
// of 100,000 blocks, words that would be code, and programs with nothing in
// them.
func TestSamplePage(t *testing.T) {
	if *sampleDir == "" {
		t.Skip("no -sample folder was given")
	}
	var b bytes.Buffer
	if err := os.MkdirAll(*sampleDir, 0o755); err != nil {
		t.Fatal(err)
	}
	for name, d := range map[string]Data{"backplot.html": sampleData(t), "hostile.html": hostileData()} {
		b.Reset()
		if err := Build(&b, d); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(*sampleDir, name), b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// sampleBlocks is how many moves the long program has at least.
const sampleBlocks = 100_000

func sampleData(t *testing.T) Data {
	slot := slotSample(t, "slot-left", 6.35, geom.Millimetre, false)
	wide := slotSample(t, "slot-right", 9, geom.Millimetre, true)
	inch := slotSample(t, "slot-inch", 6.35, geom.Inch, false)
	gouged := slotSample(t, "slot-gouged", 6.35, geom.Millimetre, false)
	gouge(t, &gouged)
	sheet := sheetSample(t)
	return Data{
		Title:    "Six stars for the south gable",
		Programs: []Program{slot, wide, sheet, inch, gouged, longSample(t)},
		Drawings: []Drawing{segmentDrawing(1), segmentDrawing(geom.MMPerInch), faultyDrawing()},
	}
}

// read takes a plan through the writer and the reader, as a packet does.
func read(t *testing.T, plan toolpath.Program, unit geom.Unit) (lines []string, moves []toolpath.Move, stops []int) {
	t.Helper()
	text, err := ncwrite.Bytes(plan, unit.MM())
	if err != nil {
		t.Fatal(err)
	}
	return reread(t, string(text))
}

func reread(t *testing.T, text string) (lines []string, moves []toolpath.Move, stops []int) {
	t.Helper()
	rep, err := ncread.Read(strings.NewReader(text), "sample.nc", ncread.Events{
		Move: func(m *toolpath.Move) error {
			moves = append(moves, *m)
			return nil
		},
	})
	if err != nil {
		t.Fatal(err)
	}
	return strings.Split(strings.TrimSuffix(text, "\n"), "\n"), moves, rep.Stops
}

// slotSample is a slot in the facet of a segment of 114 mm board, 19 mm thick.
func slotSample(t *testing.T, name string, width float64, unit geom.Unit, mirror bool) Program {
	t.Helper()
	const facet, thick, from, start, end, depth = 96.98, 19.0, 9.5, 22.0, 84.9, 10.0
	plan, err := planner.Slot(planner.SlotJob{
		Name: name, Header: []string{"Cuts: one spline slot", "Zero: X0 the star's centre end, Y0 the show face"},
		Start: start, End: end, FromFace: from, Width: width, Depth: depth, Mirror: mirror,
		Stations: 1, Pitch: 30, Loads: 2, LoadNote: "wait for the spindle, then change the segment",
		Cutting: planner.Cutting{CutterDiameter: 6.35, DepthPerPass: 3, Feed: 1200, PlungeFeed: 300, RampMax: 5 * geom.Degree, RPM: 18000, SpinUpS: 2, SafeZ: 10, Approach: 2},
	})
	if err != nil {
		t.Fatal(err)
	}
	p := Program{Name: name, File: "gcode/" + name + ".nc", Use: "Spline slot in one facet of each segment", Unit: unit,
		Rapid: 3000, Cutter: 6.35, SafeZ: 10, Surface: "the facet itself"}
	p.Lines, p.Moves, p.Stops = read(t, plan, unit)
	sign := 1.0
	if mirror {
		sign = -1
	}
	wood := geom.EmptyBox().With(geom.Pt(0, 0)).With(geom.Pt(sign*facet, thick))
	slot := geom.EmptyBox().With(geom.Pt(sign*start, from-width/2)).With(geom.Pt(sign*end, from+width/2))
	p.Shapes = []Shape{
		{Role: Facet, Contour: geom.Rect(wood)},
		{Role: SlotOutline, Contour: geom.RoundedRect(slot, 6.35/2), Depth: depth},
	}
	p.Marks = []Mark{
		{geom.Pt(0, thick/2), "star's centre"}, {geom.Pt(sign*facet, thick/2), "valley"},
		{geom.Pt(sign*facet/2, 0), "show face"}, {geom.Pt(sign*facet/2, thick), "back"},
	}
	return p
}

// gouge moves the end of one cut 2 mm towards the show face, as a slip in an
// editor would, and says so as the check does.
func gouge(t *testing.T, p *Program) {
	t.Helper()
	for i, l := range p.Lines {
		if !strings.HasPrefix(l, "G1 X") || strings.Contains(l, "Z") {
			continue
		}
		p.Lines[i] = l + " Y7.500"
		break
	}
	p.Lines, p.Moves, p.Stops = reread(t, strings.Join(p.Lines, "\n")+"\n")
	for _, m := range p.Moves {
		if math.Abs(m.To.Y-7.5) < 1e-9 && m.From.Y > 9 {
			p.Findings = append(p.Findings, finding.Finding{File: p.File, Line: m.Line, Block: p.Lines[m.Line-1], Rule: "gouge",
				What: "cuts 2 mm beyond the slot towards the show face; 0.01 mm is allowed", ByMM: 2,
				At: &geom.Point3{X: m.To.X, Y: m.To.Y - 3.175, Z: m.To.Z}, InWood: "the slot's wall towards the show face"})
		}
	}
	if len(p.Findings) != 1 {
		t.Fatalf("%d gouges were made, want 1", len(p.Findings))
	}
	p.Findings = append(p.Findings, finding.Finding{File: p.File, Rule: "no-end", What: "nothing at a place: a finding of the file as a whole"})
}

// sheetSample cuts four blocks with tabs and holes from a sheet.
func sheetSample(t *testing.T) Program {
	t.Helper()
	const thick, r, through = 12.0, 3.175, 12.3
	p := Program{Name: "jigs-1", File: "gcode/jigs-1.nc", Use: "Angle blocks for the saw's fence, cut from sheet",
		Rapid: 3000, Cutter: 2 * r, SafeZ: 10, Stock: thick, Surface: "the top of the sheet"}
	plan := toolpath.Program{Name: p.Name, Header: []string{"Cuts: four angle blocks"}, RPM: 18000, SpinUpS: 2, SafeZ: 10}
	p.Shapes = append(p.Shapes, Shape{Role: Sheet, Contour: geom.Rect(geom.Box{Max: geom.Pt(300, 300)})})
	for _, c := range []geom.Point{{X: 8, Y: 8}, {X: 292, Y: 8}, {X: 8, Y: 292}, {X: 292, Y: 292}} {
		p.Shapes = append(p.Shapes, Shape{Role: ScrewZone, Contour: geom.Circle(c, 7)})
	}
	for i, at := range []geom.Point{{X: 25, Y: 25}, {X: 160, Y: 25}, {X: 25, Y: 160}, {X: 160, Y: 160}} {
		angle := geom.Angle(18*(i%3+1)) * geom.Degree
		tall := math.Min(110*angle.Tan(), 110)
		part := geom.Polygon(at, at.Add(geom.Pt(112, 0)), at.Add(geom.Pt(112, tall+8)), at.Add(geom.Pt(104, tall+8)), at.Add(geom.Pt(0, 12)))
		hole := at.Add(geom.Pt(88, 18))
		p.Shapes = append(p.Shapes,
			Shape{Role: Part, Name: fmt.Sprintf("block %d°", 18*(i%3+1)), Contour: part, Depth: through},
			Shape{Role: Hole, Contour: geom.Circle(hole, 6), Depth: through})
		plan.Steps = append(plan.Steps, toolpath.Remark(fmt.Sprintf("part %d of 4", i+1)))
		plan.Steps = append(plan.Steps, holeSteps(hole, 6-r, through)...)
		steps, tabs := profileSteps(part, r, through, thick)
		plan.Steps = append(plan.Steps, steps...)
		p.Shapes = append(p.Shapes, tabs...)
	}
	p.Lines, p.Moves, p.Stops = read(t, plan, geom.Millimetre)
	return p
}

// holeSteps sinks on a circle of radius r, in passes.
func holeSteps(o geom.Point, r, depth float64) []toolpath.Step {
	at := func(z float64) geom.Point3 { return geom.Point3{X: o.X + r, Y: o.Y, Z: z} }
	steps := []toolpath.Step{toolpath.RapidTo(at(10)), toolpath.RapidTo(at(2)), toolpath.FeedTo(at(0), 300)}
	for i := 1; i <= 5; i++ {
		steps = append(steps, toolpath.ArcTo(toolpath.ArcCW, at(-depth*float64(i)/5), o, 800))
	}
	return append(steps, toolpath.ArcTo(toolpath.ArcCW, at(-depth), o, 800), toolpath.FeedTo(at(2), 1200), toolpath.RapidTo(at(10)))
}

// profileSteps goes round a convex part in passes, lifting over a tab in the
// middle of its two longest sides.
func profileSteps(part geom.Contour, r, depth, thick float64) (steps []toolpath.Step, tabs []Shape) {
	const tabTop, half = 3.0, 6.175
	n := len(part)
	type side struct{ a, b, dir, out geom.Point }
	sides := make([]side, n)
	for i, v := range part {
		w := part[(i+1)%n].Point
		dir := w.Sub(v.Point).Unit()
		out := dir.Left().Mul(-r)
		sides[i] = side{v.Add(out), w.Add(out), dir, out}
		if v.Dist(w) > 80 {
			m, a := v.Lerp(w, 0.5), dir.Mul(half-r)
			tabs = append(tabs, Shape{Role: Tab, Contour: geom.Polygon(m.Sub(a), m.Sub(a).Add(out.Mul(2)), m.Add(a).Add(out.Mul(2)), m.Add(a))})
		}
	}
	at := func(p geom.Point, z float64) geom.Point3 { return geom.Point3{X: p.X, Y: p.Y, Z: z} }
	steps = append(steps, toolpath.RapidTo(at(sides[0].a, 10)), toolpath.RapidTo(at(sides[0].a, 2)), toolpath.FeedTo(at(sides[0].a, 0), 300))
	for pass := 1; pass <= 5; pass++ {
		z := -depth * float64(pass) / 5
		for i, s := range sides {
			if s.a.Dist(s.b) > 80 && z < -(thick-tabTop) {
				m := s.a.Lerp(s.b, 0.5)
				from, to := m.Sub(s.dir.Mul(half)), m.Add(s.dir.Mul(half))
				steps = append(steps, toolpath.FeedTo(at(from, z), 1200), toolpath.FeedTo(at(from, tabTop-thick), 300),
					toolpath.FeedTo(at(to, tabTop-thick), 1200), toolpath.FeedTo(at(to, z), 300))
			}
			steps = append(steps, toolpath.FeedTo(at(s.b, z), 900))
			next := sides[(i+1)%n]
			steps = append(steps, toolpath.ArcTo(toolpath.ArcCCW, at(next.a, z), part[(i+1)%n].Point, 900))
		}
	}
	return append(steps, toolpath.FeedTo(at(sides[0].a, 2), 1200), toolpath.RapidTo(at(sides[0].a, 10))), tabs
}

// longSample is a program of more than 100,000 short straight moves: a
// rosette cut in four passes.
func longSample(t *testing.T) Program {
	t.Helper()
	p := Program{Name: "long", File: "gcode/long.nc", Use: "A rosette of 100,000 blocks, to try the page", Rapid: 3000,
		Cutter: 3.175, SafeZ: 10, Stock: 12, Surface: "the top of the sheet",
		Shapes: []Shape{{Role: Sheet, Contour: geom.Rect(geom.Box{Max: geom.Pt(300, 300)})}}}
	plan := toolpath.Program{Name: p.Name, RPM: 18000, SpinUpS: 2, SafeZ: 10}
	const passes = 4
	for pass := 0; pass < passes; pass++ {
		for i := 0; i <= sampleBlocks/passes; i++ {
			a := 2 * math.Pi * float64(i) / (sampleBlocks / passes)
			rad := 85 + 42*math.Cos(61*a) + 10*math.Cos(5*a)
			q := geom.Point3{X: 150 + rad*math.Cos(a*8), Y: 150 + rad*math.Sin(a*8), Z: 10}
			if i == 0 {
				plan.Steps = append(plan.Steps, toolpath.RapidTo(q))
			}
			q.Z = -2*float64(pass) - 2*math.Min(1, float64(i)/400)
			plan.Steps = append(plan.Steps, toolpath.FeedTo(q, 3000))
			if i == sampleBlocks/passes {
				q.Z = 10
				plan.Steps = append(plan.Steps, toolpath.RapidTo(q))
			}
		}
	}
	p.Lines, p.Moves, p.Stops = read(t, plan, geom.Millimetre)
	if len(p.Moves) < sampleBlocks {
		t.Fatalf("the long program has %d moves, want %d", len(p.Moves), sampleBlocks)
	}
	return p
}

// segmentDrawing is a segment with two holes and a check bar.
func segmentDrawing(unitMM float64) Drawing {
	d := Drawing{Name: "segment", File: "dxf/segment.dxf", Use: "One segment, seen from the front", UnitMM: unitMM}
	if unitMM != 1 {
		d.Name, d.File = "segment-inch", "dxf/segment-inch.dxf"
	}
	bar := 100 / 25.4 * math.Max(unitMM, 1)
	if unitMM == 1 {
		bar = 100
	}
	d.Contours = []LayerContour{
		{cut.Outline, geom.Polygon(geom.Pt(0, 0), geom.Pt(78.45, -57), geom.Pt(253.9, 0), geom.Pt(78.45, 57))},
		{cut.Hole, geom.Circle(geom.Pt(60, 0), 4)}, {cut.Hole, geom.Circle(geom.Pt(110, 0), 4)},
	}
	d.Lines = []LayerLine{
		{cut.Guide, geom.Pt(0, 0), geom.Pt(253.9, 0)},
		{cut.Guide, geom.Pt(0, -67), geom.Pt(bar, -67)}, {cut.Guide, geom.Pt(0, -69), geom.Pt(0, -65)}, {cut.Guide, geom.Pt(bar, -69), geom.Pt(bar, -65)},
	}
	d.Texts = []LayerText{{Layer: cut.Text, At: geom.Pt(80, 8), Height: 5, Text: "segment, 30 off"}, {Layer: cut.Guide, At: geom.Pt(1, -66), Height: 2.5, Text: "100 mm"}}
	d.Bar = &Bar{A: geom.Pt(0, -67), B: geom.Pt(bar, -67), Stated: bar}
	return d
}

// faultyDrawing has a check bar that does not measure what it says.
func faultyDrawing() Drawing {
	d := segmentDrawing(1)
	d.Name, d.File = "segment-shrunk", "dxf/segment-shrunk.dxf"
	d.Bar.B.X, d.Lines[1].B.X = 99.2, 99.2
	d.Findings = []finding.Finding{{File: d.File, Line: 412, Rule: "check-bar", What: "the check bar measures 99.2 mm and says 100 mm",
		ByMM: 0.8, At: &geom.Point3{X: 99.2, Y: -67}}}
	return d
}

// hostileWords close elements, open comments, and hold letters that end lines
// or turn the direction of writing.
const hostileWords = "</script><script>window.broken=1</script><!-- <img src=x onerror=window.broken=1> {{data}} \u2028\u202e\x00 & \"'`${1}"

// hostileData has such words wherever there are words, and programs and
// drawings with nothing in them, or with as little as can be.
func hostileData() Data {
	one := []toolpath.Move{{Line: 1, Kind: toolpath.Rapid, From: geom.Point3{Z: 5}, To: geom.Point3{Z: 5}}}
	at := &geom.Point3{X: 1, Y: 1, Z: -1}
	bad := []finding.Finding{{File: hostileWords, Line: 1, Block: hostileWords, Rule: "x", What: hostileWords, At: at, InWood: hostileWords},
		{What: hostileWords}}
	return Data{
		Title: hostileWords,
		Programs: []Program{
			{Name: hostileWords, File: hostileWords, Use: hostileWords, Surface: hostileWords, Lines: []string{hostileWords, "(" + hostileWords + ")"},
				Moves: one, Findings: bad, Stops: []int{2}, Marks: []Mark{{geom.Pt(0, 0), hostileWords}},
				Shapes: []Shape{{Role: "unknown", Name: hostileWords, Contour: geom.Circle(geom.Pt(0, 0), 1)}, {Role: Part}}},
			{Name: "nothing"},
			{Name: "no moves", Lines: []string{"(a comment)"}, Cutter: 6},
			{Name: "far", Lines: []string{"G1"}, Cutter: 1e-3, Moves: []toolpath.Move{{Line: 1, Kind: toolpath.Linear, Feed: 1e6,
				From: geom.Point3{X: -9e5, Z: -9e5}, To: geom.Point3{X: 9e5, Y: 9e5, Z: 9e5}}}},
		},
		Drawings: []Drawing{
			{Name: hostileWords, File: hostileWords, Use: hostileWords, Findings: bad,
				Texts: []LayerText{{Layer: hostileWords, Text: hostileWords}}, Contours: []LayerContour{{hostileWords, geom.Circle(geom.Pt(0, 0), 1)}}},
			{Name: "nothing drawn"},
		},
	}
}
