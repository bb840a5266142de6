package jobgen

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// extremes are values at the ends of what the keys may have, mm where they are
// lengths, as [least, most]; what a job takes long for lies there.
var extremes = map[string]map[string][2]string{
	"star": {
		"points": {"4", "12"}, "board_width": {"4", "2500"}, "thickness": {"3", "300"}, "tip": {"5", "80"},
		"count": {"1", "10000"}, "offcut_star": {"false", "true"},
	},
	"blank": {"end_trim": {"0", "500"}, "round_to": {"0", "100"}},
	"saw":   {"kerf": {"0", "10"}, "max_miter": {"0", "70"}},
	"slot": {
		"width": {"0.5", "50"}, "depth": {"0.5", "200"}, "wall": {"0.5", "150"}, "web": {"1", "500"},
		"end_margin": {"0", "500"}, "stations": {"1", "50"}, "loads": {"1", "200"},
	},
	"spline": {"thickness": {"0.5", "50"}, "fit": {"0", "2"}, "glue_gap": {"0", "20"}},
	"cutter": {
		"diameter": {"0.5", "50"}, "depth_per_pass": {"0.1", "50"}, "feed": {"10", "20000"}, "plunge_feed": {"1", "10"},
		"ramp": {"1", "30"}, "arcs": {"false", "true"},
	},
	"tabs":    {"count": {"0", "50"}, "width": {"0.5", "100"}, "height": {"0.1", "50"}},
	"machine": {"safe_z": {"2", "200"}, "approach": {"0.1", "1.9"}},
	"sheet": {
		"width": {"50", "5000"}, "height": {"50", "5000"}, "thickness": {"1", "100"}, "margin": {"0", "500"},
		"spacing": {"0.5", "500"}, "breakthrough": {"0", "5"}, "screw_zones": {"false", "true"},
	},
	"stock": {"trim": {"0", "500"}, "laminate": {"false", "true"}, "boards": {`["1 m"]`, `["20 m", "3.3 m", "1 m"]`}},
}

// Extreme returns a job in which some of the values lie at the ends of their
// ranges.
func Extreme(pick Pick) string {
	var b strings.Builder
	board := false
	share := 2 + pick("share", 6) // one in so many keys is given
	for _, table := range slices.Sorted(maps.Keys(extremes)) {
		fmt.Fprintf(&b, "[%s]\n", table)
		for _, key := range slices.Sorted(maps.Keys(extremes[table])) {
			if pick(table+"."+key, share) == 0 {
				board = board || key == "board_width"
				fmt.Fprintf(&b, "%s = %s\n", key, extremes[table][key][pick("end", 2)])
			}
		}
		if table == "star" && !board {
			fmt.Fprintf(&b, "board_width = %d\n", []int{30, 100, 300}[pick("board", 3)])
		}
	}
	return b.String()
}
