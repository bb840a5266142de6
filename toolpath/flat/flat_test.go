package flat_test

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/flat"
	"starwright/toolpath/nest"
)

// kite is the segment of a star, O at the origin and the tip along X: valley to
// valley w, centre and tip angles in degrees.
func kite(w, c, t float64) geom.Contour {
	x := w / 2 * geom.Deg(c/2).Cot()
	l := x + w/2*geom.Deg(t/2).Cot()
	return geom.Polygon(geom.Pt(0, 0), geom.Pt(x, -w/2), geom.Pt(l, 0), geom.Pt(x, w/2))
}

func items(n int, outlines ...geom.Contour) []flat.Item {
	var out []flat.Item
	for i, c := range outlines {
		out = append(out, flat.Item{Part: toolpath.Part{Name: fmt.Sprintf("segment %d", i+1), Outline: c}, Count: n})
	}
	return out
}

func shop() flat.Options {
	return flat.Options{BedX: 1200, EndTrim: 10, Kerf: 3, Margin: 10, Spacing: 8, Cutter: 6.35}
}

// fail is what rapid and testing share.
type fail interface {
	Helper()
	Fatalf(string, ...any)
}

const tol = 3e-6 // mm: rounding of turned outlines

// prove looks at a layout by exact distances of the true outlines and by sums of
// its own.
func prove(t fail, list []flat.Item, boards []flat.Board, o flat.Options, r flat.Result) {
	t.Helper()
	laid := make([]int, len(list))
	ends, starts := map[[2]int]float64{}, map[[2]int]bool{}
	taken := 0.0
	for n, p := range r.Panels {
		b := boards[p.Board]
		key := [2]int{p.Board, p.Copy}
		if p.Copy < 1 || p.Copy > max(1, b.Count) {
			t.Fatalf("panel %d: board %d has no copy %d", n, p.Board, p.Copy)
		}
		if !starts[key] {
			starts[key] = true
			taken += b.Length
		} else if p.Start < ends[key]+o.Kerf-tol {
			t.Fatalf("panel %d starts at %g, the one before ends at %g", n, p.Start, ends[key])
		}
		end := p.Start + p.Length
		ends[key] = end
		if len(p.Parts) == 0 || p.Start < o.EndTrim-tol || end > b.Length-o.EndTrim+tol || p.Width != b.Width {
			t.Fatalf("panel %d: %+v on %+v", n, p, b)
		}
		if o.BedX > 0 && p.Length > o.BedX+tol || o.BedY > 0 && p.Width > o.BedY+tol {
			t.Fatalf("panel %d: %g by %g does not lie on the machine", n, p.Length, p.Width)
		}
		for _, bad := range b.Bad {
			if p.Start < bad.End-tol && end > bad.Start+tol {
				t.Fatalf("panel %d: %g to %g holds a bad place %+v", n, p.Start, end, bad)
			}
		}
		proveLength(t, b, o, p)
		proveParts(t, list, o, p, laid)
	}
	for i, it := range list {
		if laid[i] != r.Laid[i] || r.Laid[i]+r.Missing[i] != it.Count || r.Missing[i] < 0 {
			t.Fatalf("item %d: %d laid, %d and %d missing said, %d wanted", i, laid[i], r.Laid[i], r.Missing[i], it.Count)
		}
	}
	if math.Abs(taken-r.Taken) > tol {
		t.Fatalf("%g taken, %g said", taken, r.Taken)
	}
	if r.Bound > r.Taken+tol {
		t.Fatalf("%g taken, less than the bound of %g", r.Taken, r.Bound)
	}
}

