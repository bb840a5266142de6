package dxfread_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/cut/cuttest"
	"starwright/post/outline"
)

func TestSoundDrawingHasNoFindings(t *testing.T) {
	for name, unit := range map[string]float64{"mm": 1, "inch": geom.MMPerInch} {
		f := parse(t, written(t, cuttest.Plate(unit)))
		if fs := outline.Judge(f); len(fs) > 0 {
			t.Errorf("%s: %s", name, cuttest.All(fs))
		}
		bar := outline.FindBar(f)
		if bar == nil || bar.StatedMM/bar.Units < unit*(1-1e-6) || bar.StatedMM/bar.Units > unit*(1+1e-6) || f.UnitMM != unit {
			t.Errorf("%s: unit %v, check bar %+v", name, f.UnitMM, bar)
		}
	}
}

// Each row spoils the sound file in one way. The rules that must answer come
// from the project's contract for DXF files.
func TestJudge(t *testing.T) {
	src := written(t, cuttest.Plate(1))
	part := entity(t, src, "POLYLINE", cut.Outline, 2) // the triangle 110..140
	bar := entity(t, src, "LINE", cut.Guide, 2)
	insert := func(words string) string {
		return cuttest.Swap(t, src, "  0\nENDSEC\n  0\nEOF\n", lines(words)+"  0\nENDSEC\n  0\nEOF\n")
	}
	inPart := func(old, new string) string { return cuttest.Swap(t, src, part, cuttest.First(t, part, old, new)) }
	insUnits := func(n int) string {
		return cuttest.Swap(t, src, "  9\n$EXTMIN\n", fmt.Sprintf("  9\n$INSUNITS\n 70\n%d\n  9\n$EXTMIN\n", n))
	}
	tests := []struct {
		name string
		src  string
		rule string // rules of all findings
		what string // part of the first finding, In wood included
		by   float64
	}{
		{"version of a later release", cuttest.Swap(t, src, "AC1009", "AC1015"), "version", "AC1015", 0},
		{"unit comment gone", cuttest.Swap(t, src, "999\n1 drawing unit = 1 mm\n", ""), "unit", "states the unit", 0},
		{"unit comment of another unit", cuttest.Swap(t, src, "= 1 mm", "= 1 cm"), "unit check-bar", "stated as 10 mm", 0},
		{"two unit comments", cuttest.Swap(t, src, "999\n1 drawing unit = 1 mm\n", "999\n1 drawing unit = 1 mm\n999\n1 drawing unit = 1 inch\n"), "unit", "a second unit", 0},
		{"unit comment in inches over millimetres", cuttest.Swap(t, src, "= 1 mm", "= 1 inch (25.4 mm)"), "scale", "25.4 times too large", 0},
		{"inch file called millimetres", cuttest.Swap(t, written(t, cuttest.Plate(geom.MMPerInch)), "= 1 inch (25.4 mm)", "= 1 mm"), "scale", "25.4 times too small", 0},
		{"header unit against the comment", cuttest.Swap(t, src, "  9\n$EXTMIN\n", "  9\n$INSUNITS\n 70\n1\n  9\n$EXTMIN\n"), "unit", "$INSUNITS 1 says that a drawing unit is an inch", 0},
		{"header unit feet", insUnits(2), "unit", "a foot", 0},
		{"header unit miles", insUnits(3), "unit", "a mile", 0},
		{"header unit centimetres", insUnits(5), "unit", "a centimetre", 0},
		{"header unit metres", insUnits(6), "unit", "a metre", 0},
		{"header unit mils", insUnits(9), "unit", "a mil", 0},
		{"header unit parsecs", insUnits(20), "unit", "a parsec", 0},
		{"header unit of no name", insUnits(99), "unit", "of no known length", 0},
		{"check bar gone", cuttest.Swap(t, src, bar, ""), "check-bar", "no check bar", 0},
		{"check bar's text gone", cuttest.Swap(t, src, "100 mm", "hello"), "check-bar", "no check bar", 0},
		{"extents wrong", cuttest.Swap(t, src, "$EXTMAX\n 10\n140.0", "$EXTMAX\n 10\n139.99"), "extents", "X 139.990", 0.01},
		{"extents missing", cuttest.Swap(t, src, "$EXTMAX", "$EXTRA"), "extents", "no $EXTMIN and $EXTMAX", 0},
		{"layer off", cuttest.Swap(t, src, "  2\nHOLE\n 70\n0\n 62\n150", "  2\nHOLE\n 70\n0\n 62\n-150"), "layer", "HOLE is off", 0},
		{"layer frozen", cuttest.Swap(t, src, "  2\nOUTLINE\n 70\n0", "  2\nOUTLINE\n 70\n1"), "layer", "OUTLINE is frozen", 0},
		{"layer frozen in new views", cuttest.Swap(t, src, "  2\nOUTLINE\n 70\n0", "  2\nOUTLINE\n 70\n2"), "layer", "OUTLINE is frozen", 0},
		{"layer of dashes", cuttest.Swap(t, src, "  2\nOUTLINE\n 70\n0\n 62\n1\n  6\nCONTINUOUS", "  2\nOUTLINE\n 70\n0\n 62\n1\n  6\nDASHED"), "line-type", "the lines of layer OUTLINE are DASHED", 0},
		{"outline of dashes", inPart(" 66\n1", "  6\nDASHED\n 66\n1"), "line-type", "the contour's line is DASHED", 0},
		{"layer not plotted", cuttest.Swap(t, src, "  2\nOUTLINE\n 70\n0", "  2\nOUTLINE\n 70\n0\n290\n0"), "layer", "OUTLINE is not plotted", 0},
		{"layer frozen by another record", cuttest.Swap(t, src, "  0\nLAYER\n  2\nHOLE\n", lines("0 LAYER 2 outline 70 1 62 1 6 CONTINUOUS")+"  0\nLAYER\n  2\nHOLE\n"), "layer", "a second record of layer OUTLINE", 0},
		{"guide in the colour of outlines", cuttest.Swap(t, src, " 62\n94", " 62\n1"), "colour", "GUIDE and OUTLINE (line 76) have the same colour 1", 0},
		{"outlines in the colour of words", cuttest.Swap(t, src, "OUTLINE\n 70\n0\n 62\n1\n", "OUTLINE\n 70\n0\n 62\n252\n"), "colour", "have the same colour 252", 0},
		{"an outline in the colour of guides", inPart(" 66\n1", " 66\n1\n 62\n94"), "colour", "GUIDE and OUTLINE (line ", 0},
		{"a guide line in the colour of holes", cuttest.Swap(t, src, bar, cuttest.First(t, bar, "GUIDE\n", "GUIDE\n 62\n150\n")), "colour", "HOLE and GUIDE (line ", 0},
		{"block on a guide layer", insert("0 INSERT 8 GUIDE 2 PART 10 0.0 20 0.0"), "entity", "an INSERT draws what lies in a block", 0},
		{"block among the words", insert("0 INSERT 8 text 2 PART 10 0.0 20 0.0"), "entity", "INSERT on TEXT", 0},
		{"dimension on a guide layer", insert("0 DIMENSION 8 GUIDE 2 *D1 10 0.0 20 0.0"), "entity", "a DIMENSION draws", 0},
		{"layer without a record", cuttest.Swap(t, src, "  2\nHOLE\n 70\n0", "  2\nHOLES\n 70\n0"), "layer", "HOLE is used and not in the layer table", 0},
		{"unknown layer", strings.ReplaceAll(src, "8\nHOLE", "8\nHOLES"), "layer", `"HOLES"`, 0},
		{"flag for closed cleared", inPart(" 70\n1", " 70\n0"), "open", "to its first it is 33.541 mm", 33.54101966},
		{"closed by a repeated vertex", cuttest.Swap(t, src, part, cuttest.First(t, strings.Replace(part, " 70\n1", " 70\n0", 1), "  0\nSEQEND", lines("0 VERTEX 8 OUTLINE 10 110.0 20 0.0")+"  0\nSEQEND")), "open", "first vertex is repeated at the end", 0},
		{"vertex repeated", inPart("  0\nVERTEX\n", lines("0 VERTEX 8 OUTLINE 10 110.0 20 0.0")+"  0\nVERTEX\n"), "repeated-vertex", "vertex 2 repeats vertex 1 at X 110.000 Y 0.000", 0},
		{"no vertex left", insert("0 POLYLINE 8 HOLE 66 1 70 1 0 SEQEND"), "contour", "0 vertices", 0},
		{"drawn twice", insert(strings.Join(strings.Fields(part), " ")), "duplicate", "drawn a second time", 0},
		{"line on a cut layer", insert("0 LINE 8 OUTLINE 10 1.0 20 1.0 11 2.0 21 2.0"), "stray", "a LINE on OUTLINE", 0},
		{"text on a cut layer", insert("0 TEXT 8 HOLE 10 1.0 20 1.0 40 3.0 1 A"), "stray", "letters are cut through the part", 0},
		{"circle on a cut layer", insert("0 CIRCLE 8 HOLE 10 60.0 20 10.0 40 2.0"), "entity", "a CIRCLE on a cut layer", 0},
		{"arc on a cut layer", insert("0 ARC 8 HOLE 10 60.0 20 10.0 40 2.0 50 0.0 51 90.0"), "stray", "an ARC", 0},
		{"light polyline on a cut layer", insert("0 LWPOLYLINE 8 HOLE 90 3 70 1 10 60.0 20 10.0 10 62.0 20 10.0 10 61.0 20 12.0"), "entity", "LWPOLYLINE", 0},
		{"spline on a cut layer", insert("0 SPLINE 8 OUTLINE 71 3"), "stray", "a SPLINE on OUTLINE", 0},
		{"block on a cut layer", insert("0 INSERT 8 OUTLINE 2 PART 10 0.0 20 0.0"), "stray", "an INSERT", 0},
		{"face on a cut layer", insert("0 3DFACE 8 HOLE 10 0.0 20 0.0"), "stray", "3DFACE", 0},
		{"entity without a layer", insert("0 SOLID 10 0.0 20 0.0"), "layer", "SOLID", 0},
		{"elevation", inPart(" 30\n0.0", " 30\n3.0"), "flat", "3.000 mm above the plane", 0},
		{"thickness", inPart(" 70\n1", " 39\n3.0\n 70\n1"), "flat", "thickness of 3.000 mm", 0},
		{"width", inPart(" 70\n1", " 40\n0.5\n 41\n0.5\n 70\n1"), "flat", "width of 0.500 mm", 0},
		{"plane turned over", inPart(" 70\n1", "210\n0.0\n220\n0.0\n230\n-1.0\n 70\n1"), "flat", "come out mirrored", 0},
		{"paper space", inPart(" 70\n1", " 67\n1\n 70\n1"), "hidden", "paper space", 0},
		{"curve fit", inPart(" 70\n1", " 70\n3"), "curve-fit", "fitted curves", 0},
		{"vertices not announced", inPart(" 66\n1", " 66\n0"), "entity", "group 66 is not 1", 0},
		{"spline fit", inPart(" 70\n1", " 70\n5"), "curve-fit", "fitted curves", 0},
		{"polyline in space", inPart(" 70\n1", " 70\n9"), "entity", "in space", 0},
		{"mesh", inPart(" 70\n1", " 70\n17"), "entity", "mesh", 0},
		{"nothing to cut", string(entitiesOnly("0 LINE 8 GUIDE 10 1.0 20 2.0 11 3.0 21 4.0")), "version unit extents check-bar empty", "release 12", 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			fs := outline.Judge(parse(t, tt.src))
			if got := cuttest.Rules(fs); got != tt.rule {
				t.Fatalf("rules %q, want %q:\n%s", got, tt.rule, cuttest.All(fs))
			}
			s := fs[0].String()
			if !strings.Contains(s, tt.what) {
				t.Errorf("found %s\nwant %q", s, tt.what)
			}
			if d := fs[0].ByMM - tt.by; tt.by > 0 && (d > 1e-6 || d < -1e-6) {
				t.Errorf("by %v mm, want %v", fs[0].ByMM, tt.by)
			}
		})
	}
}

