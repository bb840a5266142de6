package picture

import (
	"bytes"
	"encoding/binary"
	"encoding/xml"
	"errors"
	"hash/crc32"
	"image/png"
	"io"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"codeberg.org/go-pdf/fpdf"

	"starwright/geom"
)

// sample draws a picture with one of everything.
func sample() *Picture {
	s := NewPicture("Sample <&> of 3 1/2 in")
	s.Heading("Sample <&> of 3 1/2 in", "With a line below it.")
	tri := geom.Polygon(geom.Pt(0, 0), geom.Pt(90, 0), geom.Pt(30, 60))
	v := s.Draw(Panel{
		Name:   "a triangle",
		Shapes: []Shape{{Contour: tri, Look: Part}, {Contour: geom.Circle(geom.Pt(40, 20), 6), Look: Hole}, {Contour: geom.Circle(geom.Pt(70, 60), 8), Look: Waste}},
		Lines:  []Path{Straight(geom.Pt(0, 0), geom.Pt(60, 30), Axis)},
		Dims: []Dim{{A: geom.Pt(0, 0), B: geom.Pt(90, 0), Side: Below}, {A: geom.Pt(0, 0), B: geom.Pt(30, 60), Side: Left},
			{A: geom.Pt(90, 0), B: geom.Pt(30, 60), Side: Aligned, Off: -8}},
		Angles: []AngleDim{{At: geom.Pt(0, 0), From: 0, To: geom.Pt(30, 60).Angle(), Text: "63.4°"}},
		Radii:  []Radius{{Center: geom.Pt(40, 20), R: 6, Text: "Ø 12 mm"}},
		Labels: []Label{{At: geom.Pt(70, 60), Text: "waste", Mark: Dot}, {At: geom.Pt(30, 60), Text: "a corner\nof two lines"}},
	}, s.Body(90), geom.Millimetre.Format)
	s.flag(v.Point(geom.Pt(60, 10)), 1, v.Used)
	s.Facts(geom.Pt(200, v.Used.Max.Y), 40, []Fact{Head("Facts"), {Name: "area", Value: "2700 mm²"}})
	s.Legend([]Key{{Text: "wood", Look: Part}, {Text: "axis", Look: Axis}})
	s.Notes("A sentence at the end.")
	s.Trim()
	return s
}

func TestSampleHasNoFaults(t *testing.T) {
	for _, f := range sample().Faults() {
		t.Error(f)
	}
}

func TestSameBytesEachTime(t *testing.T) {
	first := sample()
	svg, err := first.SVG()
	if err != nil {
		t.Fatal(err)
	}
	pic, err := first.PNG(DPI)
	if err != nil {
		t.Fatal(err)
	}
	var wg sync.WaitGroup
	for range 4 { // at once: the fonts' letters are shared
		wg.Go(func() {
			s := sample()
			if b, err := s.SVG(); err != nil || !bytes.Equal(b, svg) {
				t.Errorf("a second SVG differs (%v)", err)
			}
			if b, err := s.PNG(DPI); err != nil || !bytes.Equal(b, pic) {
				t.Errorf("a second PNG differs (%v)", err)
			}
		})
	}
	wg.Wait()
}

// TestSVG reads the file as XML: it is well formed, its size is that of the
// picture, every letter that is used is defined, and the words can be searched.
func TestSVG(t *testing.T) {
	s := sample()
	b, err := s.SVG()
	if err != nil {
		t.Fatal(err)
	}
	d := xml.NewDecoder(bytes.NewReader(b))
	attr := func(e xml.StartElement, name string) string {
		for _, a := range e.Attr {
			if a.Name.Local == name {
				return a.Value
			}
		}
		return ""
	}
	ids, used := map[string]bool{}, 0
	var inside, title, desc string
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		switch e := tok.(type) {
		case xml.StartElement:
			inside = e.Name.Local
			if inside == "svg" {
				w, h := s.Size()
				if attr(e, "width") != plain(w)+"mm" || attr(e, "height") != plain(h)+"mm" || attr(e, "viewBox") != "0 0 "+plain(w)+" "+plain(h) {
					t.Errorf("the picture is %g by %g mm, the file says %v", w, h, e.Attr)
				}
			}
			if id := attr(e, "id"); id != "" {
				ids[id] = true
			}
			if inside == "use" {
				used++
				if !ids[strings.TrimPrefix(attr(e, "href"), "#")] {
					t.Errorf("letter %q is used before it is defined", attr(e, "href"))
				}
			}
			if inside == "text" {
				t.Error("text depends on fonts that are installed")
			}
		case xml.CharData:
			switch inside {
			case "title":
				title += string(e)
			case "desc":
				desc += string(e)
			}
		}
	}
	if title := strings.TrimSpace(title); title != s.Title {
		t.Errorf("title %q, want %q", title, s.Title)
	}
	lines := strings.Split(strings.TrimSpace(desc), "\n")
	for _, w := range s.Words() {
		if !slices.Contains(lines, w.Text) {
			t.Errorf("%q is not in the description", w.Text)
		}
	}
	if used < 100 {
		t.Errorf("only %d letters are drawn", used)
	}
}

