package backplot

import (
	"starwright/geom"
	"starwright/toolpath"
)

// Sheet is work cut through from a sheet.
type Sheet struct {
	Thickness float64
}

func (j *judge) sheetGouge(m toolpath.Move, s sweep, axis geom.Curve) {}
func (j *judge) sheetRest(moves []toolpath.Move)                      {}