// What does no harm is not complained of.
func TestJudgePassesHarmlessChanges(t *testing.T) {
	src := written(t, cuttest.Plate(1))
	for name, s := range map[string]string{
		"more comments":                       "999\nsaved by hand\n" + src,
		"comment amid entities":               cuttest.First(t, src, "  0\nPOLYLINE\n", "999\nhere\n  0\nPOLYLINE\n"),
		"line ends of DOS":                    strings.ReplaceAll(src, "\n", "\r\n"),
		"codes without blanks":                strings.ReplaceAll(strings.ReplaceAll(src, "\n  ", "\n"), "\n ", "\n"),
		"more digits":                         strings.ReplaceAll(src, ".0\n", ".000000000000000000\n"),
		"signs":                               strings.ReplaceAll(src, "\n110.0\n", "\n+110.0\n"),
		"colour, handle, type":                cuttest.First(t, src, " 66\n1\n", " 62\n5\n  5\n2F\n  6\nBYLAYER\n 66\n1\n"),
		"unused layer":                        cuttest.Swap(t, src, "  0\nLAYER\n  2\nOUTLINE\n", "  0\nLAYER\n  2\n0\n 70\n0\n 62\n7\n  6\nCONTINUOUS\n  0\nLAYER\n  2\nOUTLINE\n"),
		"linetype runs on":                    cuttest.First(t, src, " 70\n1\n  0\nVERTEX", " 70\n129\n  0\nVERTEX"),
		"no tables, no blocks":                cuttest.First(t, src, between(t, src, "  0\nSECTION\n  2\nTABLES", "  0\nSECTION\n  2\nENTITIES"), ""),
		"words turned":                        cuttest.Swap(t, src, "  1\nplate\n 50\n0.0", "  1\nplate\n 50\n45.0"),
		"a part cut from the waste of a hole": cuttest.First(t, src, "  0\nPOLYLINE\n", lines("0 POLYLINE 8 OUTLINE 66 1 70 1 0 VERTEX 8 OUTLINE 10 78.0 20 18.0 0 VERTEX 8 OUTLINE 10 82.0 20 18.0 0 VERTEX 8 OUTLINE 10 80.0 20 22.0 0 SEQEND")+"  0\nPOLYLINE\n"),
		"names of layers in small letters":    strings.NewReplacer("\nOUTLINE\n", "\noutline\n", "\nHOLE\n", "\nHole\n", "\nGUIDE\n", "\nguide\n", "8\nTEXT\n", "8\ntext\n").Replace(src),
		"unit of the header":                  cuttest.Swap(t, src, "  9\n$EXTMIN\n", "  9\n$INSUNITS\n 70\n4\n  9\n$EXTMIN\n"),
		"no unit in the header":               cuttest.Swap(t, src, "  9\n$EXTMIN\n", "  9\n$INSUNITS\n 70\n0\n  9\n$EXTMIN\n"),
		"layer locked":                        cuttest.Swap(t, src, "  2\nOUTLINE\n 70\n0", "  2\nOUTLINE\n 70\n4"),
		"line type in small letters":          cuttest.First(t, src, " 66\n1\n", "  6\nContinuous\n 66\n1\n"),
		"guide lines of dashes":               cuttest.Swap(t, src, "  2\nGUIDE\n 70\n0\n 62\n94\n  6\nCONTINUOUS", "  2\nGUIDE\n 70\n0\n 62\n94\n  6\nDASHED"),
		"colour by layer":                     cuttest.First(t, src, " 66\n1\n", " 62\n256\n 66\n1\n"),
		"a block that nothing refers to":      cuttest.Swap(t, src, "  2\nBLOCKS\n", "  2\nBLOCKS\n"+lines("0 BLOCK 8 0 2 A 70 0 10 0.0 20 0.0 30 0.0 3 A 0 LINE 8 OUTLINE 10 0.0 20 0.0 30 0.0 11 1.0 21 1.0 31 0.0 0 ENDBLK 8 0")),
		"circle on a guide layer":             cuttest.First(t, src, "  0\nPOLYLINE\n", lines("0 CIRCLE 8 GUIDE 10 20.0 20 20.0 40 5.0")+"  0\nPOLYLINE\n"),
	} {
		t.Run(name, func(t *testing.T) {
			if fs := outline.Judge(parse(t, s)); len(fs) > 0 {
				t.Errorf("%s", cuttest.All(fs))
			}
		})
	}
}

