package svgread_test

import (
	"fmt"

	"starwright/geom"
	"starwright/post/svg/svgread"
)

// A square as a drawing program may write it, Y downwards.
func ExampleRead() {
	f, err := svgread.Read([]byte(`<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">
<g id="OUTLINE"><path d="M10 10 H50 V30 H10 Z" fill="none" stroke="#000000" stroke-width="0.1"/></g>
</svg>`), "plate.svg", geom.Millimetre)
	if err != nil {
		fmt.Println(err)
		return
	}
	b := f.Bounds()
	fmt.Printf("%d contour on %s, %g by %g mm, %d faults\n", len(f.Contours), f.Contours[0].Layer, b.W(), b.H(), len(f.Faults))
	// Output:
	// 1 contour on OUTLINE, 40 by 20 mm, 0 faults
}
