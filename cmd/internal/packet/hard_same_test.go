package packet

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/toolpath"
)

// wholeJob writes a job in which every length is given, in whole hundredths of
// a millimetre, so that nothing is left to defaults of a unit. scale multiplies
// all that is of wood.
func wholeJob(t *rapid.T) func(unit string, scale float64) string {
	num := func(what string, lo, hi int) float64 { return float64(rapid.IntRange(lo, hi).Draw(t, what)) / 100 }
	n := rapid.IntRange(5, 12).Draw(t, "points")
	board := num("board", 7000, 15000)
	thick := num("thickness", 1600, 3000)
	kerf, trim := num("kerf", 120, 400), num("trim", 0, 2000)
	depth := num("depth", 400, 700)
	web := num("web", 300, 600)
	margin := num("margin", 500, 1200)
	width := num("width", 500, 600)
	cutter := width
	if rapid.Bool().Draw(t, "wider than the cutter") {
		cutter = num("cutter", 350, 450)
	}
	climb := rapid.Bool().Draw(t, "climb")
	second := rapid.Bool().Draw(t, "second star")
	stations := rapid.IntRange(1, 3).Draw(t, "stations")
	return func(unit string, k float64) string {
		var b strings.Builder
		mm := func(key string, v float64) { fmt.Fprintf(&b, "%s = \"%.6f mm\"\n", key, v*k) }
		fmt.Fprintf(&b, "units = %q\n[star]\npoints = %d\noffcut_star = %t\n", unit, n, second)
		mm("board_width", board)
		mm("thickness", thick)
		b.WriteString("[blank]\nround_to = 0\n")
		mm("end_trim", trim)
		b.WriteString("[saw]\n")
		mm("kerf", kerf)
		fmt.Fprintf(&b, "[slot]\nstations = %d\n", stations)
		mm("width", width)
		mm("depth", depth)
		mm("from_face", thick/2)
		mm("wall", 4)
		mm("web", web)
		mm("end_margin", margin)
		mm("start", depth/math.Tan(math.Pi/float64(n))+web/2/math.Sin(math.Pi/float64(n))+1)
		mm("pitch", thick+10)
		b.WriteString("[offcut_slot]\nmake = false\n[spline]\n")
		mm("thickness", width-0.2)
		mm("fit", 0.2)
		mm("glue_gap", 1)
		b.WriteString("[cutter]\nfeed = \"900 mm/min\"\nplunge_feed = \"250 mm/min\"\nspindle_rpm = 12000\nramp = 4\n")
		mm("diameter", cutter)
		mm("depth_per_pass", 2.5)
		fmt.Fprintf(&b, "side = %q\n", map[bool]string{true: "climb", false: "conventional"}[climb])
		b.WriteString("[machine]\n")
		mm("safe_z", 10)
		mm("approach", 1)
		b.WriteString("[jigs]\nmake = []\n[sheet]\nwidth = \"1200 mm\"\nheight = \"1200 mm\"\n")
		fmt.Fprintf(&b, "[tabs]\nwidth = \"6 mm\"\nheight = \"1.5 mm\"\n")
		return b.String()
	}
}

func loaded(t failer, source string) *Work {
	t.Helper()
	w, errs := load("job.toml", []byte(source))
	if len(errs) > 0 {
		return nil
	}
	return w
}

// Rounding of coordinates in files, mm: half a thousandth of a millimetre, half
// a ten-thousandth of an inch.
const (
	roundMM   = 0.0005
	roundInch = 0.0001 * 25.4 / 2
)

// enough says what was compared, and demands that it was something: most jobs
// are taken, and each has some moves.
func enough(t *testing.T, compared, jobs, taken int, what string) {
	t.Helper()
	jobs = min(jobs, sameJobs)
	t.Logf("%d of %d jobs taken, %d %s compared", taken, jobs, compared, what)
	if tooFew(taken, jobs) || compared < 10*taken {
		t.Errorf("only %d of %d jobs were taken, %d %s compared", taken, jobs, compared, what)
	}
}

