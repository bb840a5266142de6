package choose

import (
	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/route"
	"starwright/geom/star"
)

// Shop is what the shop can do. Lengths are mm; 0 is unknown, and nothing is
// held against it.
type Shop struct {
	MitreSaw, RouterTable, CNC, Laser bool

	MaxMiter    geom.Angle
	Reach       float64    // of the saw, from the fence along the cut
	Swing       route.Side // "" where the arm turns both ways
	FenceHeight float64    // of the router table's fence
	FenceLength float64
	Bits        []float64 // straight bits for the router table
	Room        float64   // under the CNC's collet
}

// Lamination is how the boards of a unit are made of strips.
type Lamination struct {
	Strips int     // in one blank
	Rip    float64 // width of a strip as ripped
	Joint  float64 // planed off each edge that is glued, and later off the two outer ones
	Glued  float64 // width of the glue-up, before it is brought to width
	Raw    float64 // length of the strips, with what squaring takes
	Board  float64 // width of the boards they are ripped from
	Across int     // strips from one board's width; 0 where that differs from board to board
	Plan   bool    // a stock plan shows them
	Clamps int
}

// Given is what a route is worked out for.
type Given struct {
	Order *star.Order
	Shop  Shop
	Jigs  jig.Params
	Named []string // jigs that the job asks for; nil leaves the choice here
	// Strips says how the boards of a unit are glued up or ripped, nil for boards
	// that are as wide as the star's.
	Strips func(*star.Unit) *Lamination
	Flat   *Flat                           // how the CNC cuts the segments, nil where they are sawn
	Path   func(*star.Unit, string) string // of a slot program by its hand
	// Stations says how the segments of a unit stand in a row for their slots; nil
	// for one at a time.
	Stations func(*star.Unit) Stations
}

// Result is a route and the jigs that it uses.
type Result struct {
	Route route.Route
	Wants []jig.Want
	Kit   []jig.Jig // plates of the wanted jigs
}

// Spare returns how many blanks are cut beside those of the stars: enough for
// one star, so that the first one can be cut again after the test fit.
func Spare(u *star.Unit) int { return u.Points }
