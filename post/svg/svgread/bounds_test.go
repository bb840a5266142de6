package svgread_test

import (
	"fmt"
	"strings"
	"testing"
)

// A file that is built to cost time is not read on: the fault says what was too much
// and in which line, and nothing that stands behind it comes into the drawing.
func TestBounds(t *testing.T) {
	whole := written(t, plate())
	if n := len(parse(t, whole).Contours); n == 0 {
		t.Fatal("the plate has no contours")
	}
	attrs := make([]string, 61)
	for i := range attrs {
		attrs[i] = fmt.Sprintf(`a%d="1"`, i)
	}
	for what, c := range map[string]struct{ put, says string }{
		"elements within each other": {strings.Repeat("<g>", 60) + strings.Repeat("</g>", 60), "more than 50 elements within each other"},
		"attributes":                 {"<g " + strings.Join(attrs, " ") + "></g>", "an element of more than 60 attributes"},
		"an element passed over":     {"<metadata>" + strings.Repeat("<g>", 60) + strings.Repeat("</g>", 60) + "</metadata>", "too much within <metadata>"},
	} {
		at := strings.Index(whole, "<g")
		f := parse(t, whole[:at]+c.put+whole[at:])
		line := 1 + strings.Count(whole[:at], "\n")
		if n := len(f.Faults); n != 1 || f.Faults[0].Rule != "structure" || f.Faults[0].Line != line || !strings.Contains(f.Faults[0].What, c.says) {
			t.Errorf("%s: %v, want one fault in line %d: %s", what, f.Faults, line, c.says)
		}
		if len(f.Contours) > 0 {
			t.Errorf("%s: %d contours were read behind it", what, len(f.Contours))
		}
	}
}
