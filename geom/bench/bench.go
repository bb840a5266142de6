// Package bench is the root of what the maker takes to the saw and the glue-up
// as numbers: the stock plan ([starwright/geom/bench/stock]), the correction
// after a test fit ([starwright/geom/bench/fit]), wood movement
// ([starwright/geom/bench/wood]), feeds and run time
// ([starwright/geom/bench/feeds]) and nominal boards
// ([starwright/geom/bench/lumber]).
//
// The root holds only what those share: the way a refused input is told. It
// draws nothing, reads no file and knows no job.
package bench

import (
	"math"
	"strconv"
	"strings"
)

// Problem is one input that cannot be computed with.
type Problem struct {
	Field string // the input's name in the package that refuses it: "kerf", "boards"
	Item  int    // 1-based place in a list, 0 where the input is no list
	Got   string // the value as read
	Why   string // what is wrong with it
	Would string // a value that would do, "" where only the maker can know
}

// Error returns the problem on one line.
func (p Problem) Error() string {
	var b strings.Builder
	b.WriteString(p.Field)
	if p.Item > 0 {
		b.WriteString(" " + strconv.Itoa(p.Item))
	}
	b.WriteString(": ")
	if p.Got != "" {
		b.WriteString(p.Got + ": ")
	}
	b.WriteString(p.Why)
	if p.Would != "" {
		b.WriteString("; would do: " + p.Would)
	}
	return b.String()
}

// Problems is every input that was refused, in the order in which it was read.
type Problems []Problem

// Error returns one line for each problem.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

// Err returns the problems as an error, nil where there are none.
func (ps Problems) Err() error {
	if len(ps) == 0 {
		return nil
	}
	return ps
}

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
