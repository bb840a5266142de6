package ncread

import (
	"math"
	"slices"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/toolpath"
)

// exact is the slack for numbers that float64 works out in a few steps, mm.
const exact = 1e-9

func nearPoint(t *testing.T, what string, got, want geom.Point, tol float64) {
	t.Helper()
	if !(got.Dist(want) <= tol) {
		t.Errorf("%s is %v, want %v within %g", what, got, want, tol)
	}
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s is %v, want %v within %g", what, got, want, tol)
	}
}

// last replays the prelude and the lines given, and returns the last move.
func last(t *testing.T, body string) (Report, toolpath.Move) {
	t.Helper()
	rep, moves := replay(t, prelude+body+"\n"+closing)
	if len(moves) == 0 {
		t.Fatalf("no moves; findings %v", rep.Findings)
	}
	return rep, moves[len(moves)-1]
}

// NISTIR 6556 §3.5.3.2: from X7 Y7, centre format, centre (10, 11), radius 5.
func TestWorkedArcByCentre(t *testing.T) {
	rep, m := last(t, "g0 x7 y7\nG17 G2 x 10 y 16 i 3 j 4 z 9 f100")
	if !rep.OK() {
		t.Errorf("findings %v", rep.Findings)
	}
	nearPoint(t, "centre", m.Center, geom.Pt(10, 11), exact)
	near(t, "radius", m.From.XY().Dist(m.Center), 5, exact)
	near(t, "radius at the end", m.To.XY().Dist(m.Center), 5, exact)
	near(t, "end Z", m.To.Z, 9, exact)
	if m.Kind != toolpath.ArcCW || m.Sweep >= 0 {
		t.Errorf("turns %v by %v degrees", m.Kind, m.Sweep.Degrees())
	}
	// Clockwise from the direction (-3,-4) to (0,5): 180 less atan(3/4).
	near(t, "sweep", m.Sweep.Degrees(), -(180 - math.Atan2(3, 4)*180/math.Pi), 1e-9)
}

// NISTIR 6556 §3.5.3.1, radius format: a circle of radius 20 through both
// ends, at most half a turn, clockwise; end X10 Y15 Z5.
func TestWorkedArcByRadius(t *testing.T) {
	rep, m := last(t, "G0 X0 Y0 Z10\nG17 G2 x 10 y 15 r 20 z 5 f100")
	if !rep.OK() || !rep.Has("sub-radius-arc") {
		t.Errorf("findings %v, notes %v", rep.Findings, rep.Notes)
	}
	near(t, "radius at the start", m.From.XY().Dist(m.Center), 20, exact)
	near(t, "radius at the end", m.To.XY().Dist(m.Center), 20, exact)
	near(t, "end Z", m.To.Z, 5, exact)
	if m.Sweep >= 0 || m.Sweep.Degrees() < -180 {
		t.Errorf("sweep %v degrees, want clockwise and at most half a turn", m.Sweep.Degrees())
	}
}

// NISTIR 6556, Table 10, lines 5 and 6: from (3,1,0), end (0,1), centre
// (1.5, 7.8476), clockwise, end Z 0.5. The expression there is worth 0; it is
// refused, and its place is taken by the number in the second run.
func TestSampleSessionArc(t *testing.T) {
	rep, m := last(t, "g0 x3 y1\ng1 z0 f100\ng2 x[6-[4*3/2]] r 7.01 z0.5")
	if got := broken(rep); !slices.Equal(got, []string{"sub-expression"}) {
		t.Errorf("broken rules %v", got)
	}
	if m.Kind != toolpath.Linear {
		t.Errorf("the arc with an expression was handed out: %+v", m)
	}
	rep, m = last(t, "g0 x3 y1\ng1 z0 f100\ng2 x0 r 7.01 z0.5")
	if !rep.OK() {
		t.Errorf("findings %v", rep.Findings)
	}
	nearPoint(t, "end", m.To.XY(), geom.Pt(0, 1), exact)
	nearPoint(t, "centre", m.Center, geom.Pt(1.5, 7.8476), 5e-5) // printed to four decimals
	near(t, "end Z", m.To.Z, 0.5, exact)
	if m.Sweep >= 0 || m.Sweep.Degrees() < -180 {
		t.Errorf("sweep %v degrees", m.Sweep.Degrees())
	}
}

// table12 is the contour of NISTIR 6556, Table 12.
const table12 = `N0010 G1 X1 Y5
N0020 G41 G1 Y4
N0030 G3 X2 Y3 I1
N0040 G2 X3 Y2 J-1
N0050 G1 Y-1
N0060 G2 X2 Y-2 I-1
N0070 G1 X-2
N0080 G2 X-2.6 Y-0.2 J1
N0090 G1 X1.4 Y2.8
N0100 G2 X2 Y3 I0.6 J-0.8
N0110 G40
`

// In Table 12 every start and end radius is 1.0 (re-computed from its text).
// The first arc turns about (2,4), the rest about the corners they round.
func TestTable12(t *testing.T) {
	rep, moves := replay(t, prelude+"F100.0\n"+table12+closing)
	if got := broken(rep); !slices.Equal(got, []string{"sub-cutter-comp"}) {
		t.Errorf("broken rules %v, want only that of G41", got)
	}
	centres := []geom.Point{{X: 2, Y: 4}, {X: 2, Y: 2}, {X: 2, Y: -1}, {X: -2, Y: -1}, {X: 2, Y: 2}}
	kinds := []toolpath.Kind{toolpath.ArcCCW, toolpath.ArcCW, toolpath.ArcCW, toolpath.ArcCW, toolpath.ArcCW}
	n := 0
	for _, m := range moves {
		if !m.IsArc() {
			continue
		}
		if n < len(centres) {
			nearPoint(t, "centre", m.Center, centres[n], exact)
			if m.Kind != kinds[n] {
				t.Errorf("arc %d is %v", n, m.Kind)
			}
		}
		near(t, "start radius", m.From.XY().Dist(m.Center), 1, exact)
		near(t, "end radius", m.To.XY().Dist(m.Center), 1, exact)
		n++
	}
	if n != 5 {
		t.Errorf("%d arcs, want 5", n)
	}
	nearPoint(t, "end", rep.Last.XY(), geom.Pt(2, 3), exact)
}