// The same lengths in a job of inches and in one of millimetres cut the same
// wood: every move of every slot program ends in the same place.
func TestInchAndMetricAreTheSameWood(t *testing.T) {
	compared, jobs, taken := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		if jobs++; jobs > sameJobs {
			return
		}
		job := wholeJob(t)
		a, b := loaded(t, job("mm", 1)), loaded(t, job("in", 1))
		if a == nil || b == nil {
			if (a == nil) != (b == nil) {
				t.Fatalf("one of the units refuses the job:\n%s", job("mm", 1))
			}
			return
		}
		taken++
		ml, mr := movesOf(t, a)
		il, ir := movesOf(t, b)
		for side, pair := range [][2][]toolpath.Move{{ml, il}, {mr, ir}} {
			m, i := pair[0], pair[1]
			if len(m) == 0 || len(m) != len(i) {
				t.Fatalf("side %d: %d moves in mm, %d in inches\n%s", side, len(m), len(i), job("mm", 1))
			}
			for k := range m {
				if d := m[k].To.Dist(i[k].To); d > (roundMM+roundInch)*math.Sqrt(3)+1e-9 || m[k].Kind != i[k].Kind {
					t.Fatalf("side %d: move %d: %+v and %+v", side, k, m[k], i[k])
				}
				compared++
			}
		}
	})
	enough(t, compared, jobs, taken, "moves")
}

// The right slot is the left one with X turned round. Only the passes that
// widen a slot keep their side of cut and so run the other way.
func TestMirroredSlotsMirror(t *testing.T) {
	compared, jobs, taken := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		if jobs++; jobs > sameJobs {
			return
		}
		w := loaded(t, wholeJob(t)(rapid.SampledFrom([]string{"mm", "in"}).Draw(t, "unit"), 1))
		if w == nil {
			return
		}
		taken++
		l, r := movesOf(t, w)
		wide := w.Order.Units[0].Slot.Width > w.Order.Cutter+1e-6
		if len(l) == 0 || len(l) != len(r) {
			t.Fatalf("%d moves left, %d right\n%s", len(l), len(r), w.Source)
		}
		for k := range l {
			want := l[k].To
			want.X = -want.X
			got := r[k].To
			middle := w.Order.Units[0].Slot.FromFace
			// Stations lie a pitch apart; the widening turns Y about their middle.
			station := math.Round((got.Y - middle) / w.Job.Slot.Pitch)
			if turned := 2*(middle+station*w.Job.Slot.Pitch) - got.Y; wide && math.Abs(turned-want.Y) < math.Abs(got.Y-want.Y) {
				got.Y = turned
			}
			if got.Dist(want) > 2*roundInch || l[k].Kind != r[k].Kind || l[k].Feed != r[k].Feed {
				t.Fatalf("move %d: left %+v, right %+v\n%s", k, l[k], r[k], w.Source)
			}
			compared++
		}
	})
	enough(t, compared, jobs, taken, "moves")
}

// Twice the job has twice the numbers.
func TestScaledJobScales(t *testing.T) {
	compared, jobs, taken := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		if jobs++; jobs > sameJobs {
			return
		}
		whole, k := wholeJob(t), rapid.SampledFrom([]float64{0.5, 2, 3}).Draw(t, "scale")
		job := func(k float64) string { // the room that hands need does not scale
			return strings.Replace(whole("mm", k), "[machine]\n", "[machine]\npark = \"up\"\n", 1)
		}
		a, b := loaded(t, job(1)), loaded(t, job(k))
		if a == nil || b == nil {
			return
		}
		taken++
		same := func(what string, x, y float64) {
			if math.Abs(x*k-y) > 1e-6*math.Max(1, math.Abs(y)) {
				t.Fatalf("%s: %v times %v is not %v\n%s", what, x, k, y, a.Source)
			}
			compared++
		}
		same("length", a.Order.Units[0].Segment.Length, b.Order.Units[0].Segment.Length)
		same("width", a.Order.Units[0].Width(), b.Order.Units[0].Width())
		same("blank", a.Order.Units[0].Blank.Length, b.Order.Units[0].Blank.Length)
		same("slot start", a.Order.Units[0].Slot.Start, b.Order.Units[0].Slot.Start)
		same("slot end", a.Order.Units[0].Slot.End, b.Order.Units[0].Slot.End)
		same("spline length", a.Order.Units[0].Spline.Length, b.Order.Units[0].Spline.Length)
		same("spline width", a.Order.Units[0].Spline.Width, b.Order.Units[0].Spline.Width)
		if len(a.Order.Units) > 1 {
			same("off-cut length", a.Order.Units[1].Segment.Length, b.Order.Units[1].Segment.Length)
		}
		x, _ := movesOf(t, a)
		y, _ := movesOf(t, b)
		if len(x) != len(y) {
			t.Fatalf("%d moves and %d\n%s", len(x), len(y), a.Source)
		}
		for i := range x {
			want := geom.Point3{X: x[i].To.X * k, Y: x[i].To.Y * k, Z: x[i].To.Z * k}
			if want.Dist(y[i].To) > (k+1)*roundMM*math.Sqrt(3) {
				t.Fatalf("move %d: %+v and %+v", i, x[i], y[i])
			}
			compared++
		}
	})
	enough(t, compared, jobs, taken, "numbers")
}
