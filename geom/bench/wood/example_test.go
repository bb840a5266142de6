package wood_test

import (
	"fmt"

	"starwright/geom/bench/wood"
)

// A star of redcedar from a damp shed comes to hang in a heated room.
func ExampleMove() {
	cedar, err := wood.Find("western redcedar")
	if err != nil {
		fmt.Println(err)
		return
	}
	m, err := wood.Move(wood.Change{Points: 5, BoardWidth: 114, Species: cedar, FromMC: 14, ToMC: 7, Limit: 0.5})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("a board shrinks by %.2f mm\n", -m.WidthChange)
	fmt.Printf("shared evenly, each joint opens %.2f mm at the %v\n", m.Each.MM, m.Each.At)
	fmt.Println("more than the limit:", m.Warning != "")
	// Output:
	// a board shrinks by 1.87 mm
	// shared evenly, each joint opens 1.51 mm at the valley
	// more than the limit: true
}
