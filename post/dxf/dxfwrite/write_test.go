package dxfwrite_test

import (
	"bytes"
	"errors"
	"flag"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/cut/cuttest"
	"starwright/post/dxf/dxfwrite"
)

var update = flag.Bool("update", false, "write the golden files anew; read the diff before you keep them")

// washer is the small drawing with a comment longer than a line.
func washer(unitMM float64) cut.Drawing {
	d := cuttest.Washer(unitMM)
	d.Comments[0] += " One plate serves both sides of the saw."
	return d
}

func TestGolden(t *testing.T) {
	for name, d := range map[string]cut.Drawing{"washer-mm.dxf": washer(1), "washer-in.dxf": washer(geom.MMPerInch)} {
		t.Run(name, func(t *testing.T) {
			got, err := dxfwrite.Bytes(d)
			if err != nil {
				t.Fatal(err)
			}
			path := filepath.Join("testdata", name)
			if *update {
				if err := os.WriteFile(path, got, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(string(got), "\n")); diff != "" {
				t.Errorf("file differs (-want +got):\n%s", diff)
			}
		})
	}
}

// The golden files are our own output; these lines of one are laid down by
// hand from the DXF reference, "POLYLINE", "VERTEX" and "HEADER variables".
func TestLinesByHand(t *testing.T) {
	b, err := dxfwrite.Bytes(washer(1))
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{
		"unit comment before all sections":     "999\n1 drawing unit = 1 mm\n999\nCut the hole first; the part falls out last. One plate serves both\n999\nsides of the saw.\n  0\nSECTION\n  2\nHEADER\n",
		"version of release 12":                "  9\n$ACADVER\n  1\nAC1009\n",
		"extents reach round the arc (50, 20)": "  9\n$EXTMAX\n 10\n50.0\n 20\n20.0\n 30\n0.0\n",
		"extents reach the bar's tick (-12)":   "  9\n$EXTMIN\n 10\n0.0\n 20\n-12.0\n 30\n0.0\n",
		"closed polyline":                      "  0\nPOLYLINE\n  8\nOUTLINE\n 66\n1\n 10\n0.0\n 20\n0.0\n 30\n0.0\n 70\n1\n  0\nVERTEX\n  8\nOUTLINE\n 10\n0.0\n 20\n0.0\n 30\n0.0\n  0\nVERTEX\n",
		"bulge at the vertex it leaves":        " 10\n40.0\n 20\n0.0\n 30\n0.0\n 42\n1.0\n",
		"degree sign as control code or word":  "  1\n36 deg\n",
		"check bar on GUIDE":                   "  0\nLINE\n  8\nGUIDE\n 10\n0.0\n 20\n-10.0\n 30\n0.0\n 11\n20.0\n 21\n-10.0\n 31\n0.0\n",
		"end":                                  "  0\nENDSEC\n  0\nEOF\n",
	} {
		if !bytes.Contains(b, []byte(want)) {
			t.Errorf("%s: not found:\n%s", name, want)
		}
	}
}

// What package draft refuses is not written; its own tests have each refusal.
func TestRefuses(t *testing.T) {
	square := cut.Contour{Layer: cut.Outline, Contour: geom.Rect(geom.Box{Max: geom.Pt(10, 10)})}
	for want, d := range map[string]cut.Drawing{
		"drawn a second time":       {Name: "x", UnitMM: 1, Contours: []cut.Contour{square, square}},
		"write 1 (mm) or 25.4 (in)": {Name: "x"},
		"0 letters":                 {UnitMM: 1, Texts: []cut.Label{{Layer: cut.Text, HeightMM: 3, Text: "\n"}}},
	} {
		var out bytes.Buffer
		if err := dxfwrite.Write(&out, d); err == nil || !strings.Contains(err.Error(), want) || out.Len() > 0 {
			t.Errorf("%v, %d bytes written; want %q", err, out.Len(), want)
		}
	}
}

// Whatever the coordinates, every number reads back within half a last digit,
// without exponent, with a point, and zero is never negative.
func TestNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-999e3, 1e6).Draw(t, "x")
		small := rapid.Float64Range(-1e-5, 1e-5).Draw(t, "small")
		unit := rapid.SampledFrom([]float64{1, geom.MMPerInch}).Draw(t, "unit")
		b, err := dxfwrite.Bytes(cut.Drawing{UnitMM: unit, Lines: []cut.Line{{Layer: cut.Guide, A: geom.Pt(x, small), B: geom.Pt(x-1, 5)}}})
		if err != nil {
			t.Fatal(err)
		}
		_, entity, _ := strings.Cut(string(b), "\nLINE\n")
		lines := strings.Split(entity, "\n")
		for i, want := range map[int]float64{3: x, 5: small} {
			s := lines[i]
			v, err := strconv.ParseFloat(s, 64)
			if err != nil || math.Abs(v*unit-want) > 0.501e-6 {
				t.Errorf("%v mm is written %q", want, s)
			}
			if strings.ContainsAny(s, "eE+") || !strings.Contains(s, ".") || strings.HasPrefix(s, "-") && v == 0 {
				t.Errorf("%v mm is written %q", want, s)
			}
		}
	})
}

