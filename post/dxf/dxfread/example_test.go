package dxfread_test

import (
	"fmt"
	"strings"

	"starwright/geom"
	"starwright/post/dxf/dxfread"
)

// A square of two inches, as any drawing program writes it.
func ExampleRead() {
	text := strings.Join([]string{
		"999 one drawing unit = 1 in",
		"0 SECTION", "2 HEADER", "9 $ACADVER", "1 AC1009", "0 ENDSEC",
		"0 SECTION", "2 ENTITIES",
		"0 POLYLINE", "8 OUTLINE", "66 1", "10 0", "20 0", "70 1",
		"0 VERTEX", "8 OUTLINE", "10 0", "20 0",
		"0 VERTEX", "8 OUTLINE", "10 2", "20 0",
		"0 VERTEX", "8 OUTLINE", "10 2", "20 2",
		"0 VERTEX", "8 OUTLINE", "10 0", "20 2",
		"0 SEQEND", "8 OUTLINE", "0 ENDSEC", "0 EOF",
	}, "\n")
	var lines []string
	for _, l := range strings.Split(text, "\n") { // a code and its value stand on two lines
		code, value, _ := strings.Cut(l, " ")
		lines = append(lines, code, value)
	}
	f, err := dxfread.Read([]byte(strings.Join(lines, "\n")+"\n"), "square.dxf", geom.Millimetre)
	if err != nil {
		fmt.Println(err)
		return
	}
	b := f.Bounds()
	fmt.Printf("%d contour on %s, %.1f by %.1f mm\n", len(f.Contours), f.Contours[0].Layer, b.W(), b.H())
	// Output:
	// 1 contour on OUTLINE, 50.8 by 50.8 mm
}
