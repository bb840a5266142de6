//go:build reference

package main

import (
	"bytes"
	"fmt"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// The PDFs are held against poppler: page sizes by pdfinfo, words by
// pdftotext, check bars in what pdftoppm draws.

// pdfJobs name the paper that a job's pages must have, in points: A4 by ISO
// 216, Letter 8 1/2 by 11 in.
var pdfJobs = map[string]struct {
	source, paper string
	words         []string
}{
	"built-in": {"", "595.28 x 841.89 pts (A4)", []string{"Facets", "Stock plan", "How the wood will move", "For the operator of the CNC", "223 mm", "page 1 of"}},
	"inches":   {referenceJobs["inches"], "612 x 792 pts (letter)", []string{"Facets", "8 1/8 in", "54°", "page 1 of"}},
	"glued up": {`units = "in"
[star]
board_width = "5 1/2 in"
thickness = "3/4 in"
count = 3
offcut_star = true
[stock]
laminate = true
board_width = "1x4"
trim = "1/2 in"
boards = ["62 in", { length = "96 in", bad = [["18 in", "21 in"]] }, { length = "72 in", count = 3 }]
[jigs]
make = []
`, "612 x 792 pts (letter)", []string{"Rip the boards", "2 13/16 in", "40 strips", "Stock plan", "leave out 18 in"}},
	"twelve points": {referenceJobs["twelve points"], "595.28 x 841.89 pts (A4)", []string{"Glue-up", "Before you switch on"}},
}

func TestReferencePDF(t *testing.T) {
	for name, row := range pdfJobs {
		t.Run(name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "packet")
			job := []string{}
			if row.source != "" {
				job = []string{filepath.Join(t.TempDir(), "job.toml")}
				if err := os.WriteFile(job[0], []byte(row.source), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			mustRun(t, append([]string{"make", "-o", dir}, job...)...)
			for _, file := range []string{"shop-sheet.pdf", "templates.pdf"} {
				pageSizes(t, filepath.Join(dir, file), row.paper)
			}
			text := string(outside(t, "pdftotext", "-layout", filepath.Join(dir, "shop-sheet.pdf"), "-"))
			for _, w := range row.words {
				if !strings.Contains(text, w) {
					t.Errorf("pdftotext does not find %q", w)
				}
			}
			if strings.Contains(text, "\ufffd") {
				t.Error("a letter without a meaning is in the text")
			}
			checkBars(t, dir)
		})
	}
}

// outside runs a program of the system and returns what it prints. What it has
// to complain of fails the test.
func outside(t *testing.T, name string, args ...string) []byte {
	t.Helper()
	var out, errs bytes.Buffer
	cmd := exec.Command(name, args...)
	cmd.Stdout, cmd.Stderr = &out, &errs
	if err := cmd.Run(); err != nil {
		t.Fatalf("%s: %v\n%s", name, err, errs.String())
	}
	if errs.Len() > 0 {
		t.Errorf("%s complains: %s", name, errs.String())
	}
	return out.Bytes()
}

func pageSizes(t *testing.T, path, paper string) {
	t.Helper()
	info := string(outside(t, "pdfinfo", "-f", "1", "-l", "999", path))
	sizes := regexp.MustCompile(`Page +\d+ size: +(.*)`).FindAllStringSubmatch(info, -1)
	if len(sizes) == 0 {
		t.Fatalf("pdfinfo finds no pages:\n%s", info)
	}
	for i, s := range sizes {
		if s[1] != paper {
			t.Errorf("%s page %d is %s, want %s", filepath.Base(path), i+1, s[1], paper)
		}
	}
	if strings.Contains(info, "CreationDate") {
		t.Errorf("the time of making is in %s:\n%s", path, info)
	}
}

// checkBars measures both bars of every template page in a rendering of 254
// dots an inch, ten to the millimetre: 1000 and 1016, give or take one.
func checkBars(t *testing.T, dir string) {
	t.Helper()
	outside(t, "pdftoppm", "-r", "254", "-png", "-gray", filepath.Join(dir, "templates.pdf"), filepath.Join(dir, "page"))
	pages, err := filepath.Glob(filepath.Join(dir, "page-*.png"))
	if err != nil || len(pages) == 0 {
		t.Fatalf("no pages were drawn: %v", err)
	}
	for _, p := range pages {
		bars := solidBars(t, p)
		if len(bars) != 2 || math.Abs(float64(bars[0]-1016)) > 1 || math.Abs(float64(bars[1]-1000)) > 1 {
			t.Errorf("%s: bars of %v dots, want 1016 and 1000", filepath.Base(p), bars)
		}
	}
}

// solidBars returns the lengths of the black bars of a page from its top: runs
// of black at least 80 mm long in at least 15 rows (1.5 mm) one after the other.
func solidBars(t *testing.T, path string) []int {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(fmt.Errorf("%s: %w", path, err))
	}
	const long, rows, black = 800, 15, 0x4000
	var out []int
	b := img.Bounds()
	height, last := 0, 0
	for y := b.Min.Y; y < b.Max.Y; y++ {
		run, best := 0, 0
		for x := b.Min.X; x < b.Max.X; x++ {
			if v, _, _, _ := img.At(x, y).RGBA(); v < black {
				run++
				best = max(best, run)
			} else {
				run = 0
			}
		}
		if best >= long {
			height, last = height+1, best
			if height == rows {
				out = append(out, last)
			}
		} else {
			height = 0
		}
	}
	return out
}
