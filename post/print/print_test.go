package print

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"regexp"
	"strings"
	"testing"
	"time"

	"starwright/geom"
	"starwright/post/picture"

	"pgregory.net/rapid"
)

func say(mm float64) string { return fmt.Sprintf("%.0f mm", mm) }

// sample is a document with every kind of block.
func sample(p Paper) *PDF {
	d := New(p, "a job (with brackets)", "")
	f := d.Section("First")
	f.Head("Heading")
	f.Text(strings.Repeat("words that run on ", 20))
	f.Strong("strong words")
	f.Steps("one", "two")
	f.Points("a point")
	f.Ticks("tick me")
	f.Write("Name:")
	f.Table([]Column{{Tick: true}, {Head: "What", Wide: 1}, {Head: "How many", Right: true}}, [][]string{{"", "blanks", "40"}})
	square := geom.Rect(geom.Box{Max: geom.Pt(100, 60)})
	p1 := picture.Panel{Name: "a board", Shapes: []picture.Shape{{Contour: square, Look: picture.Part}}}
	f.View(p1, 60, say)
	f.Beside(p1, p1, 0.5, 40, say)
	return d
}

func mustBytes(t *testing.T, d *PDF) []byte {
	t.Helper()
	b, err := d.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// A4 is 210 by 297 mm (ISO 216), Letter 8 1/2 by 11 in; a point is 1/72 in.
func TestPageSizes(t *testing.T) {
	for _, row := range []struct {
		name string
		w, h float64 // points
	}{{"A4", 210 / 25.4 * 72, 297 / 25.4 * 72}, {"Letter", 612, 792}} {
		t.Run(row.name, func(t *testing.T) {
			p, ok := PaperNamed(row.name)
			if !ok {
				t.Fatal("no such paper")
			}
			boxes := regexp.MustCompile(`/MediaBox \[0 0 ([0-9.]+) ([0-9.]+)\]`).FindAllStringSubmatch(string(mustBytes(t, sample(p))), -1)
			if len(boxes) == 0 {
				t.Fatal("no page has a size")
			}
			for _, b := range boxes {
				var w, h float64
				fmt.Sscan(b[1], &w)
				fmt.Sscan(b[2], &h)
				if math.Abs(w-row.w) > 0.01 || math.Abs(h-row.h) > 0.01 {
					t.Errorf("a page of %g by %g points, want %.2f by %.2f", w, h, row.w, row.h)
				}
			}
		})
	}
	if _, ok := PaperNamed("Legal"); ok {
		t.Error("there is a paper that is not")
	}
}

// The clock shows whole seconds in a PDF, so the two runs lie more than one apart.
func TestSameBytesASecondLater(t *testing.T) {
	p, _ := PaperNamed("A4")
	a := mustBytes(t, sample(p))
	time.Sleep(1100 * time.Millisecond)
	if b := mustBytes(t, sample(p)); !bytes.Equal(a, b) {
		t.Error("two runs differ")
	}
	if regexp.MustCompile(`Date|D:[0-9]{8}`).Match(a) {
		t.Error("a time is in the file")
	}
}

// OpenType specification, "Calculating checksums": each table adds up to the sum
// in its entry, the head table with its adjustment left out. (The adjustment itself,
// which no reader of PDFs looks at, fpdf gets wrong where it has to borrow.)
func TestFontsAreSound(t *testing.T) {
	p, _ := PaperNamed("A4")
	fonts := 0
	data := mustBytes(t, sample(p))
	for _, m := range regexp.MustCompile(`/Length ([0-9]+)\n/Filter /FlateDecode\n/Length1 ([0-9]+)\n>>\nstream\n`).FindAllSubmatchIndex(data, -1) {
		var packed, long int
		fmt.Sscan(string(data[m[2]:m[3]]), &packed)
		fmt.Sscan(string(data[m[4]:m[5]]), &long)
		z, err := zlib.NewReader(bytes.NewReader(data[m[1] : m[1]+packed]))
		if err != nil {
			t.Fatal(err)
		}
		font, err := io.ReadAll(z)
		if err != nil {
			t.Fatal(err)
		}
		fonts++
		regular, _ := picture.Fonts()
		if len(font) != long || long > len(regular)/2 {
			t.Errorf("the font has %d bytes, says %d; whole it has %d", len(font), long, len(regular))
		}
		for i := range int(binary.BigEndian.Uint16(font[4:])) {
			e := font[12+16*i:]
			at, long := binary.BigEndian.Uint32(e[8:]), binary.BigEndian.Uint32(e[12:])
			table := bytes.Clone(font[at : at+long])
			if string(e[:4]) == "head" {
				clear(table[8:12])
			}
			if want := binary.BigEndian.Uint32(e[4:]); sumWords(table) != want {
				t.Errorf("table %s adds up to %x, its entry says %x", e[:4], sumWords(table), want)
			}
		}
	}
	if fonts != 2 {
		t.Errorf("%d fonts, want a regular and a bold one", fonts)
	}
}

// sumWords adds up a table of a font, filled up to whole words with zeros.
func sumWords(b []byte) uint32 {
	var sum uint32
	for i, c := range b {
		sum += uint32(c) << (24 - 8*(i%4))
	}
	return sum
}

// ISO 32000-1, 7.5.4: the table of places at the end leads to each object.
func TestPlacesLeadToObjects(t *testing.T) {
	p, _ := PaperNamed("Letter")
	data := mustBytes(t, sample(p))
	var xref int
	if m := regexp.MustCompile(`startxref\n([0-9]+)\n%%EOF\n$`).FindSubmatch(data); m == nil {
		t.Fatal("no table of places")
	} else {
		fmt.Sscan(string(m[1]), &xref)
	}
	places := regexp.MustCompile(`(?m)^([0-9]{10}) 00000 n $`).FindAllSubmatch(data[xref:], -1)
	if len(places) < 8 {
		t.Fatalf("only %d objects", len(places))
	}
	for i, place := range places {
		var at int
		fmt.Sscanf(string(place[1]), "%d", &at)
		if want := fmt.Sprintf("%d 0 obj\n", i+1); !bytes.HasPrefix(data[at:], []byte(want)) {
			t.Errorf("object %d is not at its place", i+1)
		}
	}
}

// Points along an arc as it is written lie on its circle to a hundred thousandth
// of the radius, whichever way it runs.
func TestArcsAreRound(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		num := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(rt, name) }
		c := geom.Curve{A: geom.Pt(num("ax", 0, 200), num("ay", 0, 200)), Bulge: num("bulge", 0.01, 2)}
		c.B = c.A.Add(geom.Polar(num("chord", 20, 80), geom.Deg(num("turn", 0, 360))))
		if rapid.Bool().Draw(rt, "clockwise") {
			c = c.Reversed()
		}
		w := writer{zoom: 1}
		w.arc(c)
		// Three points a curve; each begins where the one before ends.
		var xy []float64
		for _, word := range strings.Fields(strings.ReplaceAll(string(w.buf), "c", "")) {
			var v float64
			fmt.Sscan(word, &v)
			xy = append(xy, v*mmPerPt)
		}
		from := c.A
		for ; len(xy) >= 6; xy = xy[6:] {
			q := [3]geom.Point{geom.Pt(xy[0], xy[1]), geom.Pt(xy[2], xy[3]), geom.Pt(xy[4], xy[5])}
			for i := range 11 {
				t := float64(i) / 10
				ab, bc, cd := from.Lerp(q[0], t), q[0].Lerp(q[1], t), q[1].Lerp(q[2], t)
				on := ab.Lerp(bc, t).Lerp(bc.Lerp(cd, t), t)
				if off := c.DistTo(on); off > 1e-5*c.Radius()+0.001 {
					rt.Fatalf("a point lies %g mm off an arc of %g mm", off, c.Radius())
				}
			}
			from = q[2]
		}
		if from.Dist(c.B) > 0.001 {
			rt.Fatalf("the arc ends %g mm off its end", from.Dist(c.B))
		}
	})
}

