package bench

import (
	"errors"
	"math"
	"testing"
)

func TestProblemSaysPlaceValueAndWayOut(t *testing.T) {
	rows := []struct {
		name string
		p    Problem
		want string
	}{
		{"list item", Problem{"boards", 2, "50 mm", "shorter than one blank", "235 mm or more"},
			"boards 2: 50 mm: shorter than one blank; would do: 235 mm or more"},
		{"plain", Problem{Field: "kerf", Got: "-1 mm", Why: "below nothing", Would: "2.4 mm"},
			"kerf: -1 mm: below nothing; would do: 2.4 mm"},
		{"nothing to offer", Problem{Field: "species", Why: "missing"}, "species: missing"},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			if got := r.p.Error(); got != r.want {
				t.Errorf("got  %q\nwant %q", got, r.want)
			}
		})
	}
}

func TestNoProblemsIsNoError(t *testing.T) {
	var ps Problems
	if err := ps.Err(); err != nil {
		t.Errorf("an empty list is an error: %v", err)
	}
	ps = append(ps, Problem{Field: "kerf", Why: "missing"})
	var back Problems
	if !errors.As(ps.Err(), &back) || len(back) != 1 {
		t.Errorf("the list is lost on its way through error: %v", ps.Err())
	}
}

func TestNumAndSay(t *testing.T) {
	rows := []struct {
		name string
		got  string
		want string
	}{
		{"trailing zeros", Num(2.400, 3), "2.4"},
		{"whole", Num(100, 2), "100"},
		{"negative nothing", Num(-0.0001, 2), "0"},
		{"no number", Num(math.NaN(), 2), "NaN"},
		{"default unit", Say(nil).Of(12.70004), "12.7 mm"},
		{"own unit", Say(func(mm float64) string { return Num(mm/25.4, 2) + " in" }).Of(12.7), "0.5 in"},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			if r.got != r.want {
				t.Errorf("got %q, want %q", r.got, r.want)
			}
		})
	}
}
