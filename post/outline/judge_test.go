package outline_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/cut/cuttest"
	"starwright/post/outline"
	"starwright/toolpath/finding"
)

func TestSoundDrawingHasNoFindings(t *testing.T) {
	for _, unit := range []float64{1, geom.MMPerInch} {
		f := fileOf(cuttest.Plate(unit))
		if fs := outline.Judge(f); len(fs) > 0 {
			t.Errorf("unit %v: %s", unit, cuttest.All(fs))
		}
		bar := outline.FindBar(f)
		if bar == nil || math.Abs(bar.StatedMM/bar.Units-unit) > 1e-9 {
			t.Errorf("unit %v: check bar %+v", unit, bar)
		}
	}
}

// points makes a contour of "X Y; X Y; ...".
func points(s string) geom.Contour {
	var c geom.Contour
	for v := range strings.SplitSeq(s, ";") {
		var p geom.Point
		if _, err := fmt.Sscan(v, &p.X, &p.Y); err != nil {
			panic(err)
		}
		c = append(c, geom.Vertex{Point: p})
	}
	return c
}

// Each row spoils the sound drawing in one way. The rules that must answer come
// from the project's contract for drawings: closed contours on layers that are
// cut, none repeated, crossing or drawn twice, holes within outlines.
func TestJudge(t *testing.T) {
	add := func(layer, xy string) func(*cut.Drawing) {
		return func(d *cut.Drawing) {
			d.Contours = append(d.Contours, cut.Contour{Layer: layer, Contour: points(xy)})
		}
	}
	vertex := func(i int, xy string) func(*cut.Drawing) { // a vertex put into the triangle
		return func(d *cut.Drawing) {
			c := d.Contours[3].Contour
			d.Contours[3].Contour = append(append(append(geom.Contour{}, c[:i]...), points(xy)...), c[i:]...)
		}
	}
	tests := []struct {
		name  string
		spoil func(*cut.Drawing)
		rule  string // rules of all findings
		what  string // part of the first finding, In wood included
		by    float64
	}{
		{"check bar too short", func(d *cut.Drawing) { d.Lines[1].B.X -= 0.05 }, "check-bar", "stated as 100 mm and measures 99.950 mm", 0.05},
		{"check bar gone", func(d *cut.Drawing) { d.Lines = d.Lines[:1] }, "check-bar", "no check bar", 0},
		{"check bar in inches", func(d *cut.Drawing) { d.Texts[1].Text = "100 in" }, "scale", "25.4 times too small", 0},
		{"check bar of centimetres", func(d *cut.Drawing) { d.Texts[1].Text = "100 cm" }, "check-bar", "stated as 1000 mm and measures 100.000 mm", 900},
		{"unknown layer", func(d *cut.Drawing) { d.Contours[1].Layer = "HOLES" }, "layer", `"HOLES"`, 0},
		{"vertex repeated", vertex(1, "110 0"), "repeated-vertex", "vertex 2 repeats vertex 1 at X 110.000 Y 0.000", 0},
		{"first vertex repeated at the end", vertex(3, "110 0"), "repeated-vertex", "vertex 1 repeats vertex 4", 0},
		{"one vertex left", add(cut.Hole, "20 30"), "contour", "1 vertices", 0},
		{"nothing enclosed", add(cut.Hole, "20 20; 30 20; 60 20"), "area self-crossing", "encloses nothing", 0},
		{"crosses itself", add(cut.Hole, "20 20; 30 30; 30 20; 20 28"), "self-crossing", "crosses or touches itself at", 0},
		{"touches itself", add(cut.Hole, "20 20; 30 20; 30 30; 25 20; 20 30"), "self-crossing", "at X 25.000 Y 20.000", 0},
		{"runs on itself", add(cut.Hole, "20 20; 30 20; 25 20; 25 30"), "self-crossing", "runs on itself for 5.000 mm", 0},
		{"crosses another", add(cut.Hole, "75 18; 80 18; 80 22; 75 22"), "crossing", "crosses or touches that of line", 0},
		{"touches another", add(cut.Hole, "0 20; 5 22; 5 18"), "crossing", "at X 0.000 Y 20.000", 0},
		{"shares an edge", add(cut.Outline, "110 0; 140 0; 125 -5"), "overlap", "for 30.000 mm", 0},
		{"drawn twice", add(cut.Outline, "110 0; 140 0; 125 30"), "duplicate", "drawn a second time", 0},
		{"drawn twice backwards from another corner", add(cut.Outline, "125 30; 140 0; 110 0"), "duplicate", "drawn a second time", 0},
		{"drawn twice in more pieces", add(cut.Outline, "110 0; 120 0; 140 0; 125 30"), "duplicate", "drawn a second time", 0},
		{"drawn twice as HOLE", add(cut.Hole, "110 0; 140 0; 125 30"), "duplicate", "drawn a second time", 0},
		{"hole outside", add(cut.Hole, "100 30; 102 30; 102 35"), "nesting", "lies in no outline", 0},
		{"hole in a hole", add(cut.Hole, "78 18; 80 18; 80 20"), "nesting", "lies in no outline", 0},
		{"outline in an outline", add(cut.Outline, "60 30; 65 30; 65 35"), "nesting", "within the outline of line", 0},
		{"a part cut from the waste of a hole", add(cut.Outline, "78 18; 82 18; 80 22"), "", "", 0},
		{"arc of all but a full turn", func(d *cut.Drawing) { d.Contours[1].Contour[1].Bulge = 1e6 }, "arc crossing", "a circle is two arcs", 0},
		{"line on a cut layer", func(d *cut.Drawing) { d.Lines[0].Layer = cut.Outline }, "stray", "a stroke on OUTLINE: cut layers hold closed outlines", 0},
		{"words on a cut layer", func(d *cut.Drawing) { d.Texts[0].Layer = cut.Hole }, "stray", "letters are cut through the part", 0},
		{"nothing to cut", func(d *cut.Drawing) { d.Contours = nil }, "empty", "nothing is cut", 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d := cuttest.Plate(1)
			tt.spoil(&d)
			judged(t, outline.Judge(fileOf(d)), tt.rule, tt.what, tt.by)
		})
	}
}