func TestLongSectionsFlowOver(t *testing.T) {
	p, _ := PaperNamed("A4")
	d := New(p, "job", "2026-12-05")
	f := d.Section("Long")
	var rows [][]string
	for i := range 120 {
		rows = append(rows, []string{fmt.Sprint(i), "a part"})
	}
	f.Table([]Column{{Head: "No.", Right: true}, {Head: "Part", Wide: 1}}, rows)
	if d.Pages() < 3 {
		t.Fatalf("120 rows on %d pages", d.Pages())
	}
	mustBytes(t, d)
	seen := 0
	for i, words := range d.Words() {
		page := strings.Join(words, "|")
		if !strings.Contains(page, "No.|Part") {
			t.Errorf("page %d repeats no heads", i+1)
		}
		if !strings.Contains(page, fmt.Sprintf("page %d of %d", i+1, d.Pages())) || !strings.Contains(page, "Date: 2026-12-05") {
			t.Errorf("page %d has no foot", i+1)
		}
		seen += strings.Count(page, "a part")
	}
	if seen != 120 {
		t.Errorf("%d rows were printed, want 120", seen)
	}
	for i, w := range d.pages[0].base.Words() {
		if w.At.Y < marginFoot-0.1 || w.At.Y > p.H || w.At.X < 0 || w.At.X > p.W {
			t.Errorf("word %d lies off the page: %+v", i, w)
		}
	}
}