// Comments come out as ASCII of at most 70 letters, none lost to a line break
// in a job's name.
func TestComments(t *testing.T) {
	d := washer(1)
	d.Name = "Stern für 5½ Zoll\r\n  0\nEOF" + strings.Repeat(" long", 40)
	b, err := dxfwrite.Bytes(d)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(string(b), "999\nStern fuer 5 1/2 Zoll 0 EOF long") {
		t.Errorf("starts %q", b[:60])
	}
	for i, l := range strings.Split(string(b), "\n") {
		if len(l) > 70 {
			t.Errorf("line %d has %d letters", i+1, len(l))
		}
		for _, r := range l {
			if r < ' ' || r > '~' {
				t.Errorf("line %d holds %q", i+1, r)
			}
		}
	}
}

// Contrast of at least 3:1 on white and on black: WCAG 2.1, success criterion
// 1.4.11. The palette is the one
// ezdxf lists as DXF_DEFAULT_COLORS.
func TestColoursLegibleOnWhiteAndBlack(t *testing.T) {
	palette := map[int][3]float64{1: {255, 0, 0}, 150: {0, 127, 255}, 94: {0, 127, 0}, 252: {102, 102, 102}}
	b, err := dxfwrite.Bytes(washer(1))
	if err != nil {
		t.Fatal(err)
	}
	records := strings.Split(string(b), "  0\nLAYER\n")[1:]
	if len(records) != 4 {
		t.Fatalf("%d layers, want 4", len(records))
	}
	for _, r := range records {
		f := strings.Split(r, "\n") // 2 name 70 flags 62 colour
		n, _ := strconv.Atoi(f[5])
		rgb, ok := palette[n]
		if !ok {
			t.Fatalf("layer %s: colour %d is not in the test's palette", f[1], n)
		}
		if white, black := cuttest.Contrast(rgb); white < 3 || black < 3 {
			t.Errorf("layer %s, colour %d: contrast %.1f on white, %.1f on black", f[1], n, white, black)
		}
	}
}

func BenchmarkWrite20k(b *testing.B) {
	d := cuttest.Long()
	b.ReportAllocs()
	for b.Loop() {
		if err := dxfwrite.Write(io.Discard, d); err != nil {
			b.Fatal(err)
		}
	}
}

// Written part by part or as a whole, the file is the same; and a writer that
// fails is heard.
func TestPartsAreTheWhole(t *testing.T) {
	d := cuttest.Long()
	d.Contours = d.Contours[:2000] // some ten parts
	d.Comments = []string{"a comment"}
	whole, err := dxfwrite.Bytes(d)
	if err != nil {
		t.Fatal(err)
	}
	var parts bytes.Buffer
	if err := dxfwrite.Write(&parts, d); err != nil || !bytes.Equal(parts.Bytes(), whole) {
		t.Errorf("error %v; %d bytes in parts, %d as a whole", err, parts.Len(), len(whole))
	}
	for _, room := range []int{0, 100_000} {
		if err := dxfwrite.Write(&fullDisk{room}, d); !errors.Is(err, errFull) {
			t.Errorf("disk with room for %d bytes: error %v", room, err)
		}
	}
}

var errFull = errors.New("no space left")

// fullDisk takes so many bytes and no more.
type fullDisk struct{ room int }

func (f *fullDisk) Write(p []byte) (int, error) {
	if len(p) > f.room {
		return f.room, errFull
	}
	f.room -= len(p)
	return len(p), nil
}
