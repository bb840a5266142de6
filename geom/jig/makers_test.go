package jig

import (
	"slices"
	"testing"

	"starwright/geom/star"
)

// An order of two sizes of one shape shares what depends on angles alone.
func TestStarsShareJigs(t *testing.T) {
	sized := func(name string, width float64, offcut bool) star.Spec {
		s := orderOf(t, 5, width, 36).Units[0].Spec
		s.Name, s.OffcutStar = name, offcut
		return s
	}
	kit := func(specs ...star.Spec) []Jig {
		o, ps := star.NewOrder(specs)
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		jigs, ps := Kit(o, kitParams(), all(o, kitParams()))
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		return jigs
	}
	var files []string
	for _, j := range kit(sized("large", 90, true), sized("small", 60, false)) {
		files = append(files, j.File)
		sound(t, j, kitParams().Cutter)
	}
	want := []string{"jig-angle-block-54", "jig-large-tip-cradle-left", "jig-large-tip-cradle-right", "jig-large-tip-cradle-base", "jig-large-tip-cradle-base-offcut",
		"jig-small-tip-cradle-left", "jig-small-tip-cradle-right", "jig-small-tip-cradle-base", "jig-small-tip-cradle-base-offcut",
		"jig-large-offcut-cradle-left", "jig-large-offcut-cradle-right", "jig-large-offcut-cradle-base", "jig-large-offcut-cradle-base-offcut",
		"jig-centre-gauge", "jig-tip-gauge", "jig-large-segment-nest", "jig-small-segment-nest", "jig-large-glue-board", "jig-small-glue-board"}
	if !slices.Equal(files, want) {
		t.Errorf("files %q, want %q", files, want)
	}
	// Two stars of one size share all.
	alone, twice := kit(sized("", 90, false)), kit(sized("a", 90, false), sized("b", 90, false))
	if len(alone) != len(twice) {
		t.Fatalf("%d jigs for two stars of one size, %d for one", len(twice), len(alone))
	}
	for i, j := range twice {
		if j.File != alone[i].File || len(j.For) != 2 {
			t.Errorf("%s serves %d stars, alone it is %s", j.File, len(j.For), alone[i].File)
		}
	}
}
