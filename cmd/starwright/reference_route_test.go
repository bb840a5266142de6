//go:build reference

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// routeStars are the stars of which the route is carried out by shapely: both
// units, 4 to 12 points, with and without a second star, glued-up blanks, two woods.
var routeStars = map[string]string{
	"built-in":      "",
	"inches":        inchJob,
	"four points":   "[star]\npoints = 4\ntip = \"45 deg\"\nboard_width = \"110 mm\"\ncount = 3\n",
	"six points":    "[star]\npoints = 6\nboard_width = \"90 mm\"\ncount = 3\noffcut_star = true\nhang_hole = \"6 mm\"\noffcut_hang_hole = \"4 mm\"\n",
	"eight points":  "units = \"in\"\n[star]\npoints = 8\nboard_width = \"2 3/4 in\"\ncount = 2\noffcut_star = true\n",
	"twelve points": "[star]\npoints = 12\nboard_width = \"80 mm\"\ncount = 2\n",
	"wide board":    "units = \"in\"\n[star]\nboard_width = \"9 1/4 in\"\ncount = 1\n[sheet]\nwidth = \"24 in\"\nheight = \"24 in\"\n",
	"two woods":     "[star]\npoints = 6\nboard_width = \"110 mm\"\ncount = 2\noffcut_star = true\nwoods = [\"walnut\", \"hard maple\"]\nhalves = \"mirrored\"\n",
	"glued up": `[star]
board_width = "140 mm"
count = 2
[stock]
laminate = true
board_width = "89 mm"
`,
}

// routeShops are the kinds of shop; a job without `[slot]` takes plain joints where
// nothing cuts slots.
var routeShops = map[string]string{
	"any":                  "",
	"saw and router table": "[shop]\nhas = [\"mitre saw\", \"router table\"]\n",
	"saw and cnc":          "[shop]\nhas = [\"mitre saw\", \"cnc\"]\n",
	"saw alone":            "[shop]\nhas = [\"mitre saw\"]\n",
	"cnc":                  "[shop]\nhas = [\"cnc\"]\n",
	"laser":                "[shop]\nhas = [\"laser\"]\n",
	"hand tools":           "[shop]\nhas = []\n",
}

// TestReferenceRoutes has the route of each star in each shop carried out by a
// script that shares no code with the project, with the corrections of `fit`, and
// looks every printed number up on its page.
func TestReferenceRoutes(t *testing.T) {
	for star, source := range routeStars {
		for shop, has := range routeShops {
			if source == "" && has != "" {
				continue // the built-in job is its own
			}
			t.Run(star+", "+shop, func(t *testing.T) { referenceRoute(t, source, has) })
		}
	}
}

// TestReferenceFlatRoutes is [TestReferenceRoutes] for segments from the CNC, of which
// no facet is corrected.
func TestReferenceFlatRoutes(t *testing.T) {
	const cnc = "[segments]\ncut = \"cnc\"\n"
	for name, source := range map[string]string{
		"five points": "[star]\nboard_width = \"100 mm\"\ncount = 4\n" + cnc,
		"inches":      "units = \"in\"\n[star]\npoints = 7\nboard_width = \"3 1/2 in\"\ncount = 3\n" + cnc,
		"cnc alone":   "[star]\nboard_width = \"90 mm\"\ncount = 2\n[shop]\nhas = [\"cnc\"]\n" + cnc,
		"two woods":   "[star]\npoints = 6\nboard_width = \"90 mm\"\ncount = 2\nwoods = [\"walnut\", \"hard maple\"]\nhalves = \"whole\"\n" + cnc,
	} {
		t.Run(name, func(t *testing.T) { referenceRoute(t, source, "") })
	}
}

func referenceRoute(t *testing.T, source, has string) {
	dir := t.TempDir()
	var job []string
	if source != "" {
		if has != "" && !slotted(has) {
			source = withoutSlots(source)
		}
		file := filepath.Join(dir, "job.toml")
		if err := os.WriteFile(file, []byte(source+has), 0o644); err != nil {
			t.Fatal(err)
		}
		job = []string{file}
	}
	write := func(name string, data []byte) string {
		p := filepath.Join(dir, name)
		if err := os.WriteFile(p, data, 0o644); err != nil {
			t.Fatal(err)
		}
		return p
	}
	packet := filepath.Join(dir, "packet")
	mustRun(t, append([]string{"make", "-o", packet}, job...)...)
	args := []string{"../../.ci/route.py", write("plan.json", mustRun(t, append([]string{"plan", "--json"}, job...)...)), "--packet", packet}
	for _, at := range []string{"valley", "centre"} {
		if strings.Contains(source, "[segments]") { // no saw is set anew
			break
		}
		for _, gap := range []string{"0.4", "1"} {
			fit := mustRun(t, append([]string{"fit", "--gap", gap + " mm", "--at", at, "--json"}, job...)...)
			args = append(args, "--fit", gap, at, write("fit-"+at+gap+".json", fit))
		}
	}
	out, err := exec.Command("/usr/bin/python3", args...).CombinedOutput()
	t.Logf("%s", out)
	if err != nil {
		t.Errorf("the route by shapely: %v", err)
	}
}

// slotted reports whether a shop can cut slots.
func slotted(has string) bool {
	return strings.Contains(has, "cnc") || strings.Contains(has, "router")
}

// withoutSlots takes the slots out of a job, for shops that cannot cut them.
func withoutSlots(source string) string {
	if strings.Contains(source, "[slot]\n") {
		return strings.Replace(source, "[slot]\n", "[slot]\nmake = false\n", 1)
	}
	return source + "[slot]\nmake = false\n"
}
