package ncwrite

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/toolpath"

	"pgregory.net/rapid"
)

func at(x, y, z float64) geom.Point3 { return geom.Point3{X: x, Y: y, Z: z} }

// sample is a slot with a ramp, half a circle and a stop between two loads.
func sample() toolpath.Program {
	return toolpath.Program{
		Name:    "slot-left",
		Header:  []string{"Spline slot, left facet (1 of 2)", "Cutter 6.35 mm Ø, X0 the star's centre; this remark is long enough to need a second line"},
		RPM:     18000,
		SpinUpS: 3,
		SafeZ:   10,
		Steps: []toolpath.Step{
			toolpath.RapidTo(at(20, 9.5, 10)),
			toolpath.Remark("pass 1 of 1"),
			toolpath.FeedTo(at(20, 9.5, 0.0004), 300),
			toolpath.FeedTo(at(40.12345, 9.5, -1.5), 300),
			toolpath.FeedTo(at(40.12345, 9.5, -1.5), 1200),
			toolpath.ArcTo(toolpath.ArcCCW, at(30, 19.62345, -1.5), geom.Pt(30, 9.5), 1200),
			toolpath.RapidTo(at(30, 19.62345, 10)),
			toolpath.Pause("next segment"),
			toolpath.RapidTo(at(-0.0001, 0, 10)),
		},
	}
}

// The bytes of a whole program, by the contract: upper case, one command a
// line, fixed point with a decimal, comments plain.
func TestWholeProgram(t *testing.T) {
	want := `(Spline slot, left facet -1 of 2-)
(Cutter 6.35 mm dia, X0 the star's centre, this remark is long enough)
(to need a second line)
G17
G21
G40
G54
G80
G90
G94
G0 Z10.0
S18000 M3
G4 P3.0
G0 X20.0 Y9.5
(pass 1 of 1)
G1 Z0.0 F300.0
G1 X40.123 Z-1.5
G3 X30.0 Y19.623 I-10.123 J0.0 F1200.0
G0 Z10.0
M5
(next segment)
M0
G0 Z10.0
S18000 M3
G4 P3.0
G0 X0.0 Y0.0
M5
M2
`
	got, err := Bytes(sample(), 1)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != want {
		t.Errorf("program reads\n%s\nwant\n%s", got, want)
	}
}

func TestInchProgram(t *testing.T) {
	got, err := Bytes(sample(), geom.MMPerInch)
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range []string{"G20", "G0 Z0.3937", "G0 X0.7874 Y0.37402", "G1 Z0.00002 F11.81102", "G3 X1.1811 Y0.77258 I-0.39856 J0.0 F47.24409"} {
		if !strings.Contains(string(got), "\n"+line+"\n") {
			t.Errorf("no line %q in\n%s", line, got)
		}
	}
}

func TestBytes(t *testing.T) {
	if text, err := Bytes(sample(), 1); err != nil || !strings.HasSuffix(string(text), "M5\nM2\n") {
		t.Errorf("%v, made %q", err, text)
	}
	p := sample()
	p.Steps = p.Steps[:4]
	if text, err := Bytes(p, 1); err == nil || len(text) > 0 {
		t.Errorf("error %v, made %q of a program that is refused", err, text)
	}
}

