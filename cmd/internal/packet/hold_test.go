package packet

import (
	"testing"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/planner"
)

// TestOneScrewAPlace: on a board of 1000 mm by 125 mm a screw is wanted in the middle
// of either long edge. The parts leave one place for both, near the upper edge: the
// lower one's way there ends 10 mm beside the upper one's, on the same washer.
func TestOneScrewAPlace(t *testing.T) {
	plate := func(x0, y0, x1, y1 float64) toolpath.Part {
		return toolpath.Part{Outline: geom.Rect(geom.Box{Min: geom.Pt(x0, y0), Max: geom.Pt(x1, y1)})}
	}
	job := planner.SheetJob{SheetW: 1000, SheetH: 125, Parts: []toolpath.Part{plate(340, 10, 470, 115), plate(530, 10, 660, 115), plate(480, 10, 520, 78)}}
	job.CutterDiameter = 6
	got := moreScrews(job)
	if len(got) != 1 || got[0].Center() != geom.Pt(500, 102.5) {
		t.Errorf("%v, want one screw at X500 Y102.5", got)
	}
}