// hello is put together from the pieces of NISTIR 6556, App. C.1: its header,
// the tool-change line with feed and spindle, a full circle, an arc by radius
// and its end, in its spelling.
const hello = `(program in millimeters)
g21 g0 x0 y0 z50
t1 m6 m3 f20 s4000
g0 x30 y0
g0 z2
g1 z-0.5
g2 x30 j2.5
g0 z2
g0 x65 y0
g1 z-0.5
g2 x69 r4
g0 z50
m2
`

func TestHelloWorldPieces(t *testing.T) {
	rep, moves := replay(t, hello)
	// It changes a tool, leaves modes unsaid and the spindle on: not for
	// small controllers, and every number of it is still read.
	want := []string{"sub-distance-unset", "sub-height-unknown", "sub-offset-unset",
		"sub-plane-unset", "sub-spindle-at-end", "sub-tool"}
	if got := broken(rep); !slices.Equal(got, want) {
		t.Errorf("broken rules %v, want %v", got, want)
	}
	if len(moves) != 10 || rep.Rapids != 6 || rep.Blocks != 12 || rep.Lines != 13 {
		t.Errorf("%d moves, %d rapids, %d blocks, %d lines", len(moves), rep.Rapids, rep.Blocks, rep.Lines)
	}
	circle := moves[4]
	near(t, "sweep of the full circle", circle.Sweep.Degrees(), -360, exact)
	nearPoint(t, "its centre", circle.Center, geom.Pt(30, 2.5), exact)
	near(t, "its length", circle.Length(), 5*math.Pi, 1e-9)
	arc := moves[8]
	near(t, "sweep of the radius arc", arc.Sweep.Degrees(), -60, 1e-9) // chord = radius
	near(t, "feed", arc.Feed, 20, exact)
	near(t, "speed", arc.RPM, 4000, exact)
	if !slices.Equal(rep.Head, []string{"program in millimeters"}) || rep.EndWord != "M2" || rep.EndLine != 13 {
		t.Errorf("head %q, end %s in line %d", rep.Head, rep.EndWord, rep.EndLine)
	}
}

// NISTIR 6556 §3.3: blanks anywhere, `g0x +0. 12 34y 7` is `g0 x+0.1234 y7`.
func TestBlanksAnywhere(t *testing.T) {
	rep, m := last(t, "g0x +0. 12 34y 7")
	if !rep.OK() {
		t.Errorf("findings %v", rep.Findings)
	}
	if m.To.XY() != geom.Pt(0.1234, 7) {
		t.Errorf("reads %v", m.To)
	}
}

// Six spellings of one program give the same moves and no word of complaint
// (§3.3: spacing and case; §3.3.1: line numbers; §3.3.2.1: zeros; §3.3.6:
// order of words; §3.3.4: comments).
func TestHarmlessSpellings(t *testing.T) {
	plainText := prelude + "G1 Z-1.5 F300.0\nG1 X20.0 Y3.0 F1200.0\nG3 X30.0 Y13.0 I0.0 J10.0\nG0 Z10.0\n" + closing
	_, want := replay(t, plainText)
	squeezed := strings.ReplaceAll(plainText, " ", "")
	spellings := map[string]string{
		"lower case":    strings.ToLower(plainText),
		"no blanks":     squeezed,
		"many blanks":   strings.Join(strings.Split(squeezed, ""), " \t"),
		"numbered":      "N5 " + strings.ReplaceAll(strings.TrimSuffix(plainText, "\n"), "\n", "\nN5 ") + "\n",
		"zeros":         strings.NewReplacer("X20.0", "X+0020.", "Y3.0", "Y03", "G1 ", "G01 ", "Z-1.5", "Z-001.5000").Replace(plainText),
		"order":         strings.NewReplacer("G1 X20.0 Y3.0 F1200.0", "F1200.0 Y3.0 X20.0 G1", "S18000 M3", "M3 S18000").Replace(plainText),
		"comments":      strings.ReplaceAll(plainText, "\n", " (so it is)\n(and on)\n\n"),
		"carriage":      strings.ReplaceAll(plainText, "\n", "\r\n"),
		"carriages":     strings.ReplaceAll(plainText, "\n", "\r\r\n"),
		"words a line":  strings.Replace(plainText, "G17\nG21\nG40\nG54\nG80\nG90\nG94\n", "G17 G21 G40 G54 G80 G90 G94\n", 1),
		"modal motion":  strings.Replace(plainText, "G1 X20.0", "X20.0", 1),
		"no final line": strings.TrimSuffix(plainText, "\n"),
	}
	names := make([]string, 0, len(spellings))
	for name := range spellings {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		rep, moves := replay(t, spellings[name])
		if !rep.OK() || len(rep.Notes) > 0 {
			if name != "many blanks" || !rep.OK() { // that one makes long lines
				t.Errorf("%s: findings %v, notes %v", name, rep.Findings, rep.Notes)
			}
		}
		for i := range moves {
			moves[i].Line = want[min(i, len(want)-1)].Line
		}
		if !slices.Equal(moves, want) {
			t.Errorf("%s: moves\n%v\nwant\n%v", name, moves, want)
		}
	}
}
