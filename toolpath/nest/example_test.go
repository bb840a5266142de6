package nest_test

import (
	"context"
	"fmt"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/nest"
)

// Four plates on as few sheets as they take.
func ExampleBatch_Nest() {
	var items []nest.Item
	for i := range 4 {
		items = append(items, nest.Item{Part: toolpath.Part{Name: fmt.Sprint("plate ", i+1),
			Outline: geom.Rect(geom.Box{Max: geom.Pt(120, 80)})}})
	}
	r, err := nest.NewBatch(items).Nest(context.Background(), nest.Options{W: 300, H: 200, Margin: 10, Spacing: 10, Cutter: 6.35})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d sheet, no layout takes less than %d\n", len(r.Sheets), r.Bound)
	for _, p := range r.Sheets[0].Parts {
		b := p.Part.Outline.Bounds()
		fmt.Printf("%s: X%.0f Y%.0f to X%.0f Y%.0f\n", p.Part.Name, b.Min.X, b.Min.Y, b.Max.X, b.Max.Y)
	}
	// Output:
	// 1 sheet, no layout takes less than 1
	// plate 1: X10 Y10 to X130 Y90
	// plate 2: X140 Y10 to X260 Y90
	// plate 3: X10 Y100 to X130 Y180
	// plate 4: X140 Y100 to X260 Y180
}