// proveLength holds that a panel's length is read off a rule, unless it takes all
// that the machine or the clear wood gives; and that it has no step to spare.
func proveLength(t fail, b flat.Board, o flat.Options, p flat.Panel) {
	t.Helper()
	if o.Step == 0 {
		return
	}
	end := p.Start + p.Length
	ends := []float64{b.Length - o.EndTrim, p.Start + o.BedX}
	for _, bad := range b.Bad {
		ends = append(ends, math.Min(bad.Start, (bad.Start+bad.End-o.Kerf)/2)) // a bad place takes a kerf at least
	}
	most := slices.ContainsFunc(ends, func(x float64) bool { return math.Abs(x-end) < tol })
	if over := math.Abs(p.Length/o.Step - math.Round(p.Length/o.Step)); over > 1e-6 && !most {
		t.Fatalf("%g is no multiple of %g, and the wood goes on behind %g", p.Length, o.Step, end)
	}
	if o.Zones != nil && len(o.Zones(p.Length, p.Width)) > 0 {
		return // screws may ask for more
	}
	need := 0.0
	for _, q := range p.Parts {
		need = max(need, q.Part.Outline.Bounds().Max.X+o.Margin)
	}
	if p.Length > need+o.Step+tol {
		t.Fatalf("%g long where %g is enough", p.Length, need)
	}
}

func proveParts(t fail, list []flat.Item, o flat.Options, p flat.Panel, laid []int) {
	t.Helper()
	in := geom.Box{Min: geom.Pt(o.Margin, o.Margin), Max: geom.Pt(p.Length-o.Margin, p.Width-o.Margin)}
	var zones []geom.Box
	if o.Zones != nil {
		zones = o.Zones(p.Length, p.Width)
	}
	for i, q := range p.Parts {
		laid[q.Item]++
		turn := math.Mod(float64(q.At.Turn), math.Pi)
		want := q.At.Contour(list[q.Item].Part.Outline)
		if turn != 0 || q.At.Mirror || !reflect.DeepEqual(want, q.Part.Outline) {
			t.Fatalf("%s is not the part that should lie there, or not along the grain: %+v", q.Part.Name, q.At)
		}
		b := q.Part.Outline.Bounds()
		if !in.Grow(tol).Holds(b) {
			t.Fatalf("%s at %v leaves the margins of %g by %g", q.Part.Name, b, p.Length, p.Width)
		}
		for _, z := range zones {
			if d := apart(q.Part.Outline, geom.Rect(z)); d < math.Min(o.Spacing, o.Cutter+1)-tol { // the cutter, and a millimetre to spare
				t.Fatalf("%s is %.6f from a screw zone", q.Part.Name, d)
			}
		}
		for _, other := range p.Parts[i+1:] {
			if b.Grow(o.Spacing).Overlaps(other.Part.Outline.Bounds()) {
				if d := apart(q.Part.Outline, other.Part.Outline); d < o.Spacing-tol {
					t.Fatalf("%s and %s are %.6f apart", q.Part.Name, other.Part.Name, d)
				}
			}
		}
	}
}

// apart is the distance of two areas, 0 where they overlap.
func apart(a, b geom.Contour) float64 {
	if a.Contains(b[0].Point) || b.Contains(a[0].Point) {
		return 0
	}
	d := math.Inf(1)
	for _, e := range a.Curves() {
		for _, f := range b.Curves() {
			d = math.Min(d, geom.CurveDist(e, f))
		}
	}
	return d
}

func lay(t *testing.T, list []flat.Item, boards []flat.Board, o flat.Options) flat.Result {
	t.Helper()
	r, err := flat.Lay(t.Context(), list, boards, o)
	if err != nil {
		t.Fatal(err)
	}
	prove(t, list, boards, o, r)
	return r
}