func TestPNG(t *testing.T) {
	s := sample()
	b, err := s.PNG(DPI)
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	w, h := s.Size()
	// 254 mm are ten inches: 1200 pixels at 120 an inch.
	if got := img.Bounds().Size(); got.X != 1200 || got.Y != int(math.Round(h/25.4*120)) || w != 254 {
		t.Errorf("%v pixels of %g by %g mm", got, w, h)
	}
	dark, white := 0, 0
	for y := range img.Bounds().Dy() {
		for x := range img.Bounds().Dx() {
			r, _, _, a := img.At(x, y).RGBA()
			switch {
			case a != 0xffff:
				t.Fatalf("pixel %d,%d is transparent", x, y)
			case r < 0x4000:
				dark++
			case r == 0xffff:
				white++
			}
		}
	}
	all := img.Bounds().Dx() * img.Bounds().Dy()
	if dark < all/1000 || white < all/2 {
		t.Errorf("of %d pixels %d are dark and %d white", all, dark, white)
	}
	if r, g, bl, _ := img.At(0, 0).RGBA(); r&g&bl != 0xffff {
		t.Error("the ground is not white")
	}
}

// TestPNGResolution reads the pHYs chunk by the layout of ISO/IEC 15948:2003,
// 11.3.5.3: pixels a metre in X and Y, then 1 for the metre.
func TestPNGResolution(t *testing.T) {
	b, err := NewPage(10, 10, "").PNG(254)
	if err != nil {
		t.Fatal(err)
	}
	at := bytes.Index(b, []byte("pHYs"))
	if at < 0 || at > bytes.Index(b, []byte("IDAT")) {
		t.Fatal("no pHYs chunk before the image")
	}
	x, y := binary.BigEndian.Uint32(b[at+4:]), binary.BigEndian.Uint32(b[at+8:])
	sum := binary.BigEndian.Uint32(b[at+13:])
	if x != 10000 || y != 10000 || b[at+12] != 1 || sum != crc32.ChecksumIEEE(b[at:at+13]) {
		t.Errorf("pHYs %d %d %d", x, y, b[at+12])
	}
}

func TestPNGRefusesSenselessResolutions(t *testing.T) {
	for _, dpi := range []float64{0, -1, 0.01, 1e6, math.NaN(), math.Inf(1)} {
		if b, err := sample().PNG(dpi); err == nil {
			t.Errorf("%g dots an inch gave %d bytes", dpi, len(b))
		}
	}
}

// TestColoursSurvive paints each colour as a square and finds it exactly in
// the PNG, whatever edges lie between.
func TestColoursSurvive(t *testing.T) {
	colours := []Color{Ink, Wood, Shade, Saw, Blue, Grey, Rust, Red, Tongue, Seated, Gold, Dusk}
	s := NewPage(100, 20, "")
	for i, c := range colours {
		o := geom.Pt(5+8*float64(i), 10)
		s.Fill(c, geom.Circle(o, 3.9))
		for k := range 5 {
			s.Line(geom.Pt(0, float64(k)), geom.Pt(100, 20-float64(k)), Thin(c))
		}
		s.Fill(c, geom.Circle(o, 2))
	}
	b, err := s.PNG(254) // 10 pixels a mm
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range colours {
		if got := img.At(50+80*i, 100); got != c.RGBA8() {
			t.Errorf("colour %06x came out as %v", c, got)
		}
	}
}

