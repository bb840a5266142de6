package page

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"io/fs"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/finding"

	"pgregory.net/rapid"
)

func build(t *testing.T, d Data) string {
	t.Helper()
	var b bytes.Buffer
	if err := Build(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// pieces are the parts of a page that a browser would find, by a plain search
// for the marks that open and close them.
func pieces(t *testing.T, page string) (style, script, data, rest string) {
	t.Helper()
	m := regexp.MustCompile(`(?s)^(.*)<style>(.*?)</style>(.*)<script type="application/json" id="data">(.*?)</script>\n<script>(.*?)</script>(.*)$`).FindStringSubmatch(page)
	if m == nil {
		t.Fatal("the page has not the parts it should have")
	}
	return m[2], m[5], m[4], m[1] + m[3] + m[6]
}

func TestSameBytesEachTime(t *testing.T) {
	d := sampleData(t)
	if first, second := build(t, d), build(t, d); first != second {
		t.Error("two pages of the same data differ")
	}
}

func TestPolicyNamesWhatIsThere(t *testing.T) {
	page := build(t, hostileData())
	style, script, _, rest := pieces(t, page)
	// Content Security Policy Level 3, section 8.3: the hash is of the text
	// between the tags.
	for name, text := range map[string]string{"style-src": style, "script-src": script} {
		sum := sha256.Sum256([]byte(text))
		if want := name + " 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"; !strings.Contains(rest, want) {
			t.Errorf("the policy lacks %s", want)
		}
	}
	if !strings.Contains(rest, `content="default-src 'none';`) {
		t.Error("the policy does not begin by forbidding everything")
	}
}

// TestHostileWordsStayWords asks that no text given can close the element it
// stands in (HTML Standard, section 4.12.1.3, restrictions for contents of
// script elements), and that it is still there to be read.
func TestHostileWordsStayWords(t *testing.T) {
	page := build(t, hostileData())
	_, script, data, rest := pieces(t, page)
	for _, bad := range []string{"<", ">", "&", "\u2028", "\u2029", "\u202e", "\x00"} {
		if strings.Contains(data, bad) {
			t.Errorf("the data hold %q as it is", bad)
		}
	}
	_, _, _, calm := pieces(t, build(t, Data{Title: "calm"}))
	for _, mark := range []string{"<", ">", "\u2028", "\u202e", "\x00"} {
		if got, want := strings.Count(rest, mark), strings.Count(calm, mark); got != want {
			t.Errorf("outside of the data there are %d of %q, in a page with calm words %d", got, mark, want)
		}
	}
	if n := strings.Count(page, "<script"); n != 2 {
		t.Errorf("%d script elements are opened, want 2", n)
	}
	if strings.Contains(script, "window.broken") {
		t.Error("words of the job stand in the script")
	}
	var doc struct{ Programs []program }
	if err := json.Unmarshal([]byte(data), &doc); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"</script>", "<!--", "{{data}}", `& "'`} {
		if !strings.Contains(doc.Programs[0].Text, want) {
			t.Errorf("the program's text has lost %q: %q", want, doc.Programs[0].Text)
		}
	}
	if n := strings.Count(doc.Programs[0].Text, "\n") + 1; n != 2 {
		t.Errorf("two lines came out as %d", n)
	}
}

func TestPlain(t *testing.T) {
	for _, row := range []struct{ name, in, want string }{
		{"as it is", "G1 X1.5 (½ in)", "G1 X1.5 (½ in)"},
		{"tab", "a\tb", "a b"},
		{"controls are shown", "a\x00\x1b\x7f\u0085b", "a\ufffd\ufffd\ufffd\ufffdb"},
		{"line ends of Unicode", "a\u2028b\u2029c", "a\ufffdb\ufffdc"},
		{"direction of writing", "a\u202eb\u2066c\u200f", "a\ufffdb\ufffdc\ufffd"},
		{"not UTF-8", "a\xffb", "a\ufffdb"},
		{"too long", strings.Repeat("x", maxShown+1), strings.Repeat("x", maxShown) + "…"},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := plain(row.in); got != row.want {
				t.Errorf("%q, want %q", got, row.want)
			}
		})
	}
}

