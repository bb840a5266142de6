package svgwrite_test

import (
	"bytes"
	"encoding/xml"
	"flag"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/cut/cuttest"
	"starwright/post/svg/svgwrite"
)

var update = flag.Bool("update", false, "write the golden files anew; read the diff before you keep them")

// washer is the small drawing with turned words beside the others.
func washer(unitMM float64) cut.Drawing {
	d := cuttest.Washer(unitMM)
	d.Texts = slices.Insert(d.Texts, 1, cut.Label{Layer: cut.Text, At: geom.Pt(20, 2), HeightMM: 3, Turn: geom.Deg(90), Text: "a < b & c"})
	return d
}

func bytesOf(t testing.TB, d cut.Drawing) string {
	t.Helper()
	b, err := svgwrite.Bytes(d)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestGolden(t *testing.T) {
	for name, d := range map[string]cut.Drawing{"washer-mm.svg": washer(1), "washer-in.svg": washer(geom.MMPerInch)} {
		t.Run(name, func(t *testing.T) {
			got := bytesOf(t, d)
			path := filepath.Join("testdata", name)
			if *update {
				if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
				t.Errorf("file differs (-want +got):\n%s", diff)
			}
		})
	}
}

// The golden files are our own output; these pieces of one are laid down by hand
// from SVG 1.1: 7.2 and 7.7 (size and view box), 8.3 (path data), 10.5 (text), 7.6
// (rotate), with Y down.
func TestPiecesByHand(t *testing.T) {
	got := bytesOf(t, washer(1))
	for name, want := range map[string]string{
		"size: 50 by 32 with 2 mm round it":   `<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="54mm" height="36mm" viewBox="-2 -22 54 36">`,
		"unit in words":                       "<desc>1 user unit = 1 mm\nCut the hole first; the part falls out last.</desc>",
		"half circle in two, counter-clock":   "<path d=\"M 0 0\nL 40 0\nA 10 10 0 0 0 50 -10\nA 10 10 0 0 0 40 -20\nL 0 -20\nZ\"/>",
		"circle in four, closed by its arcs":  "<path d=\"M 43.2 -10\nA 3.2 3.2 0 0 0 40 -13.2\nA 3.2 3.2 0 0 0 36.8 -10\nA 3.2 3.2 0 0 0 40 -6.8\nA 3.2 3.2 0 0 0 43.2 -10\nZ\"/>",
		"line":                                `<line x1="0" y1="-10" x2="30" y2="-10"/>`,
		"words as they are":                   `<text x="2" y="-2" font-family="sans-serif" font-size="3.75" fill="#757575" stroke="none">36°</text>`,
		"turned to the left is minus, Y down": `transform="rotate(-90 20 -2)">a &lt; b &amp; c</text>`,
		"check bar on GUIDE":                  `<line x1="0" y1="10" x2="20" y2="10"/>`,
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%s: not found: %s\n%s", name, want, got)
		}
	}
	if h, o := strings.Index(got, `"HOLE"`), strings.Index(got, `"OUTLINE"`); h < 0 || h > o {
		t.Error("holes are not written before outlines, which fall out last")
	}
}

// What package draft refuses is not written; its own tests have each refusal.
func TestRefuses(t *testing.T) {
	square := cut.Contour{Layer: cut.Outline, Contour: geom.Rect(geom.Box{Max: geom.Pt(10, 10)})}
	out, err := svgwrite.Bytes(cut.Drawing{Name: "x", UnitMM: 1, Contours: []cut.Contour{square, square}})
	if err == nil || !strings.Contains(err.Error(), "drawn a second time") || len(out) > 0 {
		t.Errorf("%v, %d bytes", err, len(out))
	}
}

// Whatever the coordinates, every number reads back within half a last digit,
// without exponent, and zero is never negative.
func TestNumbers(t *testing.T) {
	line := regexp.MustCompile(`<line x1="([^"]*)" y1="([^"]*)"`)
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-999e3, 1e6).Draw(t, "x")
		small := rapid.Float64Range(-1e-5, 1e-5).Draw(t, "small")
		b, err := svgwrite.Bytes(cut.Drawing{UnitMM: 1, Lines: []cut.Line{{Layer: cut.Guide, A: geom.Pt(x, small), B: geom.Pt(x-1, 5)}}})
		if err != nil {
			t.Fatal(err)
		}
		m := line.FindSubmatch(b)
		for i, want := range []float64{x, -small} {
			s := string(m[i+1])
			v, err := strconv.ParseFloat(s, 64)
			if err != nil || math.Abs(v-want) > 0.501e-6 {
				t.Errorf("%v mm is written %q", want, s)
			}
			if strings.ContainsAny(s, "eE+") || strings.HasPrefix(s, "-") && v == 0 {
				t.Errorf("%v mm is written %q", want, s)
			}
		}
	})
}

// No name of a job breaks out of its place, whatever is in it.
func TestWords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := washer(1)
		d.Name = rapid.String().Draw(t, "name") + "</title>\x00\u202e]]>"
		d.Texts[0].Text += rapid.String().Draw(t, "text")
		b, err := svgwrite.Bytes(d)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range string(b) {
			if r < ' ' && r != '\n' || r == '\u202e' || r == '\ufffd' {
				t.Errorf("holds %q", r)
			}
		}
		elements := 0
		for dec := xml.NewDecoder(bytes.NewReader(b)); ; {
			token, err := dec.Token()
			if token == nil {
				break
			}
			if err != nil {
				t.Fatal(err)
			}
			if _, ok := token.(xml.StartElement); ok {
				elements++
			}
		}
		if want := 3 + 4 + 2 + 4 + 3; elements != want { // svg, title, desc; layers; paths; lines; texts
			t.Errorf("%d elements, want %d", elements, want)
		}
	})
}

// Contrast of at least 3:1 on white and on black: WCAG 2.1, success criterion
// 1.4.11. No two layers are alike, and
// none has a pure primary, which machines take for orders of their own.
func TestColours(t *testing.T) {
	seen := map[string]bool{}
	for _, m := range regexp.MustCompile(`<g id="(\w+)" fill="none" stroke="#(..)(..)(..)"`).FindAllStringSubmatch(bytesOf(t, washer(1)), -1) {
		var rgb [3]float64
		pure := true
		for i := range rgb {
			n, err := strconv.ParseUint(m[i+2], 16, 8)
			if err != nil {
				t.Fatal(err)
			}
			pure = pure && (n == 0 || n == 255)
			rgb[i] = float64(n)
		}
		if white, black := cuttest.Contrast(rgb); white < 3 || black < 3 {
			t.Errorf("layer %s: contrast %.1f on white, %.1f on black", m[1], white, black)
		}
		if colour := m[2] + m[3] + m[4]; pure || seen[colour] {
			t.Errorf("layer %s: colour %s is a primary or another layer's", m[1], colour)
		} else {
			seen[colour] = true
		}
	}
	if len(seen) != 4 {
		t.Errorf("%d layers, want 4", len(seen))
	}
}
