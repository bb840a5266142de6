package dxfread_test

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/cut/cuttest"
	"starwright/post/dxf/dxfread"
	"starwright/post/outline"
)

// lines joins the lines of a file, one word each, so that a row of a table
// holds a whole entity.
func lines(words string) string { return strings.Join(strings.Fields(words), "\n") + "\n" }

// entitiesOnly is the least file that a reader must take: "DXF File
// Structure", a file of ENTITIES and EOF.
func entitiesOnly(words string) []byte {
	return []byte(lines("0 SECTION 2 ENTITIES " + words + " 0 ENDSEC 0 EOF"))
}

func read(t *testing.T, src []byte) *cut.File {
	t.Helper()
	f, err := dxfread.Read(src, "test.dxf", geom.Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestReadEntities(t *testing.T) {
	f := read(t, entitiesOnly(`
		0 POLYLINE 8 OUTLINE 66 1 10 0.0 20 0.0 30 0.0 70 1
		0 VERTEX 8 OUTLINE 10 1.0 20 2.0 42 0.5
		0 VERTEX 8 OUTLINE 10 -3.25 20 +4 30 0
		0 VERTEX 8 OUTLINE 10 1e1 20 .5
		0 SEQEND 8 OUTLINE
		0 LWPOLYLINE 100 AcDbPolyline 8 HOLE 90 2 70 1 10 5.0 20 6.0 42 1.0 10 7.0 20 6.0 42 1.0
		0 CIRCLE 8 HOLE 10 2.0 20 3.0 40 1.5
		0 ARC 8 GUIDE 10 0.0 20 0.0 40 2.0 50 350.0 51 80.0
		0 LINE 8 GUIDE 10 1.0 20 2.0 30 0.0 11 3.0 21 4.0 31 0.0
		0 TEXT 8 TEXT 10 1.0 20 2.0 40 3.5 1 words
		0 SPLINE 8 OUTLINE 71 3`))
	if len(f.Faults) > 0 {
		t.Fatalf("faults: %v", f.Faults)
	}
	if len(f.Contours) != 3 {
		t.Fatalf("%d contours, want 3", len(f.Contours))
	}
	// Vertices as the file above says; the circle of radius 1.5 about 2, 3
	// starts at 3.5, 3 or any other place of it.
	poly := geom.Contour{{Point: geom.Pt(1, 2), Bulge: 0.5}, {Point: geom.Pt(-3.25, 4)}, {Point: geom.Pt(10, 0.5)}}
	light := geom.Contour{{Point: geom.Pt(5, 6), Bulge: 1}, {Point: geom.Pt(7, 6), Bulge: 1}}
	for i, want := range []geom.Contour{poly, light} {
		got := f.Contours[i]
		if fmt.Sprint(got.Contour) != fmt.Sprint(want) || !got.Closed {
			t.Errorf("contour %d: %v closed %v, want %v closed", i, got.Contour, got.Closed, want)
		}
	}
	circle := f.Contours[2]
	if a := circle.Area(); math.Abs(a-math.Pi*1.5*1.5) > 1e-12 || circle.DistTo(geom.Pt(2, 4.5)) > 1e-12 {
		t.Errorf("circle: %v of area %v", circle.Contour, a)
	}
	if c := f.Contours[0]; c.Line != 6 || fmt.Sprint(c.VertexLines) != "[20 30 40]" {
		t.Errorf("polyline at line %d, its vertices at %v, want 6 and [20 30 40]", c.Line, c.VertexLines)
	}
	// 350 to 80 degrees counter-clockwise is a quarter of a circle.
	if a := f.Others[0]; a.Kind != "ARC" || math.Abs(a.Curves[0].Length()-math.Pi) > 1e-12 {
		t.Errorf("arc: %+v", a)
	}
	if l := f.Lines[0]; l.Layer != "GUIDE" || l.A != geom.Pt(1, 2) || l.B != geom.Pt(3, 4) {
		t.Errorf("line: %+v", l)
	}
	if x := f.Texts[0]; x.Layer != "TEXT" || x.At != geom.Pt(1, 2) || x.HeightMM != 3.5 || x.Text != "words" {
		t.Errorf("text: %+v", x)
	}
	if o := f.Others[1]; o.Kind != "SPLINE" || o.Layer != "OUTLINE" || len(o.Curves) != 0 {
		t.Errorf("spline: %+v", o)
	}
}

// The same file with the line ends and blanks of other programs.
func TestReadOtherLineEnds(t *testing.T) {
	src := entitiesOnly("0 LINE 8 GUIDE 10 1.0 20 2.0 11 3.0 21 4.0")
	for name, s := range map[string][]byte{
		"carriage returns":   bytes.ReplaceAll(src, []byte("\n"), []byte("\r\n")),
		"blanks before":      bytes.ReplaceAll(src, []byte("\n"), []byte("\n   ")),
		"no last line end":   bytes.TrimSpace(src),
		"blank lines at end": append(src[:len(src):len(src)], "\n \n"...),
	} {
		f := read(t, s)
		if len(f.Faults) > 0 || len(f.Lines) != 1 || f.Lines[0].B != geom.Pt(3, 4) || f.Lines[0].Layer != "GUIDE" {
			t.Errorf("%s: lines %+v, faults %v", name, f.Lines, f.Faults)
		}
	}
}

func TestStructureFaults(t *testing.T) {
	const line = "0 LINE 8 GUIDE 10 1.0 20 2.0 11 3.0 21 4.0"
	whole := string(entitiesOnly(line))
	tests := []struct {
		name, src string
		line      int    // of the first finding
		want      string // part of it
		left      int    // lines of the drawing that are read all the same
	}{
		{"empty", "", 0, "without EOF", 0},
		{"binary", "\x00\x01\x02\xff\xfe binary", 1, "no group code", 0},
		{"not a drawing", "G21\nG90\n", 1, "no group code", 0},
		{"end missing", strings.TrimSuffix(whole, "0\nEOF\n"), 0, "without EOF", 1},
		{"cut off in a pair", strings.TrimSuffix(whole, "EOF\n"), 19, "in the middle of a pair", 1},
		{"section not closed", lines("0 SECTION 2 ENTITIES " + line + " 0 EOF"), 18, "section ENTITIES is not closed", 1},
		{"section in a section", lines("0 SECTION 2 HEADER 0 SECTION 2 ENTITIES " + line + " 0 ENDSEC 0 EOF"), 6, "section HEADER is not closed", 1},
		{"two of a section", strings.TrimSuffix(whole, "0\nEOF\n") + whole, 22, "second section", 2},
		{"closed twice", strings.TrimSuffix(whole, "0\nEOF\n") + lines("0 ENDSEC 0 EOF"), 20, "no section is open", 1},
		{"more after the end", whole + whole, 21, "after EOF", 1},
		{"a line lost", strings.Replace(whole, "20\n2.0\n", "2.0\n", 1), 11, "no group code", 1},
		{"group code too large", strings.Replace(whole, "\n20\n", "\n20000\n", 1), 11, "no group code", 1},
		{"negative group code", strings.Replace(whole, "\n20\n", "\n-20\n", 1), 11, "no group code", 1},
		{"number with a comma", strings.Replace(whole, "2.0", "2,0", 1), 12, "no number", 1},
		{"infinite number", strings.Replace(whole, "2.0", "inf", 1), 12, "no number", 1},
		{"not a number", strings.Replace(whole, "2.0", "NaN", 1), 12, "no number", 1},
		{"hexadecimal", strings.Replace(whole, "2.0", "0x1p4", 1), 12, "no number", 1},
		{"number out of all bounds", strings.Replace(whole, "2.0", "1e300", 1), 12, "too large", 1},
		{"very long line", strings.Replace(whole, "2.0", strings.Repeat("2", 5000), 1), 12, "longer than 2048", 1},
		{"vertex outside", string(entitiesOnly("0 VERTEX 8 OUTLINE 10 1.0 20 2.0 " + line)), 6, "VERTEX outside of a POLYLINE", 1},
		{"polyline not ended", string(entitiesOnly("0 POLYLINE 8 OUTLINE 66 1 70 1 0 VERTEX 8 OUTLINE 10 1.0 20 2.0 " + line)), 6, "SEQEND is missing", 1},
		{"vertex without Y", string(entitiesOnly("0 POLYLINE 8 OUTLINE 70 1 0 VERTEX 8 OUTLINE 10 1.0 0 SEQEND " + line)), 17, "group 10 without group 20", 1},
		{"vertex without a place", string(entitiesOnly("0 POLYLINE 8 OUTLINE 70 1 0 VERTEX 8 OUTLINE 0 SEQEND " + line)), 12, "without X and Y", 1},
		{"Z before Y", string(entitiesOnly("0 POINT 8 GUIDE 10 1.0 30 0.0 20 2.0 " + line)), 11, "group 10 without group 20", 1},
		{"table that is none", lines("0 SECTION 2 TABLES 0 LAYER 2 A 0 ENDSEC " + strings.ReplaceAll(whole, "\n", " ")), 6, "no record of the table", 1},
		{"table not closed", lines("0 SECTION 2 TABLES 0 TABLE 2 LAYER 0 ENDSEC " + strings.ReplaceAll(whole, "\n", " ")), 10, "is not closed", 1},
		{"variable named twice", lines("0 SECTION 2 HEADER 9 $LIMMIN 9 $LIMMIN 10 0.0 20 0.0 0 ENDSEC " + strings.ReplaceAll(whole, "\n", " ")), 6, "without a value", 1},
		{"name of a variable lost", lines("0 SECTION 2 HEADER 9 $LIMMIN 10 0.0 20 0.0 10 0.0 20 0.0 0 ENDSEC " + strings.ReplaceAll(whole, "\n", " ")), 11, "twice in one entry", 1},
		{"vertex on another layer", string(entitiesOnly("0 POLYLINE 8 OUTLINE 70 1 0 VERTEX 8 HOLE 10 1.0 20 2.0 0 SEQEND " + line)), 14, "its polyline on OUTLINE", 1},
		{"no entities", lines("0 SECTION 2 HEADER 0 ENDSEC 0 EOF"), 0, "nothing is drawn", 0},
		{"group outside sections", lines("5 x " + strings.ReplaceAll(whole, "\n", " ")), 1, "outside of any section", 1},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := read(t, []byte(tt.src))
			if len(f.Faults) == 0 {
				t.Fatal("no fault found")
			}
			if got := f.Faults[0]; got.Line != tt.line || !strings.Contains(got.What, tt.want) || got.File != "test.dxf" {
				t.Errorf("found %v, want line %d: %s", got, tt.line, tt.want)
			}
			if len(f.Lines) != tt.left {
				t.Errorf("%d lines read, want %d", len(f.Lines), tt.left)
			}
		})
	}
}

