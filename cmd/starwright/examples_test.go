package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// Each package of geom, toolpath and post shows its main use in an example that
// runs, with what it prints.
func TestExamples(t *testing.T) {
	runs := regexp.MustCompile(`(?s)\nfunc Example\w*\(\) \{.*?// Output:`)
	n := 0
	for folder := range imports(t, "../..") {
		if room, _, _ := strings.Cut(folder, "/"); room != "geom" && room != "toolpath" && room != "post" {
			continue
		}
		n++
		tests, err := filepath.Glob(filepath.Join("../..", folder, "*_test.go"))
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, name := range tests {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			found = found || runs.Match(data)
		}
		if !found {
			t.Errorf("%s has no example", folder)
		}
	}
	if n < 20 {
		t.Errorf("only %d packages were found", n)
	}
}
