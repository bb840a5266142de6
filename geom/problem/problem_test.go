package problem_test

import (
	"errors"
	"fmt"
	"testing"

	"starwright/geom/problem"
)

func Example() {
	found := problem.List{
		{Key: "slot.depth", Got: "40 mm", Why: "the slots of a segment would meet", Would: `depth = "10 mm"`},
		{Key: "boards", Item: 2, Got: "50 mm", Why: "shorter than one blank"},
	}
	fmt.Println(found.Err())
	// Output:
	// slot.depth = 40 mm: the slots of a segment would meet. Try: depth = "10 mm"
	// boards 2 = 50 mm: shorter than one blank
}

func TestWhatIsMissingLeavesNoGap(t *testing.T) {
	for _, row := range []struct {
		p    problem.Problem
		want string
	}{
		{problem.Problem{Key: "species", Why: "missing"}, "species: missing"},
		{problem.Problem{Key: "kerf", Why: "missing", Would: "2.4 mm"}, "kerf: missing. Try: 2.4 mm"},
	} {
		if got := row.p.Error(); got != row.want {
			t.Errorf("got %q, want %q", got, row.want)
		}
	}
}

func TestNoProblemsIsNoError(t *testing.T) {
	var l problem.List
	if err := l.Err(); err != nil {
		t.Errorf("an empty list is an error: %v", err)
	}
	l = append(l, problem.Problem{Key: "kerf", Why: "missing"})
	var back problem.List
	if !errors.As(fmt.Errorf("job: %w", l.Err()), &back) || len(back) != 1 {
		t.Errorf("the list is lost on its way: %v", l.Err())
	}
}