func TestFileTooLarge(t *testing.T) {
	if err := dxfread.Sized(256<<20+1, "large.dxf"); err == nil {
		t.Error("a file of more than 256 MiB is read")
	}
	if err := dxfread.Sized(256<<20, "large.dxf"); err != nil {
		t.Error(err)
	}
}

func TestUnits(t *testing.T) {
	tests := []struct {
		comment string
		mm      float64
	}{
		{"1 drawing unit = 1 mm", 1},
		{"1 drawing unit = 1 inch (25.4 mm)", 25.4},
		{"1 Drawing Unit = 1 in", 25.4},
		{"one drawing unit =25.4 mm each", 25.4},
		{"1 drawing unit = 1 cm", 10},
		{"1 drawing unit = 1 parsec", 0},
		{"drawing unit", 0},
		{"100 mm wide", 0},
	}
	for _, tt := range tests {
		src := append([]byte("999\n"+tt.comment+"\n"), entitiesOnly("0 LINE 8 GUIDE 10 1.0 20 2.0 11 3.0 21 4.0")...)
		f := read(t, src)
		k := tt.mm
		if k == 0 {
			k = 1
		}
		if f.UnitMM != tt.mm || f.Lines[0].B.Dist(geom.Pt(3*k, 4*k)) > 1e-12 {
			t.Errorf("%q: unit %v, line to %v", tt.comment, f.UnitMM, f.Lines[0].B)
		}
	}
}

