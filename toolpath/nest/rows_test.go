package nest_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/nest"
)

// lowerLeft are where the boxes of a layout's parts begin, sheet by sheet.
func lowerLeft(r nest.Result) [][]geom.Point {
	var out [][]geom.Point
	for _, s := range r.Sheets {
		var at []geom.Point
		for _, p := range s.Parts {
			at = append(at, p.Part.Outline.Bounds().Min)
		}
		out = append(out, at)
	}
	return out
}

// Where the parts come to lie, laid out by hand on sheets of 100 by 60 with 80
// by 40 between the margins, 5 mm apart.
func TestRowsByHand(t *testing.T) {
	pt := geom.Pt
	six := []geom.Point{pt(10, 10), pt(40, 10), pt(10, 25), pt(40, 25), pt(10, 40), pt(40, 40)}
	rows := []struct {
		name   string
		stacks []nest.Stack
		zones  []geom.Box
		want   [][]geom.Point
	}{
		{"nothing", nil, nil, nil},
		{"one", []nest.Stack{{rect("a", 25, 10).Part, 1}}, nil, [][]geom.Point{{pt(10, 10)}}},
		// 2 x 25 and a gap in 80, 3 x 10 and two gaps in 40: six a sheet.
		{"seven", []nest.Stack{{rect("a", 25, 10).Part, 7}}, nil, [][]geom.Point{six, {pt(10, 10)}}},
		{"stood up, laid down", []nest.Stack{{rect("a", 10, 25).Part, 7}}, nil, [][]geom.Point{six, {pt(10, 10)}}},
		{"just as wide as the room", []nest.Stack{{rect("a", 80, 40).Part, 2}}, nil, [][]geom.Point{{pt(10, 10)}, {pt(10, 10)}}},
		// The second goes on in the row of the first; the third stands above the
		// higher of them.
		{"a row of two stacks", []nest.Stack{{rect("a", 25, 10).Part, 1}, {rect("b", 20, 16).Part, 2}, {rect("c", 30, 5).Part, 1}}, nil,
			[][]geom.Point{{pt(10, 10), pt(40, 10), pt(65, 10), pt(10, 31)}}},
		// A screw zone of 20 mm in the corner: 5 mm beside it, and free above.
		{"beside a screw zone", []nest.Stack{{rect("a", 25, 10).Part, 3}}, []geom.Box{{Max: pt(20, 20)}},
			[][]geom.Point{{pt(25, 10), pt(55, 10), pt(10, 25)}}},
		// Zones to 14 mm all along the foot: up in quarters of 10 mm until 5 mm lie between.
		{"above a zone", []nest.Stack{{rect("a", 25, 10).Part, 1}}, []geom.Box{{Max: pt(100, 14)}}, [][]geom.Point{{pt(10, 20)}}},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			got, err := nest.Rows(r.stacks, nest.Options{W: 100, H: 60, Margin: 10, Spacing: 5, Cutter: 3, Zones: r.zones})
			if err != nil {
				t.Fatal(err)
			}
			at := lowerLeft(got)
			if len(at) != len(r.want) {
				t.Fatalf("%d sheets, want %d: %v", len(at), len(r.want), at)
			}
			for i := range at {
				if len(at[i]) != len(r.want[i]) {
					t.Fatalf("sheet %d: %v, want %v", i+1, at[i], r.want[i])
				}
				for k, p := range at[i] {
					if p.Dist(r.want[i][k]) > 1e-9 {
						t.Errorf("sheet %d, part %d at %v, want %v", i+1, k+1, p, r.want[i][k])
					}
				}
			}
		})
	}
}

// Seven parts of 250 mm² on two sheets of 6000 mm²: 1750 of 12000 is used, six
// of them on the first, and 3200 mm² of room would hold them all by area.
func TestRowsFigures(t *testing.T) {
	r, err := nest.Rows([]nest.Stack{{rect("spline", 25, 10).Part, 7}}, nest.Options{W: 100, H: 60, Margin: 10, Spacing: 5, Cutter: 3})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(r.Used-1750.0/12000) > 1e-12 || math.Abs(r.Sheets[0].Used-0.25) > 1e-12 || r.Bound != 1 {
		t.Errorf("used %g and %g, at least %d sheets", r.Used, r.Sheets[0].Used, r.Bound)
	}
	if first, last := r.Sheets[0].Parts[0].Part.Name, r.Sheets[1].Parts[0].Part.Name; first != "spline 1 of 7" || last != "spline 7 of 7" {
		t.Errorf("named %q to %q", first, last)
	}
}

