package job

import (
	"math"
	"strings"
	"testing"
)

// Dressed sizes: American Softwood Lumber Standard PS 20, dry.
func TestNominalBoards(t *testing.T) {
	for _, row := range []struct {
		name, width string
		wide, thick float64 // inches
	}{
		{"one by six", "1x6", 5.5, 0.75},
		{"one by four, spaces", "1 x 4", 3.5, 0.75},
		{"decking", "5/4x6", 5.5, 1},
		{"stud", "2x4", 3.5, 1.5},
		{"one by eight", "1X8", 7.25, 0.75},
	} {
		t.Run(row.name, func(t *testing.T) {
			j := parsed(t, "[star]\nboard_width = \""+row.width+"\"\n")
			if math.Abs(j.Star.BoardWidth-row.wide*25.4) > 1e-9 || math.Abs(j.Star.Thickness-row.thick*25.4) > 1e-9 {
				t.Errorf("%s is %g by %g mm", row.width, j.Star.BoardWidth, j.Star.Thickness)
			}
			var noted string
			for _, n := range j.Defaults {
				if n.Key == "star.board_width" {
					noted = n.Why
				}
			}
			if !strings.Contains(noted, "PS 20") {
				t.Errorf("the dressed size is not noted: %q", noted)
			}
		})
	}
	if j := parsed(t, "[star]\nboard_width = \"1x6\"\nthickness = \"17 mm\"\n"); j.Star.Thickness != 17 {
		t.Errorf("a measured thickness gives way to the nominal one: %g", j.Star.Thickness)
	}
}

func TestNominalErrors(t *testing.T) {
	for name, width := range map[string]string{"no such width": "1x13", "too narrow": "1x0", "not a size": "4x"} {
		t.Run(name, func(t *testing.T) {
			_, errs := Parse("job.toml", []byte("[star]\nboard_width = \""+width+"\"\n"))
			if len(errs) != 1 || !strings.Contains(errs[0].Error(), `job.toml:2: [star] board_width: there is no board of that name`) ||
				!strings.Contains(errs[0].Error(), `Try: board_width = "1x6"`) {
				t.Errorf("errors: %v", errs)
			}
		})
	}
}