func TestThousand(t *testing.T) {
	var outlines []geom.Contour
	for k := range 10 {
		outlines = append(outlines, kite(40+9*float64(k), 72, 36))
	}
	list := items(100, outlines...)
	o := shop()
	o.Zones = func(w, h float64) []geom.Box { return nest.CornerZones(w, h, 20) }
	for _, boards := range [][]flat.Board{
		{{Width: 150, Length: 2400, Count: 60}},
		{{Width: 150, Length: 2400, Count: 40, Bad: []flat.Span{{Start: 700, End: 760}}}, {Width: 100, Length: 1800, Count: 40}, {Width: 250, Length: 3000, Count: 10}},
		{{Width: 400, Length: 3000, Count: 30}},
		{{Width: 150, Length: 2400, Count: 20}},
	} {
		r := lay(t, list, boards, o)
		again, err := flat.Lay(t.Context(), list, boards, o)
		if err != nil || !reflect.DeepEqual(r, again) {
			t.Error("the same parts lie differently the second time")
		}
		kinds := map[string]bool{}
		for _, p := range r.Panels {
			var key []string
			for _, q := range p.Parts {
				key = append(key, fmt.Sprintf("%d %v", q.Item, q.At))
			}
			slices.Sort(key)
			kinds[fmt.Sprint(p.Length, p.Width, key)] = true
		}
		missing := 0
		for _, n := range r.Missing {
			missing += n
		}
		t.Logf("%d panels, %d different, taken %.0f, bound %.0f (%.1f %% over), missing %d", len(r.Panels), len(kinds), r.Taken, r.Bound, 100*(r.Taken/r.Bound-1), missing)
	}
}

func BenchmarkThousand(b *testing.B) {
	var outlines []geom.Contour
	for k := range 10 {
		outlines = append(outlines, kite(40+9*float64(k), 72, 36))
	}
	list, o := items(100, outlines...), shop()
	o.Zones = func(w, h float64) []geom.Box { return nest.CornerZones(w, h, 20) }
	for name, boards := range map[string][]flat.Board{
		"one":   {{Width: 150, Length: 2400, Count: 60}},
		"three": {{Width: 150, Length: 2400, Count: 40, Bad: []flat.Span{{Start: 700, End: 760}}}, {Width: 100, Length: 1800, Count: 40}, {Width: 250, Length: 3000, Count: 10}},
		"wide":  {{Width: 400, Length: 3000, Count: 30}},
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := flat.Lay(b.Context(), list, boards, o); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func TestProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := shop()
		o.Spacing = rapid.Float64Range(3, 15).Draw(t, "spacing")
		o.Cutter = 3
		o.Margin = rapid.Float64Range(3, 20).Draw(t, "margin")
		o.BedX = rapid.SampledFrom([]float64{0, 300, 600, 1200}).Draw(t, "bed")
		o.BedY = rapid.SampledFrom([]float64{0, 150}).Draw(t, "bed across")
		o.Kerf = rapid.Float64Range(0, 4).Draw(t, "kerf")
		o.Step = rapid.SampledFrom([]float64{0, 1, 25.4 / 8}).Draw(t, "step")
		side := rapid.Float64Range(0, 30).Draw(t, "zone")
		o.Zones = func(w, h float64) []geom.Box { return nest.CornerZones(w, h, side) }
		var list []flat.Item
		for i := range rapid.IntRange(1, 3).Draw(t, "kinds") {
			c := kite(rapid.Float64Range(20, 110).Draw(t, "width"), rapid.Float64Range(40, 120).Draw(t, "centre"), rapid.Float64Range(25, 90).Draw(t, "tip"))
			if rapid.Bool().Draw(t, "rounded") {
				c[3].Bulge = 0.1
			}
			list = append(list, flat.Item{Part: toolpath.Part{Name: fmt.Sprint("kite ", i), Outline: c}, Count: rapid.IntRange(0, 9).Draw(t, "count")})
		}
		var boards []flat.Board
		for range rapid.IntRange(1, 3).Draw(t, "boards") {
			b := flat.Board{Width: rapid.Float64Range(60, 260).Draw(t, "wide"), Length: rapid.Float64Range(200, 1500).Draw(t, "long"), Count: rapid.IntRange(0, 8).Draw(t, "copies")}
			for range rapid.IntRange(0, 2).Draw(t, "bad") {
				at := rapid.Float64Range(0, b.Length-50).Draw(t, "at")
				b.Bad = append(b.Bad, flat.Span{Start: at, End: at + rapid.Float64Range(0, 50).Draw(t, "of")})
			}
			boards = append(boards, b)
		}
		r, err := flat.Lay(t.Context(), list, boards, o)
		if _, ok := err.(*flat.TooLarge); ok {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		prove(t, list, boards, o, r)
	})
}
