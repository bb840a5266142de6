package packet

import (
	"context"
	"testing"
)

// An order of two stars, each with a second star from its off-cuts, is made: the
// off-cuts of each go into its own off-cut star.
func TestTwoStarsWithOffcutStars(t *testing.T) {
	w, errs := load("job.toml", []byte(`[jigs]
make = []
[[star]]
name = "porch"
thickness = "14 mm"
board_width = "75 mm"
offcut_star = true
[[star]]
name = "barn"
points = 7
thickness = "17 mm"
board_width = "140 mm"
offcut_star = true
`))
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	made, _, err := MakeTree(context.Background(), w)
	if err != nil {
		t.Fatal(err)
	}
	for i := range made.Proofs {
		if p := &made.Proofs[i]; !p.OK() {
			t.Errorf("%s: %s", p.Path, firstFault(p))
		}
	}
}
