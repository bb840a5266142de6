// Package finding holds the one type in which readers and the back-plot say
// what is wrong with a file. It judges nothing itself.
package finding

import (
	"fmt"

	"starwright/geom"
)

// Finding is one fault of one file, in the words of the person who will cut.
type Finding struct {
	File   string       `json:"file"`            // path within the packet
	Line   int          `json:"line"`            // 1-based line of the file, 0 for the file as a whole
	Block  string       `json:"block,omitempty"` // the line as it stands in the file
	Rule   string       `json:"rule"`            // stable name of the broken rule: rapid-in-wood
	What   string       `json:"what"`            // what is wrong, with its numbers and the limit
	ByMM   float64      `json:"by_mm,omitempty"` // by how much, where that is a length
	At     *geom.Point3 `json:"at,omitempty"`    // where, in the file's own coordinates, mm
	InWood string       `json:"in_wood,omitempty"`
}

// String returns the finding as one line.
func (f Finding) String() string {
	s := f.File
	if f.Line > 0 {
		s = fmt.Sprintf("%s:%d", s, f.Line)
	}
	s += ": " + f.What
	if f.Block != "" {
		s += fmt.Sprintf(" [%s]", f.Block)
	}
	if f.InWood != "" {
		s += "; in wood: " + f.InWood
	}
	return s
}

// Check is one figure of a file's proof: what was measured, and the limit it
// was held against.
type Check struct {
	Name  string  `json:"name"`
	Value float64 `json:"value"`
	Limit float64 `json:"limit"`
	Unit  string  `json:"unit"`
	Pass  bool    `json:"pass"`
}

// AtMost makes a check that passes while value does not exceed limit.
func AtMost(name string, value, limit float64, unit string) Check {
	return Check{name, value, limit, unit, value <= limit}
}

// AtLeast makes a check that passes while value does not fall below limit.
func AtLeast(name string, value, limit float64, unit string) Check {
	return Check{name, value, limit, unit, value >= limit}
}