// A window moved along a line keeps what lies within: every kept point is on
// the line and in the box, and sampled points of the line that lie in the box
// are kept.
func TestClip(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		num := func(name string) float64 { return rapid.Float64Range(-50, 50).Draw(rt, name) }
		a, b := geom.Pt(num("ax"), num("ay")), geom.Pt(num("bx"), num("by"))
		box := geom.Box{Min: geom.Pt(-20, -10), Max: geom.Pt(20, 10)}
		p, q, ok := clip(a, b, box)
		const tol = 1e-9
		for i := range 101 {
			s := a.Lerp(b, float64(i)/100)
			in := box.Grow(-tol).Holds(geom.Box{Min: s, Max: s})
			kept := ok && s.Dist(geom.Curve{A: p, B: q}.Nearest(s)) <= 1e-7
			if in && !kept {
				rt.Fatalf("%v lies in the box and was cut off", s)
			}
			if kept && !box.Grow(1e-7).Holds(geom.Box{Min: s, Max: s}) {
				rt.Fatalf("%v lies outside the box and was kept", s)
			}
		}
	})
}

// The name of a plate stands within it. By hand: of a plate whose slope runs from the
// lower left to the upper right of a sheet only the lower right half has room for it; a
// sheet that shows but its corner has none, and words that may stand outside do so.
func TestTemplateNameInside(t *testing.T) {
	plate := Template{Outline: geom.Polygon(geom.Pt(0, 0), geom.Pt(200, 0), geom.Pt(200, 200))}
	name := TemplateLabel{At: geom.Pt(100, 90), Text: "plate", Point: true, Inside: true}
	whole := tile{window: geom.Box{Max: geom.Pt(200, 200)}}
	if at, ok := whole.beside(plate, name, 20); !ok || !plate.Outline.Contains(at) {
		t.Errorf("at %v, %t", at, ok)
	}
	corner := tile{window: geom.Box{Max: geom.Pt(105, 105)}}
	if at, ok := corner.beside(plate, name, 90); ok {
		t.Errorf("90 mm of words have no room within the corner, and stand at %v", at)
	}
	name.Inside = false
	if _, ok := corner.beside(plate, name, 60); !ok {
		t.Error("no room outside")
	}
}

func TestTemplateTiles(t *testing.T) {
	p, _ := PaperNamed("A4")
	for _, row := range []struct {
		name  string
		w, h  float64
		pages int
	}{
		{"fits", 150, 90, 1},
		{"fits turned", 210, 90, 1},
		{"two", 300, 90, 2},
		{"A4 across", 297, 210, 2}, // windows of 178 mm that overlap by 14 reach 342
		{"A3 upright", 297, 420, 4},
	} {
		t.Run(row.name, func(t *testing.T) {
			d := New(p, "job", "")
			if err := d.Template(Template{Title: "T", Outline: geom.Rect(geom.Box{Max: geom.Pt(row.w, row.h)}), Note: "a note"}); err != nil {
				t.Fatal(err)
			}
			if d.Pages() != row.pages {
				t.Errorf("%d pages, want %d", d.Pages(), row.pages)
			}
			for i, words := range d.Words() {
				page := strings.Join(words, "|")
				if !strings.Contains(page, "100 mm.") || !strings.Contains(page, "4 in.") {
					t.Errorf("page %d has no check bars", i+1)
				}
				if row.pages > 1 && !strings.Contains(page, "lay ring on ring") {
					t.Errorf("page %d does not say which part it is", i+1)
				}
			}
		})
	}
	d := New(p, "job", "")
	if err := d.Template(Template{Title: "T", Outline: geom.Rect(geom.Box{Max: geom.Pt(9000, 9000)})}); err == nil {
		t.Error("a template of nine metres was printed")
	}
}
