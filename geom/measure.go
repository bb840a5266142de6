package geom

import (
	"fmt"
	"strconv"
)

// Measure is a length within a sentence, in the unit that its reader measures in. Its verbs: %f prints the number alone, as in "X 12.5",
// %m the number and its unit. A precision counts decimals of a millimetre; an
// inch has as many more as it takes to show as much, so that nothing that a
// millimetre shows comes out as 0 in.
type Measure struct {
	MM   float64
	Unit Unit
}

// Format prints the length; fmt calls it.
func (m Measure) Format(s fmt.State, verb rune) {
	decimals, ok := s.Precision()
	if !ok {
		decimals = 3
	}
	if m.Unit == Inch {
		decimals = inchDecimals(decimals)
	}
	text := strconv.FormatFloat(m.MM/m.Unit.MM(), 'f', decimals, 64)
	if s.Flag('+') && text[0] != '-' {
		text = "+" + text
	}
	if verb == 'm' {
		text += " " + m.Unit.String()
	}
	_, _ = s.Write([]byte(text)) // fmt's own buffer, which takes all
}

// inchDecimals returns how many decimals of an inch show what so many of a
// millimetre show: 0.1 mm is 0.004 in.
func inchDecimals(mm int) int {
	switch mm {
	case 0:
		return 1
	case 1, 2:
		return mm + 2
	}
	return mm + 1
}

// FormatArea prints an area (mm²) such as is seen on a sheet: "15 mm²",
// "0.023 in²".
func (u Unit) FormatArea(mm2 float64) string {
	if u == Inch {
		return fmt.Sprintf("%.3f in²", mm2/(MMPerInch*MMPerInch))
	}
	return fmt.Sprintf("%.0f mm²", mm2)
}
