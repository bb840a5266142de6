package ncread_test

import (
	"fmt"
	"strings"

	"starwright/post/rs274/ncread"
	"starwright/toolpath"
)

// Replay a program and see what is wrong with it: the arc ends a tenth of a
// millimetre too far out, and the spindle is never switched off.
func ExampleRead() {
	program := `G17 G21 G40 G54 G80 G90 G94
G0 Z10.0
G0 X0.0 Y0.0
S18000 M3
G1 Z-1.0 F300.0
G2 X10.1 Y0.0 I5.0 J0.0 F1200.0
G0 Z10.0
M2
`
	rep, err := ncread.Read(strings.NewReader(program), "slot.nc", ncread.Events{
		Move: func(m *toolpath.Move) error {
			fmt.Printf("%d %v to Z%.1f\n", m.Line, m.Kind, m.To.Z)
			return nil
		},
	})
	if err != nil {
		fmt.Println(err)
	}
	for _, f := range rep.Findings {
		fmt.Println(f.Line, f.Rule)
	}
	// Output:
	// 3 G0 to Z10.0
	// 5 G1 to Z-1.0
	// 6 G2 to Z-1.0
	// 7 G0 to Z10.0
	// 6 std-arc-radius
	// 8 sub-spindle-at-end
}
