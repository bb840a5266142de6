package main

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// everyInch asks for all that a job can print: boards glued up, a rack, wood that
// moves, a second star, stations, a laser.
const everyInch = `units = "in"
title = "Porch stars"
[star]
board_width = "5 1/2 in"
count = 4
offcut_star = true
[stock]
laminate = true
board_width = "3 1/2 in"
boards = [{ length = "8 ft", count = 11 }, { length = "62 in", bad = [["18 in", "21 in"]] }]
[wood]
species = "western redcedar"
mc_now = 14
mc_service = 8
[machine]
travel = ["24 in", "24 in", "4 in"]
[slot]
stations = 2
[laser]
kerf = "0.008 in"
`

// Metric words and lengths that came out as nothing, in what an inch job prints; and
// 1/64 in, which no rule of the shop shows and other pages print as 0.016 in.
// What states a file's own unit by its length in millimetres is no print of the job.
var (
	metric     = regexp.MustCompile(`\b[0-9.]+ ?(mm|cm|m)[²³]?\b|\bmm\b|cm[²³]|m/s|\bg/m²|[0-9] g\b`)
	rounded    = regexp.MustCompile(`(^|[^0-9/.] |[^0-9/. ])0 in\b`)
	fileUnits  = regexp.MustCompile(`1 (drawing|user) unit = [^,\n]*|[0-9.]+ mm \([0-9/. ]+in\)`)
	priced     = regexp.MustCompile(`[0-9]+ x [0-9.]+ (m²|kg)`) // by the unit that its price in the shop's file is for
	trueNought = regexp.MustCompile(`stock\.trim = 0 in|trim 0 in`)
)

// metricIn returns the lines of a text that an inch job should not print.
func metricIn(text string) (out []string) {
	text = fileUnits.ReplaceAllString(text, "")
	text = priced.ReplaceAllString(text, "")
	text = trueNought.ReplaceAllString(text, "")
	for _, l := range strings.Split(text, "\n") {
		if metric.MatchString(l) || rounded.MatchString(l) || strings.Contains(l, "1/64 in") {
			out = append(out, strings.TrimSpace(l))
		}
	}
	return out
}

// TestInchesAllTheWay reads every text that an inch job comes to.
func TestInchesAllTheWay(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "porch.toml")
	if err := os.WriteFile(file, []byte(everyInch), 0o644); err != nil {
		t.Fatal(err)
	}
	packet := filepath.Join(dir, "packet")
	read := 0
	look := func(name, text string) {
		read++
		for i, l := range metricIn(text) {
			if l == "0 in" && strings.Contains(name, "backplot-") { // where a scale begins
				continue
			}
			if i < 4 {
				t.Errorf("%s: %s", name, l)
			}
		}
	}
	for name, args := range map[string][]string{
		"plan": {"plan", file}, "plan --defaults": {"plan", "--defaults", file}, "make": {"make", file, "-o", packet},
		"fit": {"fit", file, "--gap", "1/32 in", "--at", "valley"},
	} {
		var out, errOut bytes.Buffer
		if status := run(args, nil, &out, &errOut); status != 0 {
			t.Fatalf("%s: exit %d: %s", name, status, errOut.String())
		}
		look(name, out.String()+errOut.String())
	}
	var out, errOut bytes.Buffer
	if status := run([]string{"check", packet}, nil, &out, &errOut); status != 0 {
		t.Fatalf("check: exit %d: %s", status, errOut.String())
	}
	look("check", out.String())
	marks := regexp.MustCompile(`(?s)<script.*?</script>|<style.*?</style>|<[^>]*>`)
	err := filepath.WalkDir(packet, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		name, _ := filepath.Rel(packet, path)
		switch filepath.Ext(path) {
		case ".nc", ".txt", ".dxf":
			look(name, string(data))
		case ".svg", ".html":
			look(name, marks.ReplaceAllString(string(data), "\n"))
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if read < 60 {
		t.Errorf("only %d texts were read", read)
	}
}

// TestMetricInFindsIt: the test above would see what it looks for.
func TestMetricInFindsIt(t *testing.T) {
	for _, bad := range []string{"an area of 1576 cm²", "edge 12.5 m/s", "19 mm thick", "try thickness = \"0 in\"", "0 in", "about 276 g", "200 g/m²", "0.000 mm", "1/64 in"} {
		if len(metricIn(bad)) != 1 {
			t.Errorf("%q passes", bad)
		}
	}
	for _, good := range []string{"10 in", "1/2 in", "3 1/2 in", "0.040 in", "1 drawing unit = 1 inch (25.4 mm)", "main grain"} {
		if len(metricIn(good)) > 0 {
			t.Errorf("%q is found", good)
		}
	}
}
