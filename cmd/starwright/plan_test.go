package main

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// planOf runs `plan --json` on a job and returns the document.
func planOf(t *testing.T, source string) map[string]any {
	t.Helper()
	file := filepath.Join(t.TempDir(), "job.toml")
	if err := os.WriteFile(file, []byte(source), 0o644); err != nil {
		t.Fatal(err)
	}
	var out, errOut bytes.Buffer
	if status := run([]string{"plan", "--json", file}, nil, &out, &errOut); status != 0 {
		t.Fatalf("exit %d: %s", status, errOut.String())
	}
	var doc map[string]any
	if err := json.Unmarshal(out.Bytes(), &doc); err != nil {
		t.Fatalf("not one JSON document: %v", err)
	}
	return doc
}

// at walks a document: at(doc, "slot.start_mm").
func at(t *testing.T, doc map[string]any, path string) any {
	t.Helper()
	var v any = doc
	for _, k := range strings.Split(path, ".") {
		m, ok := v.(map[string]any)
		if !ok || m[k] == nil {
			t.Fatalf("the document has no %s", path)
		}
		v = m[k]
	}
	return v
}

// Every name that outside checks rely on, with numbers worked by plane
// trigonometry from the job's: w 114, c/2 36°, t/2 18°.
func TestPlanDocument(t *testing.T) {
	doc := planOf(t, `
[star]
points = 5
board_width = "114 mm"
thickness = "19 mm"
count = 6
offcut_star = true
[blank]
end_trim = "8 mm"
round_to = "1 mm"
[saw]
kerf = "2.4 mm"
[slot]
width = "6.35 mm"
depth = "10 mm"
from_face = "9.5 mm"
start = "20 mm"
end_margin = "12 mm"
web = "6 mm"
[cutter]
diameter = "6.35 mm"
`)
	rad := math.Pi / 180
	length := 57/math.Tan(36*rad) + 57/math.Tan(18*rad)
	facet := 57 / math.Sin(36*rad)
	offcut := 262 - length + 57/math.Tan(18*rad) - 2.4/math.Sin(18*rad)
	k := offcut / length
	for path, want := range map[string]float64{
		"star.points": 5, "star.width_mm": 2 * length * math.Sin(72*rad), "star.circumradius_mm": length,
		"star.valley_radius_mm": facet, "star.tip_deg": 36, "star.center_deg": 72,
		"segment.length_mm": length, "segment.width_mm": 114, "segment.facet_mm": facet, "segment.edge_mm": 57 / math.Sin(18*rad),
		"blank.length_mm": 262, "blank.count": 30,
		"saw.center_miter_deg": 54, "saw.tip_miter_deg": 72,
		"slot.width_mm": 6.35, "slot.depth_mm": 10, "slot.from_face_mm": 9.5, "slot.start_mm": 20, "slot.end_mm": facet - 12,
		"spline.length_mm": facet - 12 - 20 - 6.35, "spline.width_mm": 19, "spline.thickness_mm": 6.2, "spline.count": 30,
		"offcut.star.points": 5, "offcut.star.width_mm": 2 * offcut * math.Sin(72*rad), "offcut.segment.length_mm": offcut,
		"offcut.segment.width_mm": 114 * k, "offcut.slot.from_face_mm": 9.5, "offcut.slot.end_mm": facet*k - math.Min(12, math.Ceil(facet*k/6*1000)/1000),
		"offcut.spline.count": 30,
	} {
		got, ok := at(t, doc, path).(float64)
		if !ok || math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)) {
			t.Errorf("%s = %v, want %v", path, got, want)
		}
	}
	outline, _ := at(t, doc, "segment.outline_mm").([]any)
	if len(outline) != 4 {
		t.Fatalf("outline of %d corners, want 4", len(outline))
	}
	first, _ := outline[0].([]any)
	if first[0] != 0.0 || first[1] != 0.0 {
		t.Errorf("the outline starts at %v, want the star's centre", first)
	}
}

// A job without an off-cut star and without slots says nothing of them.
func TestPlanLeavesOut(t *testing.T) {
	doc := planOf(t, "[star]\nboard_width = \"114 mm\"\n[slot]\nmake = false\n")
	for _, name := range []string{"offcut", "slot", "spline"} {
		if _, ok := doc[name]; ok {
			t.Errorf("the document has %q, which this job does not", name)
		}
	}
}

// Inch and millimetre versions of a job are the same wood: 3.5 in is 88.9 mm by
// the definition of the inch. What the model chooses, it rounds to a
// ten-thousandth of an inch or a thousandth of a millimetre.
func TestPlanUnits(t *testing.T) {
	rest := "thickness = \"19 mm\"\n[blank]\nend_trim = \"8 mm\"\nround_to = \"1 mm\"\n[slot]\nweb = \"6 mm\"\nend_margin = \"12 mm\"\ndepth = \"9 mm\"\nwidth = \"6 mm\"\n[cutter]\ndiameter = \"6 mm\"\n"
	a := planOf(t, "units = \"in\"\n[star]\nboard_width = 3.5\n"+rest)
	b := planOf(t, "[star]\nboard_width = 88.9\n"+rest)
	for _, path := range []string{"star.width_mm", "blank.length_mm", "slot.start_mm", "slot.end_mm", "spline.length_mm"} {
		x, _ := at(t, a, path).(float64)
		y, _ := at(t, b, path).(float64)
		same := 1e-9
		if path == "slot.start_mm" || path == "spline.length_mm" {
			same = 0.00254 + 0.001
		}
		if math.Abs(x-y) > same {
			t.Errorf("%s: %v from inches, %v from millimetres", path, x, y)
		}
	}
}
