package tryout_test

import (
	"fmt"

	"starwright/geom"
	"starwright/geom/route"
	"starwright/geom/tryout"
)

// A blank is cut from a board with its squared end at the stop. The route says where
// the board lies for 250 mm; the page says 248, and that is what the bench does.
func ExampleTry() {
	rect := func(long float64) []geom.Point {
		return []geom.Point{{X: 0, Y: -50}, {X: long, Y: -50}, {X: long, Y: 50}, {X: 0, Y: 50}}
	}
	stop, square := 248.0, 0.0
	blanks := route.Setup{Name: "blanks", Kind: route.Blanks, Machine: route.MitreSaw, Count: 10,
		Readings: []route.Reading{
			{Name: route.ReadSaw, Printed: "0°", Deg: &square, Set: true},
			{Name: route.ReadStop, Printed: "248 mm", MM: &stop, Set: true}},
		Piece: &route.Piece{Kind: route.PieceSegment, Before: rect(600), After: rect(250)},
		Hold:  &route.Hold{Turn: 180 * geom.Degree, X: 250, Y: -50},
		Cut:   &route.Cut{To: geom.Pt(0, -120), KeepLeft: true, Kerf: 2.4},
		Touches: []route.Touch{
			{What: route.TouchFence, Edge: 0, Corner: -1},
			{What: route.TouchStop, Edge: 3, Corner: -1}}}
	star := tryout.Unit{Points: 5, Count: 2, Segment: []geom.Point{{}, {X: 69, Y: -50}, {X: 223, Y: 0}, {X: 69, Y: 50}}}
	report := tryout.Try(route.Route{Setups: []route.Setup{blanks}}, tryout.Want{Units: []tryout.Unit{star}})
	for _, f := range report.Faults() {
		if f.Setup != "" { // the others say that the route ends here, far from a star
			fmt.Printf("%s: %s %.2f %s, at most %.2f\n", f.Setup, f.Name, f.Value, f.Unit, f.Limit)
		}
	}
	// Output:
	// blanks: hold 2.00 mm, at most 0.20
	// blanks: outline 2.00 mm, at most 0.20
}