// between returns the piece of src from one text up to another.
func between(t *testing.T, src, from, to string) string {
	t.Helper()
	_, rest, ok := strings.Cut(src, from)
	piece, _, ok2 := strings.Cut(rest, to)
	if !ok || !ok2 {
		t.Fatalf("%q to %q does not stand in the file", from, to)
	}
	return from + piece
}

// The line that a finding names is that of the entity or vertex at fault.
func TestJudgeNamesTheLine(t *testing.T) {
	src := written(t, cuttest.Plate(1))
	part := entity(t, src, "POLYLINE", cut.Outline, 2)
	at := cuttest.LineOf(t, src, part)
	open := outline.Judge(parse(t, cuttest.Swap(t, src, part, cuttest.First(t, part, " 70\n1", " 70\n0"))))
	if open[0].Line != at+1 { // the line of the word POLYLINE
		t.Errorf("open contour at line %d, want %d", open[0].Line, at+1)
	}
	twice := outline.Judge(parse(t, cuttest.Swap(t, src, part, cuttest.First(t, part, "  0\nVERTEX\n", lines("0 VERTEX 8 OUTLINE 10 110.0 20 0.0")+"  0\nVERTEX\n"))))
	if want := at + 14 + 8 + 1; twice[0].Line != want || twice[0].Block != "VERTEX 110, 0" { // head of 14 lines, vertex of 8
		t.Errorf("repeated vertex at line %d [%s], want %d", twice[0].Line, twice[0].Block, want)
	}
}