// judged holds findings against the rules, the words and the figure wanted.
func judged(t *testing.T, fs []finding.Finding, rule, what string, by float64) {
	t.Helper()
	if got := cuttest.Rules(fs); got != rule {
		t.Fatalf("rules %q, want %q:\n%s", got, rule, cuttest.All(fs))
	}
	if rule == "" {
		return
	}
	if s := fs[0].String(); !strings.Contains(s, what) {
		t.Errorf("found %s\nwant %q", s, what)
	}
	if by > 0 && math.Abs(fs[0].ByMM-by) > 1e-6 {
		t.Errorf("by %v mm, want %v", fs[0].ByMM, by)
	}
}

// What only a file can have wrong, and no drawing.
func TestJudgeOfFiles(t *testing.T) {
	tests := []struct {
		name  string
		spoil func(*cut.File)
		rule  string
		what  string
		by    float64
	}{
		{"open", func(f *cut.File) { f.Contours[3].Closed = false }, "open", "without a clasp: from its last vertex to its first it is 33.541 mm", math.Hypot(15, 30)},
		{"closed by a repeated vertex", func(f *cut.File) {
			c := &f.Contours[3]
			c.Closed, c.Contour, c.VertexLines = false, append(c.Contour, c.Contour[0]), append(c.VertexLines, 0)
		}, "open", "repeated at the end in place of a clasp", 0},
		{"faults of the reader", func(f *cut.File) { f.Faults = []finding.Finding{{Rule: "torn", What: "half of it"}} }, "torn", "half of it", 0},
		{"faults of form", func(f *cut.File) { f.Form = []finding.Finding{{Rule: "bent", What: "not flat"}} }, "bent", "not flat", 0},
		{"something rare on a cut layer", func(f *cut.File) {
			f.Others = []cut.FileOther{{Kind: "curl", Layer: cut.Outline, Rare: true}}
		}, "stray", "leaves the cut out without a word", 0},
		{"letters on a cut layer", func(f *cut.File) {
			f.Others = []cut.FileOther{{Kind: "inscription", Layer: cut.Outline, Words: true}}
		}, "stray", "an inscription on OUTLINE", 0},
		{"something on no layer", func(f *cut.File) { f.Others = []cut.FileOther{{Kind: "blob"}} }, "layer", "whether it is cut depends", 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := fileOf(cuttest.Plate(1))
			tt.spoil(f)
			judged(t, outline.Judge(f), tt.rule, tt.what, tt.by)
		})
	}
}