func TestRefusals(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	program := func(change func(*Program)) Data {
		p := Program{Name: "p", Lines: []string{"G0 Z5", "G1 X9"}, Moves: []toolpath.Move{{Line: 1}, {Line: 2, Kind: toolpath.Linear, Feed: 100}}}
		change(&p)
		return Data{Programs: []Program{p}}
	}
	for _, row := range []struct {
		name, want string
		data       Data
	}{
		{"place is no number", "line 2: NaN", program(func(p *Program) { p.Moves[1].To.X = nan })},
		{"place out of all reach", "line 2: 1e+07", program(func(p *Program) { p.Moves[1].From.Z = 1e7 })},
		{"endless feed", "line 2: +Inf", program(func(p *Program) { p.Moves[1].Feed = inf })},
		{"endless arc", "radians", program(func(p *Program) { p.Moves[1].Sweep = geom.Angle(inf) })},
		{"unknown kind", "kind of move 9", program(func(p *Program) { p.Moves[1].Kind = 9 })},
		{"line beyond the file", "line 3; lines 1 to 2", program(func(p *Program) { p.Moves[1].Line = 3 })},
		{"lines going back", "line 1; lines 2 to 2", program(func(p *Program) { p.Moves[0].Line, p.Moves[1].Line = 2, 1 })},
		{"times that do not match", "1 times for 2 moves", program(func(p *Program) { p.Times = []float64{1} })},
		{"time below zero", "-1 seconds", program(func(p *Program) { p.Times = []float64{1, -1} })},
		{"cutter below zero", "below zero", program(func(p *Program) { p.Cutter = -1 })},
		{"shape is no number", "tab", program(func(p *Program) { p.Shapes = []Shape{{Role: Tab, Contour: geom.Circle(geom.Pt(nan, 0), 1)}} })},
		{"mark is no number", "mark", program(func(p *Program) { p.Marks = []Mark{{geom.Pt(inf, 0), "valley"}} })},
		{"finding is no number", "finding", program(func(p *Program) {
			p.Findings = []finding.Finding{{What: "gouge", ByMM: nan}}
		})},
		{"drawing is no number", "drawing d: line on GUIDE", Data{Drawings: []Drawing{{Name: "d", Lines: []LayerLine{{"GUIDE", geom.Pt(nan, 0), geom.Pt(0, 0)}}}}}},
		{"finding of a drawing", "drawing d: finding", Data{Drawings: []Drawing{{Name: "d", Findings: []finding.Finding{{At: &geom.Point3{X: nan}}}}}}},
		{"unit of a drawing", "unit of -1 mm", Data{Drawings: []Drawing{{Name: "d", UnitMM: -1}}}},
	} {
		t.Run(row.name, func(t *testing.T) {
			var b bytes.Buffer
			err := Build(&b, row.data)
			if err == nil || !strings.Contains(err.Error(), row.want) {
				t.Errorf("error %v, want one with %q", err, row.want)
			}
			if b.Len() > 0 {
				t.Errorf("%d bytes were written before the refusal", b.Len())
			}
		})
	}
}

// The page and its moves stay small enough for a phone to load: the text of a
// program is the larger part of it.
func TestSize(t *testing.T) {
	const mostCode = 400_000      // bytes beside the data
	const mostMove, most = 12, 50 // bytes a move packed; with its line of text
	long := longSample(t)
	page := build(t, Data{Programs: []Program{long}})
	_, _, data, _ := pieces(t, page)
	if n := len(page) - len(data); n > mostCode {
		t.Errorf("%d bytes without data", n)
	}
	if n := len(packMoves(long.Moves)) / len(long.Moves); n > mostMove {
		t.Errorf("%d bytes a move", n)
	}
	if n := len(data) / len(long.Moves); n > most {
		t.Errorf("%d bytes of data a move", n)
	}
}

