package star

import (
	"slices"
	"testing"
)

func TestOrderOfSeveralStars(t *testing.T) {
	porch, door := spec(5, 90), spec(6, 60)
	porch.Name, porch.OffcutStar, door.Name, door.Count = "porch", true, "door", 2
	o, ps := NewOrder([]Spec{porch, door})
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	var files, words []string
	for _, u := range o.Units {
		files, words = append(files, u.File("segment")), append(words, u.Words("segment"))
		if (u.Blank == nil) != u.IsOffcut() {
			t.Errorf("%s: a blank and an off-cut", u.Words("star"))
		}
	}
	if want := []string{"porch-segment", "porch-offcut-segment", "door-segment"}; !slices.Equal(files, want) {
		t.Errorf("files %q, want %q", files, want)
	}
	if want := []string{"porch segment", "porch off-cut segment", "door segment"}; !slices.Equal(words, want) {
		t.Errorf("words %q, want %q", words, want)
	}
	if boards := o.FromBoards(); len(boards) != 2 || o.FromOffcuts(boards[0]) != o.Units[1] || o.FromOffcuts(boards[1]) != nil {
		t.Errorf("%d units from boards", len(boards))
	}
	if n := o.Units[2].Segments(); n != 12 || o.Units[2].Blank.Count != 12 {
		t.Errorf("two stars of six points have %d segments", n)
	}
	// Each is what it would be alone.
	for i, s := range []Spec{porch, door} {
		if alone := mustNew(t, s).Units[0]; alone.Segment != o.FromBoards()[i].Segment || *alone.Blank != *o.FromBoards()[i].Blank {
			t.Errorf("%s differs in an order", s.Name)
		}
	}
}

func TestFilesOfStarsDoNotMeet(t *testing.T) {
	a, b := spec(5, 90), spec(6, 60)
	for _, names := range [][2]string{{"porch", "porch"}, {"porch", "Porch"}, {"porch", "porch-offcut"}, {"", ""}, {"", "offcut"}} {
		a.Name, a.OffcutStar, b.Name = names[0], true, names[1]
		_, ps := NewOrder([]Spec{a, b})
		if len(ps) != 1 || ps[0].Key != "star.name" || ps[0].Got != b.Name {
			t.Errorf("%q: %+v", names, ps)
		}
	}
}

// A star without slots leaves the bit to the next one.
func TestOneBitForAllStars(t *testing.T) {
	no := false
	plain, small := spec(5, 90), spec(5, 40)
	plain.Name, plain.Slot.Make, small.Name = "plain", &no, "small"
	alone := mustNew(t, small).Cutter
	for _, specs := range [][]Spec{{plain, small}, {small, plain}} {
		o, ps := NewOrder(specs)
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		if o.Cutter != alone {
			t.Errorf("bit %g, alone %g", o.Cutter, alone)
		}
		notes := 0
		for _, n := range o.Defaults {
			if n.Key == "cutter.diameter" {
				notes++
			}
		}
		if notes != 1 {
			t.Errorf("%d notes name the bit", notes)
		}
	}
}
