// Package bench is the root of what the maker takes to the saw and the glue-up
// as numbers: the stock plan of one width ([starwright/geom/bench/stock]) and of an
// order ([starwright/geom/bench/yard]), time and cost
// ([starwright/geom/bench/cost]), the correction after a test fit
// ([starwright/geom/bench/fit]), wood movement ([starwright/geom/bench/wood]), feeds
// ([starwright/geom/bench/feeds]) and nominal boards
// ([starwright/geom/bench/lumber]).
//
// The root holds only what those share: how a number and a length are written.
// It draws nothing, reads no file and knows no job. Lengths are mm, in all of
// them, where a name says nothing else.
package bench

import (
	"math"
	"strconv"
	"strings"
)

// Say writes a length in mm the way the job writes lengths. A nil Say writes
// millimetres.
type Say func(mm float64) string

// Of writes one length in mm.
func (s Say) Of(mm float64) string {
	if s != nil {
		return s(mm)
	}
	return Num(mm, 3) + " mm"
}

// Num writes v with at most so many decimals and no trailing zeros.
func Num(v float64, decimals int) string {
	if !Finite(v) {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	t := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(t, ".") {
		t = strings.TrimRight(strings.TrimRight(t, "0"), ".")
	}
	if t == "-0" {
		t = "0"
	}
	return t
}

// Finite reports whether v is a number that can be computed with.
func Finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
