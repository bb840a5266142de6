package dxfread

import (
	"strings"

	"starwright/geom"
	"starwright/post/cut"
)

// statedUnit returns the millimetres of a drawing unit where a comment says
// so: "1 drawing unit = 1 mm", "1 drawing unit = 1 inch (25.4 mm)".
func statedUnit(comment string) (mm float64, ok bool) {
	s := strings.ToLower(comment)
	_, s, ok = strings.Cut(s, "drawing unit")
	if !ok {
		return 0, false
	}
	s, ok = strings.CutPrefix(strings.TrimSpace(s), "=")
	if !ok {
		return 0, false
	}
	return cut.StatedLength(s)
}

// findUnit takes the unit from $INSUNITS where no comment states one.
func (r *reader) findUnit() {
	if r.file.UnitMM == 0 {
		r.file.UnitMM = insUnit(r.head.insUnits)
	}
}

// insWords says what a value of $INSUNITS means, 1 to 20.
func insWords(n int) string {
	units := [...]string{"", "an inch", "a foot", "a mile", "a millimetre", "a centimetre", "a metre", "a kilometre", "a microinch", "a mil",
		"a yard", "an angstrom", "a nanometre", "a micrometre", "a decimetre", "a decametre", "a hectometre", "a gigametre",
		"an astronomical unit", "a light year", "a parsec"}
	if n < len(units) {
		return units[n]
	}
	return "of no known length"
}

// insUnit returns the millimetres that a value of $INSUNITS means, 0 where it
// is neither inches nor millimetres ("INSUNITS (System Variable)": 1 and 4).
func insUnit(n int) float64 {
	switch n {
	case 1:
		return geom.MMPerInch
	case 4:
		return 1
	}
	return 0
}
