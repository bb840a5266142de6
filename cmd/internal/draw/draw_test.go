package draw

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image/png"
	"io"
	"math"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/geom/star"
	"starwright/post/picture"
	"starwright/toolpath"
)

// job is one batch that pictures are drawn of.
type job struct {
	name  string
	unit  geom.Unit
	batch *star.Batch
}

// jobs are stars of all numbers of points, from toys to stars as large as a
// house front, in both units, with slender and blunt tips.
func jobs(t testing.TB) []job {
	t.Helper()
	var out []job
	add := func(n int, width, tip float64, u geom.Unit) {
		spec := star.Spec{Unit: u, Points: n, BoardWidth: width, Thickness: math.Max(3, width/5), Count: 3,
			EndTrim: 8, RoundTo: 1, Kerf: 2.4, SplineFit: 0.1, GlueGap: 1, OffcutStar: true}
		if u == geom.Inch {
			spec.EndTrim, spec.RoundTo, spec.Kerf = 12.7, 3.175, 3.175
		}
		if tip != 0 {
			a := geom.Deg(tip)
			spec.Tip = &a
		}
		b, ps := star.New(spec)
		if len(ps) > 0 { // too small for an off-cut star
			spec.OffcutStar = false
			b, ps = star.New(spec)
		}
		if len(ps) > 0 {
			t.Fatalf("%d points of %g mm, tip %g: %v", n, width, tip, ps)
		}
		out = append(out, job{fmt.Sprintf("%d points of %g mm, tip %g, %s", n, width, tip, u), u, b})
	}
	for n := star.MinPoints; n <= star.MaxPoints; n++ {
		tip := 0.0
		if n == star.MinPoints {
			tip = 45
		}
		for _, w := range []float64{12, 96, 2500} {
			add(n, w, tip, geom.Millimetre)
		}
		add(n, 88.9, tip, geom.Inch)
		add(n, 120, 5, geom.Millimetre)
		add(n, 120, star.MaxTip(n).Degrees()-1, geom.Millimetre)
	}
	return out
}

// sheets returns all pictures of a batch.
func sheets(j job) map[string]*picture.Sheet {
	b := j.batch
	out := map[string]*picture.Sheet{
		"star":    Star(b.Main, j.unit, "A star"),
		"segment": Segment(b, j.unit, "Its segment", "Cut the facets first."),
	}
	if b.Offcut != nil {
		out["off-cut star"] = Star(*b.Offcut, j.unit, "The off-cut star")
		out["off-cut segment"] = OffcutSegment(b, j.unit, "Its segment")
	}
	for _, mirror := range []bool{false, true} {
		if p, ok := slotProgram(b, mirror, 1); ok {
			out[fmt.Sprintf("slot, mirrored %t", mirror)] = Slots(p, j.unit)
		}
	}
	return out
}

// slotProgram plans a slot and hands it back as if it had been read.
func slotProgram(b *star.Batch, mirror bool, stations int) (SlotProgram, bool) {
	s := b.Main.Slot
	if s == nil {
		return SlotProgram{}, false
	}
	plan, err := toolpath.PlanSlot(toolpath.SlotJob{Start: s.Start, End: s.End, FromFace: s.FromFace, Width: s.Width, Depth: s.Depth,
		Mirror: mirror, Stations: stations, Pitch: 2 * b.Thickness, Loads: 1, CutterDiameter: b.Cutter, DepthPerPass: 2.5, Feed: 1200, PlungeFeed: 300,
		RampMax: 5 * geom.Degree, RPM: 18000, SafeZ: 10, Approach: 2})
	if err != nil {
		return SlotProgram{}, false
	}
	return SlotProgram{Title: "Slot in the facet", File: "gcode/slot-left.nc", Verdict: "Nothing was found wrong.", Unit: b.Main,
		Thickness: b.Thickness, Mirror: mirror, Stations: stations, Pitch: 2 * b.Thickness, Cutter: b.Cutter, Moves: read(plan)}, true
}

// read turns a plan's steps into moves.
func read(p toolpath.Program) []toolpath.Move {
	var out []toolpath.Move
	for i, s := range p.Steps {
		if s.Do != toolpath.StepMove {
			continue
		}
		m := toolpath.Move{Line: i + 1, Kind: s.Kind, From: s.To, To: s.To, Center: s.Center, Feed: s.Feed, RPM: p.RPM}
		if len(out) > 0 {
			m.From = out[len(out)-1].To
		}
		out = append(out, m)
	}
	return out
}

func TestNothingOverlapsOrRunsOffThePage(t *testing.T) {
	for _, j := range jobs(t) {
		for name, s := range sheets(j) {
			for _, f := range s.Faults() {
				t.Errorf("%s, %s: %s", j.name, name, f)
			}
			if w, h := s.Size(); w != picture.PictureWidth || h < 60 || h > 330 {
				t.Errorf("%s, %s: the picture is %g by %g mm", j.name, name, w, h)
			}
		}
	}
}

var _ = []any{bytes.NewReader, xml.NewDecoder, png.Decode, io.EOF, strings.Contains}