// A unit comment changed by hand: the check bar tells, and so does the size.
func TestCompareUnitSwapped(t *testing.T) {
	src := cuttest.Swap(t, written(t, cuttest.Plate(1)), "= 1 mm", "= 1 inch (25.4 mm)")
	r := outline.Compare(parse(t, src), cuttest.Plate(1), cuttest.Tolerance)
	if cuttest.Rules(r.Findings) != "scale" || r.Findings[0].Line != 4 || !strings.Contains(r.Findings[0].What, "25.4 times too large for the unit that line 4 states") {
		t.Error(cuttest.All(r.Findings))
	}
}

// Every vertex of a file named by its line.
func TestCompareNamesTheLine(t *testing.T) {
	src := written(t, cuttest.Plate(1))
	part := entity(t, src, "POLYLINE", cut.Outline, 2)
	src = cuttest.Swap(t, src, part, cuttest.First(t, part, " 20\n30.0", " 20\n30.1"))
	r := outline.Compare(parse(t, src), cuttest.Plate(1), cuttest.Tolerance)
	if len(r.Findings) != 1 {
		t.Fatal(cuttest.All(r.Findings))
	}
	f := r.Findings[0]
	if want := cuttest.LineOf(t, src, " 20\n30.1") - 6 + 1; f.Line != want || f.Block != "VERTEX 125, 30.1" || math.Abs(f.At.Y-30.1) > 1e-9 {
		t.Errorf("line %d [%s] at %v, want line %d, the word VERTEX", f.Line, f.Block, f.At, want)
	}
}
