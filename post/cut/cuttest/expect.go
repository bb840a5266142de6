package cuttest

import (
	"go/parser"
	"go/token"
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"starwright/post/cut"
	"starwright/post/outline"
)

// NoImportOf holds the package in whose folder the test runs to have no code of
// packages whose paths contain one of the words.
func NoImportOf(t *testing.T, words ...string) {
	t.Helper()
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) < 5 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, imp := range f.Imports {
			p, _ := strconv.Unquote(imp.Path.Value)
			for _, w := range words {
				if strings.Contains(p, w) {
					t.Errorf("%s imports %s", name, p)
				}
			}
		}
	}
}

// Sane holds a file of any content to be judged in numbers, with findings that
// name one of its lines.
func Sane(t *testing.T, f *cut.File, lines int) {
	t.Helper()
	r := outline.Compare(f, Plate(1), Tolerance)
	for _, x := range append(outline.Judge(f), r.Findings...) {
		if x.Line < 0 || x.Line > lines || x.What == "" || x.File != f.Name {
			t.Errorf("of %d lines: %+v", lines, x)
		}
		if x.At != nil && !x.At.XY().Finite() || math.IsNaN(x.ByMM) || math.IsInf(x.ByMM, 0) {
			t.Errorf("no number: %+v", x)
		}
	}
	if math.IsNaN(r.MaxDeviationMM) || math.IsInf(r.MaxDeviationMM, 0) {
		t.Errorf("deviation %v", r.MaxDeviationMM)
	}
}

// Contrast returns the contrast of a colour of three bytes with white and with
// black: WCAG 2.1, success criterion 1.4.11, by its definition of relative
// luminance.
func Contrast(rgb [3]float64) (white, black float64) {
	l := 0.0
	for i, k := range [3]float64{0.2126, 0.7152, 0.0722} {
		v := rgb[i] / 255
		if v <= 0.03928 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		l += k * v
	}
	return 1.05 / (l + 0.05), (l + 0.05) / 0.05
}