func TestRowsRefuse(t *testing.T) {
	good := nest.Options{W: 100, H: 60, Margin: 10, Spacing: 5, Cutter: 3}
	rows := []struct {
		name   string
		part   nest.Item
		change func(*nest.Options)
		want   string
	}{
		{"too long", rect("a", 81, 10), func(*nest.Options) {}, "1 mm too wide (in X)"},
		{"too wide", rect("a", 41.5, 41.5), func(*nest.Options) {}, "1.5 mm too high (in Y)"},
		{"zones everywhere", rect("a", 25, 10), func(o *nest.Options) { o.Zones = []geom.Box{{Max: geom.Pt(100, 60)}} }, "a, 25 mm by 10 mm, does not fit between the screw zones"},
		{"no spacing", rect("a", 25, 10), func(o *nest.Options) { o.Spacing = 0 }, "sheet.spacing = 0 mm"},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			o := good
			r.change(&o)
			got, err := nest.Rows([]nest.Stack{{r.part.Part, 1}}, o)
			if err == nil || !strings.Contains(err.Error(), r.want) || len(got.Sheets) > 0 {
				t.Errorf("%v, want %q", err, r.want)
			}
			var large *nest.TooLarge
			if is := errors.As(err, &large); is != strings.Contains(r.want, "too") {
				t.Errorf("too large: %v", is)
			}
		})
	}
}

// Whatever is laid out lies apart, within the margins and off the screw zones,
// once each, where its placement says, and on the sheets one after the other.
func TestRowsKeepApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// The largest part has room between two zones with its spacing: 60 + 2 * (40 + 12) = 164.
		o := nest.Options{W: rapid.Float64Range(165, 500).Draw(t, "w"), H: rapid.Float64Range(165, 500).Draw(t, "h"), Margin: 10,
			Spacing: rapid.Float64Range(4, 12).Draw(t, "spacing"), Cutter: 3}
		o.Zones = nest.CornerZones(o.W, o.H, rapid.SampledFrom([]float64{0, 25, 40}).Draw(t, "zone"))
		var stacks []nest.Stack
		for range rapid.IntRange(1, 3).Draw(t, "stacks") {
			w, h := rapid.Float64Range(5, 60).Draw(t, "long"), rapid.Float64Range(5, 60).Draw(t, "wide")
			stacks = append(stacks, nest.Stack{Part: rect("a", w, h).Part, Count: rapid.IntRange(1, 40).Draw(t, "count")})
		}
		r, err := nest.Rows(stacks, o)
		if err != nil {
			t.Fatalf("%v", err)
		}
		seen := make([]int, len(stacks))
		last := 0
		for _, s := range r.Sheets {
			var boxes []geom.Box
			for _, p := range s.Parts {
				seen[p.Item]++
				if p.Item < last {
					t.Errorf("stack %d comes after stack %d", p.Item, last)
				}
				last = p.Item
				b := p.Part.Outline.Bounds()
				if !(geom.Box{Min: geom.Pt(10, 10), Max: geom.Pt(o.W-10, o.H-10)}).Grow(1e-6).Holds(b) {
					t.Errorf("%v leaves the margins", b)
				}
				for _, z := range append(boxes, o.Zones...) {
					// Boxes are apart where they are so along X or along Y.
					if dx, dy := max(b.Min.X-z.Max.X, z.Min.X-b.Max.X), max(b.Min.Y-z.Max.Y, z.Min.Y-b.Max.Y); max(dx, dy) < o.Spacing-1e-6 {
						t.Errorf("%v lies %g from %v", b, max(dx, dy), z)
					}
				}
				boxes = append(boxes, b)
				same(t, stacks[p.Item].Part.Placed(p.At), p.Part)
			}
		}
		for i, n := range seen {
			if n != stacks[i].Count {
				t.Errorf("%d of %d parts of stack %d", n, stacks[i].Count, i)
			}
		}
		if len(r.Sheets) < r.Bound {
			t.Errorf("%d sheets, fewer than the bound of %d", len(r.Sheets), r.Bound)
		}
	})
}

// same checks that two parts have the same outline.
func same(t *rapid.T, a, b toolpath.Part) {
	t.Helper()
	for i, v := range a.Outline {
		if v.Dist(b.Outline[i].Point) > 1e-9 {
			t.Errorf("the placement puts vertex %d at %v, the part has it at %v", i, v.Point, b.Outline[i].Point)
		}
	}
}
