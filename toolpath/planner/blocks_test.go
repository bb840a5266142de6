package planner_test

import (
	"testing"

	"starwright/toolpath/planner"
)

// The bound on blocks, by hand for each kind of cut of the plate: 12.3 mm in
// passes of 3 mm are five, and below the tops of the tabs, which stand 1.5 mm
// high, one.
func TestBlocksBound(t *testing.T) {
	hole := func(k int) func(*planner.SheetJob) {
		return func(j *planner.SheetJob) { j.Parts[0].Holes = j.Parts[0].Holes[k : k+1] }
	}
	// A turn of a helix as steep as 5 degrees falls by 2 pi q tan(5 deg), less
	// the planner's 0.003 mm for rounding: q, the radius of the cutter's way, is
	// 0.825 mm; 2.9125 and 5.825 mm; 2.942, 5.883 and 8.825 mm.
	outline := 3 + 5*8 + 1 + 4*3
	for _, tt := range []struct {
		name string
		edit func(*planner.SheetJob)
		want int
	}{
		{"outline with four tabs", func(j *planner.SheetJob) { j.Parts[0].Holes = nil }, outline},
		{"narrow hole", hole(0), outline + 3 + 28 + 1},                       // 0.4505 a turn: 27.3 turns
		{"hole in two rings", hole(1), outline + 3 + 8 + 1 + 5 + 1},          // 1.598 and 3.2 a turn: 7.7 and 4.1
		{"wide hole in three rings", hole(2), outline + 3 + 8 + 1 + 2*(5+1)}, // 1.614 a turn: 7.6; 3 at most
		{"cut-out", hole(3), outline + 3 + 5*4 + 1},                          // its corners are the cutter's
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, _, rep := plannedPlate(t, tt.edit)
			if rep.BlocksBound != tt.want {
				t.Errorf("bound %d, want %d", rep.BlocksBound, tt.want)
			}
			if rep.Blocks < rep.BlocksBound || rep.Blocks > 3*rep.BlocksBound/2 {
				t.Errorf("%d blocks, bound %d", rep.Blocks, rep.BlocksBound)
			}
		})
	}
}