// Each program that is refused, and a word of the reason.
func TestRefused(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	up := toolpath.RapidTo(at(0, 0, 10))
	down := toolpath.FeedTo(at(0, 0, -1), 300)
	for _, row := range []struct {
		name  string
		tweak func(p *toolpath.Program)
		want  string
	}{
		{"no steps", func(p *toolpath.Program) { p.Steps = nil }, "no move"},
		{"remarks only", func(p *toolpath.Program) { p.Steps = []toolpath.Step{toolpath.Remark("x")} }, "no move"},
		{"safe height zero", func(p *toolpath.Program) { p.SafeZ = 0 }, "safe height"},
		{"safe height no number", func(p *toolpath.Program) { p.SafeZ = nan }, "safe height"},
		{"no speed", func(p *toolpath.Program) { p.RPM = 0 }, "spindle speed"},
		{"speed no number", func(p *toolpath.Program) { p.RPM = nan }, "spindle speed"},
		{"negative wait", func(p *toolpath.Program) { p.SpinUpS = -1 }, "wait"},
		{"endless wait", func(p *toolpath.Program) { p.SpinUpS = inf }, "wait"},
		{"ends in the wood", func(p *toolpath.Program) { p.Steps = []toolpath.Step{up, down} }, "below the safe height"},
		{"first rapid low", func(p *toolpath.Program) { p.Steps = []toolpath.Step{toolpath.RapidTo(at(5, 5, 9)), up} }, "first rapid"},
		{"cut before any rapid", func(p *toolpath.Program) { p.Steps = []toolpath.Step{down, up} }, "begin with a rapid"},
		{"rapid in the wood", func(p *toolpath.Program) {
			p.Steps = []toolpath.Step{up, down, toolpath.RapidTo(at(1, 0, -1)), toolpath.RapidTo(at(1, 0, 10))}
		}, "rapid across"},
		{"rapid slanting out of the wood", func(p *toolpath.Program) { p.Steps = []toolpath.Step{up, down, toolpath.RapidTo(at(1, 0, 10))} }, "rapid across"},
		{"rapid slanting into the wood", func(p *toolpath.Program) { p.Steps = []toolpath.Step{up, toolpath.RapidTo(at(1, 0, 0)), up} }, "rapid across"},
		{"stop in the wood", func(p *toolpath.Program) { p.Steps = []toolpath.Step{up, down, toolpath.Pause("look"), up} }, "retract first"},
		{"no feed", func(p *toolpath.Program) { p.Steps = []toolpath.Step{up, toolpath.FeedTo(at(0, 0, -1), 0), up} }, "feed"},
		{"feed below the raster", func(p *toolpath.Program) { p.Steps = []toolpath.Step{up, toolpath.FeedTo(at(0, 0, -1), 1e-5), up} }, "feed"},
		{"feed no number", func(p *toolpath.Program) { p.Steps = []toolpath.Step{up, toolpath.FeedTo(at(0, 0, -1), nan), up} }, "feed"},
		{"feed endless", func(p *toolpath.Program) { p.Steps = []toolpath.Step{up, toolpath.FeedTo(at(0, 0, -1), inf), up} }, "feed"},
		{"X no number", func(p *toolpath.Program) { p.Steps = []toolpath.Step{up, toolpath.RapidTo(at(nan, 0, 10))} }, "no number"},
		{"Z endless", func(p *toolpath.Program) { p.Steps = []toolpath.Step{toolpath.RapidTo(at(0, 0, inf))} }, "no number"},
		{"Y beyond 100 m", func(p *toolpath.Program) { p.Steps = []toolpath.Step{toolpath.RapidTo(at(0, -1.1e5, 10))} }, "100 m"},
		{"centre no number", func(p *toolpath.Program) {
			p.Steps = []toolpath.Step{up, toolpath.ArcTo(toolpath.ArcCW, at(2, 0, 10), geom.Pt(1, nan), 300)}
		}, "no number"},
		{"centre off by 0.01 mm", func(p *toolpath.Program) {
			p.Steps = []toolpath.Step{up, toolpath.ArcTo(toolpath.ArcCW, at(2.01, 0, 10), geom.Pt(1, 0), 300)}
		}, "centre"},
		{"circle of radius 0.0003 mm", func(p *toolpath.Program) {
			p.Steps = []toolpath.Step{up, toolpath.ArcTo(toolpath.ArcCW, at(0, 0, 10), geom.Pt(0.0003, 0), 300)}
		}, "too small"},
		{"kind of move", func(p *toolpath.Program) { p.Steps = []toolpath.Step{{Kind: 9, To: at(0, 0, 10)}} }, "kind of move"},
		{"kind of step", func(p *toolpath.Program) { p.Steps = []toolpath.Step{{Do: 9}} }, "kind of step"},
	} {
		p := sample()
		row.tweak(&p)
		text, err := Bytes(p, 1)
		if err == nil || !strings.Contains(err.Error(), row.want) || !strings.Contains(err.Error(), "slot-left") {
			t.Errorf("%s: error %v, want one with %q; wrote\n%s", row.name, err, row.want, text)
		}
	}
	if _, err := Bytes(sample(), 10); err == nil || !strings.Contains(err.Error(), "25.4") {
		t.Errorf("a unit of 10 mm: error %v", err)
	}
}

// Fixed point is what strconv prints without an exponent, less trailing
// zeros, never -0.
func TestFixedAgainstStrconv(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		decimals := rapid.SampledFrom([]int{3, 5}).Draw(t, "decimals")
		ticks := rapid.Int64Range(-100_000_000_00000, 100_000_000_00000).Draw(t, "ticks")
		if rapid.Bool().Draw(t, "small") {
			ticks %= 200_000
		}
		want := strconv.FormatFloat(float64(ticks)/math.Pow10(decimals), 'f', decimals, 64)
		want = strings.TrimRight(want, "0")
		if strings.HasSuffix(want, ".") {
			want += "0"
		}
		if ticks == 0 {
			want = "0.0"
		}
		if got := string(appendFixed(nil, ticks, decimals)); got != want {
			t.Fatalf("%d ticks print as %q, want %q", ticks, got, want)
		}
	})
	g, _ := newGrid(1)
	for in, want := range map[float64]string{-0.0004: "0.0", -1e-300: "0.0", 0.1: "0.1", -20: "-20.0", 1e5: "100000.0"} {
		if got := string(appendFixed(nil, g.ticks(in), g.decimals)); got != want {
			t.Errorf("%g prints as %q, want %q", in, got, want)
		}
	}
}

// Whatever the words are, the comment is one that every controller can take.
func TestComments(t *testing.T) {
	for in, want := range map[string]string{
		"":                       "",
		" \n\t ":                 "",
		"a (b) c":                "a -b- c",
		"9½ × 4° “ok” – ja":      `9 1/2 x 4 deg "ok" - ja`,
		"日本\x00\x07x":            "__ x",
		"50 % of it; stop! why?": "50 per cent of it, stop. why.",
		strings.Repeat("w", 140): strings.Repeat("w", 68) + "|" + strings.Repeat("w", 68) + "|wwww",
	} {
		if got := strings.Join(comments(in), "|"); got != want {
			t.Errorf("%q gives %q, want %q", in, got, want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		for _, line := range comments(text) {
			if len(line) > 68 || len(line) < 1 {
				t.Fatalf("%q gives the line %q", text, line)
			}
			for _, c := range line {
				if c < ' ' || c > '~' || strings.ContainsRune("();!?~%", c) {
					t.Fatalf("%q gives %q with %q", text, line, c)
				}
			}
		}
	})
}