// testdata/other-writer-r12.dxf was written by ezdxf 0.18.1 (r12writer), of
// the outline, hole, line and text below.
func TestReadFileOfAnotherWriter(t *testing.T) {
	src, err := os.ReadFile("testdata/other-writer-r12.dxf")
	if err != nil {
		t.Fatal(err)
	}
	body := geom.Polygon(geom.Pt(0, 0), geom.Pt(80.5, 0), geom.Pt(80.5, 40.25), geom.Pt(0, 40.25))
	body[1].Bulge = 1
	hole := geom.Contour{{Point: geom.Pt(45, 20), Bulge: -1}, {Point: geom.Pt(35, 20), Bulge: -1}}
	want := cut.Drawing{
		Contours: []cut.Contour{{Layer: cut.Outline, Contour: body}, {Layer: cut.Hole, Contour: hole}},
		Lines:    []cut.Line{{Layer: cut.Guide, A: geom.Pt(0, 20.125), B: geom.Pt(30, 20.125)}},
	}
	f := read(t, src)
	r := outline.Compare(f, want, 0.002)
	if len(f.Faults)+len(r.Findings) > 0 || r.MaxDeviationMM != 0 || r.Contours != 2 || r.Lines != 1 {
		t.Errorf("faults %v, %+v", f.Faults, r)
	}
	if len(f.Texts) != 1 || f.Texts[0].Text != "plate" || f.Texts[0].At != geom.Pt(5, 5) {
		t.Errorf("texts %+v", f.Texts)
	}
	// It has no header: what a cutter needs to know is missing.
	if got := cuttest.Rules(outline.Judge(f)); got != "version unit extents check-bar" {
		t.Errorf("judged %q", got)
	}
}
