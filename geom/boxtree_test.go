package geom_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
)

// The slow twin: every box is asked.
func TestBoxTreeAgainstAskingAll(t *testing.T) {
	box := rapid.Custom(func(t *rapid.T) geom.Box {
		x, y := float64(rapid.IntRange(0, 50).Draw(t, "x")), float64(rapid.IntRange(0, 50).Draw(t, "y"))
		w, h := float64(rapid.IntRange(0, 9).Draw(t, "w")), float64(rapid.IntRange(0, 9).Draw(t, "h"))
		return geom.Box{Min: geom.Pt(x, y), Max: geom.Pt(x+w, y+h)}
	})
	rapid.Check(t, func(t *rapid.T) {
		boxes := rapid.SliceOfN(box, 0, 600).Draw(t, "boxes")
		q := box.Draw(t, "query")
		var want []int
		for i, b := range boxes {
			if b.Overlaps(q) {
				want = append(want, i)
			}
		}
		var got []int
		geom.NewBoxTree(boxes).Each(q, func(i int) bool { got = append(got, i); return true })
		slices.Sort(got)
		if !slices.Equal(got, want) {
			t.Errorf("found %v, want %v", got, want)
		}
	})
}

func TestBoxTreeSkipsWhatIsNoBox(t *testing.T) {
	nan := math.NaN()
	boxes := []geom.Box{geom.EmptyBox(), {Min: geom.Pt(nan, 0), Max: geom.Pt(1, 1)}, {Max: geom.Pt(1, 1)}}
	var got []int
	geom.NewBoxTree(boxes).Each(geom.Box{Min: geom.Pt(-9, -9), Max: geom.Pt(9, 9)}, func(i int) bool {
		got = append(got, i)
		return true
	})
	if !slices.Equal(got, []int{2}) {
		t.Errorf("found %v, want [2]", got)
	}
}

func TestBoxTreeStopsWhenTold(t *testing.T) {
	boxes := make([]geom.Box, 100) // all at the origin
	n := 0
	geom.NewBoxTree(boxes).Each(geom.Box{}, func(int) bool { n++; return n < 3 })
	if n != 3 {
		t.Errorf("yield was called %d times, want 3", n)
	}
}