// TestWidthIsThatOfThePDF holds the sum of the letters' advances against what
// fpdf, which reads the font by code of its own, takes a word's width to be. It
// keeps each letter's to a thousandth of an em.
func TestWidthIsThatOfThePDF(t *testing.T) {
	pdf := fpdf.New("P", "mm", "A4", "")
	regular, bold := Fonts()
	pdf.AddUTF8FontFromBytes("go", "", regular)
	pdf.AddUTF8FontFromBytes("go", "B", bold)
	for _, style := range []string{"", "B"} {
		ty := Type{Size: 10, Bold: style == "B"}
		pdf.SetFont("go", style, ty.Size)
		for _, text := range []string{"AVAToLT.", "fi ffl", "9 1/4 in", "Ø 6.35 mm", "72°", "½ × 3", ""} {
			tol := 0.0005*ty.em()*float64(len(text)) + 1e-9
			if got, want := ty.Width(text), pdf.GetStringWidth(text); math.Abs(got-want) > tol {
				t.Errorf("%q is %g mm wide, fpdf says %g", text, got, want)
			}
		}
	}
}

func TestTextThatFontsLack(t *testing.T) {
	s := NewPage(100, 50, "title\x00\uffff")
	s.Text(geom.Pt(5, 20), "bell\a tab\t 漢字 \u202e \uffff end", Type{Size: 10})
	b, err := s.SVG()
	if err != nil {
		t.Fatal(err)
	}
	if err := xml.Unmarshal(b, new(struct{})); err != nil {
		t.Error(err)
	}
	if _, err := s.PNG(DPI); err != nil {
		t.Error(err)
	}
}

func TestWrapAndFit(t *testing.T) {
	ty := Type{Size: 10}
	text := "Lay the facet in the seat and clamp it; then run the jig along the fence."
	lines := ty.Wrap(text, 40)
	if strings.Join(lines, " ") != text || len(lines) < 3 {
		t.Errorf("wrapped to %q", lines)
	}
	for _, l := range lines {
		if ty.Width(l) > 40 {
			t.Errorf("%q is wider than 40 mm", l)
		}
	}
	if got := ty.Fit(text, 40); ty.Width(got) > 40 || !strings.HasPrefix(got, "Lay the facet") || !strings.HasSuffix(got, "...") {
		t.Errorf("fitted to %q", got)
	}
	if got := ty.Fit("short", 40); got != "short" {
		t.Errorf("fitted to %q", got)
	}
}

func TestLetters(t *testing.T) {
	for text, want := range map[string]string{"½ × Ø 3°": "½ × Ø 3°", "漢字 and é": "?? and é"} {
		if got := (Word{Text: text}).Letters(); got != want {
			t.Errorf("%q is drawn as %q, want %q", text, got, want)
		}
	}
}

func TestFaultsAreFound(t *testing.T) {
	ty := Type{Size: 9}
	tests := []struct {
		name string
		draw func(s *Picture)
		want string
	}{
		{"words over each other", func(s *Picture) { s.Text(geom.Pt(10, 10), "first", ty); s.Text(geom.Pt(12, 11), "second", ty) }, `"second" overlaps "first"`},
		{"a line through a word", func(s *Picture) {
			s.Text(geom.Pt(10, 10), "word", ty)
			s.Line(geom.Pt(0, 11), geom.Pt(50, 11), Thin(Ink))
		}, `a line runs through "word"`},
		{"a line that leaves the page", func(s *Picture) { s.Line(geom.Pt(10, 10), geom.Pt(150, 10), Thin(Ink)) }, "the page is 0.0 to 100.0"},
		{"a word that leaves the page", func(s *Picture) { s.Text(geom.Pt(95, 10), "long word", ty) }, "the page is 0.0 to 100.0"},
		{"nothing", func(s *Picture) {
			s.Text(geom.Pt(10, 10), "word", ty)
			s.Line(geom.Pt(1, 20), geom.Pt(50, 20), Thin(Ink))
		}, ""},
	}
	for _, tt := range tests {
		s := NewPage(100, 50, "")
		tt.draw(s)
		got := strings.Join(s.Faults(), "; ")
		if tt.want == "" && got != "" || !strings.Contains(got, tt.want) {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}
