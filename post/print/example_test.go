package print_test

import (
	"fmt"

	"starwright/post/print"
)

// Two sections, each on a page of its own.
func Example() {
	paper, _ := print.PaperNamed("A4")
	d := print.New(paper, "six stars", "2026-12-05")
	f := d.Section("Saw set-up 1: blanks to length")
	f.Steps("Square the end of the board.", "Push it against the stop, hold, cut.")
	f.Table([]print.Column{{Head: "Pieces", Right: true}, {Head: "Part", Wide: 1}}, [][]string{{"30", "blanks"}})
	d.Section("Glue-up").Text("Lay the star out dry.")
	data, err := d.Bytes()
	fmt.Println(err, d.Pages(), "pages,", len(d.Faults()), "faults,", string(data[:5]))
	// Output:
	// <nil> 2 pages, 0 faults, %PDF-
}
