package jig

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/geom/star"
)

// kitParams are a usual saw, cutter and sheet.
func kitParams() Params {
	return Params{Cutter: 6.35, MaxMiter: geom.Deg(50), MaxW: 1200, MaxH: 600, Thickness: 12}
}

// all are the wants for every jig that an order could use.
func all(o *star.Order, p Params) []Want { return Named(needed(o, p)) }

func keysOf(jigs []Jig) []string {
	var out []string
	for _, j := range jigs {
		if !slices.Contains(out, j.Key) {
			out = append(out, j.Key)
		}
	}
	return out
}

func TestKitMakesWhatTheJobNeeds(t *testing.T) {
	b := orderOf(t, 5, 90, 36)
	b.Units = b.Units[:1]
	jigs, ps := Kit(b, kitParams(), all(b, kitParams()))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	want := []string{"angle-block", "tip-cradle", "centre-gauge", "tip-gauge", "segment-nest", "glue-board"}
	if got := keysOf(jigs); !slices.Equal(got, want) {
		t.Errorf("kit %v, want %v", got, want)
	}
	seen := map[string]bool{}
	for _, j := range jigs {
		if seen[j.File] {
			t.Errorf("file %s twice", j.File)
		}
		seen[j.File] = true
	}
}

func TestKitKeepsTheOrderAskedFor(t *testing.T) {
	b := orderOf(t, 5, 90, 36)
	jigs, ps := Kit(b, kitParams(), Named([]string{"tip-gauge", "angle-block", "tip-gauge", "centre-gauge"}))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	want := []string{"tip-gauge", "angle-block", "centre-gauge"}
	if got := keysOf(jigs); !slices.Equal(got, want) || len(jigs) != 3 {
		t.Errorf("kit %v of %d, want %v", got, len(jigs), want)
	}
	if jigs, ps = Kit(b, kitParams(), nil); len(jigs) > 0 || len(ps) > 0 {
		t.Errorf("an empty list makes %d jigs, problems %v", len(jigs), ps)
	}
}

func TestKitNamesTheJigThatWasMeant(t *testing.T) {
	b := orderOf(t, 5, 90, 36)
	for _, c := range []struct{ got, want string }{
		{"tip-cradel", "tip-cradle"},
		{"angleblock", "angle-block"},
		{"center-gauge", "centre-gauge"},
		{"nest", "segment-nest"},
		{"", "tip-gauge"},
	} {
		jigs, ps := Kit(b, kitParams(), Named([]string{"tip-gauge", c.got}))
		if jigs != nil || len(ps) != 1 {
			t.Errorf("%q: %d jigs, problems %v", c.got, len(jigs), ps)
			continue
		}
		p := ps[0]
		if p.Key != "jigs.make" || p.Got != c.got || !strings.Contains(p.Would, `"`+c.want+`"`) {
			t.Errorf("%q: %+v, want %s", c.got, p, c.want)
		}
		for _, k := range Keys() {
			if !strings.Contains(p.Why, k) {
				t.Errorf("%q: %s is not listed", c.got, k)
			}
		}
	}
}

func TestKitSaysAllThatIsWrong(t *testing.T) {
	b := orderOf(t, 4, 90, 80)
	b.Units = b.Units[:1]
	p, keys := kitParams(), []string{"angle-block", "offcut-cradle", "bench"}
	p.MaxMiter = geom.Deg(60)
	_, ps := Kit(b, p, Named(keys))
	if len(ps) != 3 {
		t.Fatalf("problems %v", ps)
	}
	for i, key := range keys {
		if ps[i].Key != "jigs.make" || ps[i].Got != key || ps[i].Would == "" {
			t.Errorf("%s: %+v", key, ps[i])
		}
	}
}

// A plate on one screw turns about it: the kit says so and offers a list that
// goes through.
func TestKitRefusesAPlateOnOneScrew(t *testing.T) {
	b := orderOf(t, 5, 90, 36)
	p, wants := kitParams(), Named([]string{"tip-gauge", "tip-cradle", "angle-block"})
	made, _ := makeTipCradles(b.Units[0], p)
	if ps := loose(wants, "tip-cradle", made); len(ps) > 0 {
		t.Fatalf("a sound cradle: %v", ps)
	}
	one := made[0]
	one.Holes = screws(one.Outline, nil, p.Cutter, leastMeat, geom.Pt(10, 10))
	ps := loose(wants, "tip-cradle", []Jig{one})
	if len(ps) != 1 || ps[0].Key != "jigs.make" || ps[0].Got != "tip-cradle" || ps[0].Would != `make = ["tip-gauge", "angle-block"]` {
		t.Errorf("got %+v", ps)
	}
	one.Screwed = false
	if ps := loose(wants, "tip-cradle", []Jig{one}); len(ps) > 0 {
		t.Errorf("one hole to hang a plate up by is enough: %v", ps)
	}
}

func TestUniqueFiles(t *testing.T) {
	got := uniqueFiles([]Jig{{File: "a"}, {File: "a"}, {File: "a-2"}, {File: "b"}})
	want := []string{"a", "a-2", "a-2-2", "b"}
	for i, j := range got {
		if j.File != want[i] {
			t.Errorf("file %d is %s, want %s", i, j.File, want[i])
		}
	}
}

// needed returns the names of all jigs that the job could use.
func needed(o *star.Order, p Params) []string {
	out := []string{} // not nil: a job that needs none names none
	for _, m := range makers {
		if len(of(o.Units, p, m.need)) > 0 {
			out = append(out, m.key)
		}
	}
	return out
}

// A kit of which jigs were begun ahead is the kit made at once.
func TestKitAhead(t *testing.T) {
	b := orderOf(t, 5, 90, 36)
	wants := all(b, kitParams())
	want, ps := Kit(b, kitParams(), wants)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	kits := NewKits(b, kitParams())
	for _, key := range []string{"glue-board", "tip-cradle", "glue-board", "no such jig"} {
		kits.Ahead(key)
	}
	if got, ps := kits.Kit(wants); len(ps) > 0 || !reflect.DeepEqual(got, want) {
		t.Errorf("%v, or another kit", ps)
	}
}