// TestNoNetwork looks for ways out of the page in what it is made of.
func TestNoNetwork(t *testing.T) {
	ways := regexp.MustCompile(`https?:|//[a-z]+\.|@import|url\(|fetch\(|XMLHttpRequest|WebSocket|EventSource|sendBeacon|import\(|eval\(|innerHTML|document\.write`)
	err := fs.WalkDir(assets, "assets", func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		b, err := assets.ReadFile(path)
		if found := ways.Find(b); found != nil {
			t.Errorf("%s holds %s", path, found)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestEveryScriptIsUsed(t *testing.T) {
	files, err := fs.Glob(assets, "assets/js/*.js")
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range files {
		names = append(names, strings.TrimSuffix(strings.TrimPrefix(f, "assets/js/"), ".js"))
	}
	used := slices.Sorted(slices.Values(scripts[:]))
	if !slices.Equal(names, used) {
		t.Errorf("in the folder: %v, on the page: %v", names, used)
	}
}

// unpack is the slow twin of packMoves, written from its comment.
func unpack(t rapid.TB, text string, n int) []toolpath.Move {
	b, err := base64.StdEncoding.DecodeString(text)
	if err != nil {
		t.Fatal(err)
	}
	plainNumber := func() uint64 {
		v := uint64(0)
		for shift := 0; ; shift += 7 {
			c := b[0]
			b = b[1:]
			v |= uint64(c&0x7f) << shift
			if c < 0x80 {
				return v
			}
		}
	}
	signed := func() float64 {
		v := plainNumber()
		if v%2 == 1 {
			return -float64(v/2) - 1
		}
		return float64(v / 2)
	}
	var out []toolpath.Move
	var at [3]float64
	line, feed, rpm := 0, 0.0, 0.0
	step := func() {
		for i := range at {
			at[i] += signed()
		}
	}
	place := func() geom.Point3 { return geom.Point3{X: at[0] * 1e-4, Y: at[1] * 1e-4, Z: at[2] * 1e-4} }
	for len(out) < n {
		head := plainNumber()
		m := toolpath.Move{Kind: toolpath.Kind(head & 3)}
		line += int(signed())
		m.Line = line
		if head&4 != 0 {
			step()
		}
		m.From = place()
		step()
		m.To = place()
		if m.IsArc() {
			m.Center = m.From.XY().Add(geom.Pt(signed()*1e-4, signed()*1e-4))
			m.Sweep = geom.Angle(signed() * 1e-7)
		}
		if head&8 != 0 {
			feed += signed()
		}
		if head&16 != 0 {
			rpm += signed()
		}
		m.Feed, m.RPM = feed*1e-3, rpm*1e-3
		out = append(out, m)
	}
	if len(b) != 0 {
		t.Fatalf("%d bytes are left over", len(b))
	}
	return out
}

// TestPackedMovesComeBack packs any moves and unpacks them with the twin. The
// seed of a failure is printed by rapid and kept in testdata.
func TestPackedMovesComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.OneOf(rapid.Float64Range(-300, 300), rapid.Float64Range(-1e6, 1e6), rapid.Just(0.0))
		point := rapid.Custom(func(t *rapid.T) geom.Point3 {
			return geom.Point3{X: length.Draw(t, "x"), Y: length.Draw(t, "y"), Z: length.Draw(t, "z")}
		})
		rate := rapid.SampledFrom([]float64{0, 300, 1200, 1200.5, 18000})
		var moves []toolpath.Move
		line := 0
		from := geom.Point3{}
		for range rapid.IntRange(0, 30).Draw(t, "n") {
			line += rapid.IntRange(0, 5).Draw(t, "lines")
			if rapid.IntRange(0, 9).Draw(t, "jump") == 0 {
				from = point.Draw(t, "from")
			}
			m := toolpath.Move{Line: line, Kind: toolpath.Kind(rapid.IntRange(0, 3).Draw(t, "kind")), From: from, To: point.Draw(t, "to"),
				Feed: rate.Draw(t, "feed"), RPM: rate.Draw(t, "rpm")}
			if m.IsArc() {
				m.Center = geom.Pt(length.Draw(t, "cx"), length.Draw(t, "cy"))
				m.Sweep = geom.Angle(rapid.Float64Range(-7, 7).Draw(t, "sweep"))
			}
			moves = append(moves, m)
			from = m.To
		}
		got := unpack(t, packMoves(moves), len(moves))
		const half = lengthStep * 0.5001
		for i, m := range moves {
			g := got[i]
			if g.Line != m.Line || g.Kind != m.Kind || math.Abs(g.Feed-m.Feed) > rateStep || math.Abs(g.RPM-m.RPM) > rateStep {
				t.Fatalf("move %d: %+v, want %+v", i, g, m)
			}
			for k, d := range []float64{g.From.X - m.From.X, g.From.Y - m.From.Y, g.From.Z - m.From.Z, g.To.X - m.To.X, g.To.Y - m.To.Y, g.To.Z - m.To.Z} {
				if math.Abs(d) > half {
					t.Fatalf("move %d, length %d is off by %g: %+v, want %+v", i, k, d, g, m)
				}
			}
			// The centre is packed from the start, which is rounded too.
			if m.IsArc() && (g.Center.Dist(m.Center) > 4*half || math.Abs(float64(g.Sweep-m.Sweep)) > angleStep) {
				t.Fatalf("move %d: arc %+v, want %+v", i, g, m)
			}
		}
	})
}
