package draft

import (
	"math"

	"starwright/geom"
)

// Grid is how finely a file writes places: in so many steps a millimetre.
type Grid float64

// Cell is a place as it is written, in steps of the grid.
type Cell struct{ X, Y int64 }

// Cell rounds a place to what is written.
func (g Grid) Cell(p geom.Point) Cell { return Cell{g.Steps(p.X), g.Steps(p.Y)} }

// Steps rounds a length in mm to what is written.
func (g Grid) Steps(mm float64) int64 { return int64(math.Round(mm * float64(g))) }

// bulges is how finely bulges are told apart: a step turns an arc over a chord
// of 1 m by less than 1e-7 mm.
const bulges Grid = 1e10
