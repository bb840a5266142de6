package ncread_test

import (
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// The reader stands by itself: what it imports is data types and geometry,
// never the writer whose work it proves.
func TestReaderStandsAlone(t *testing.T) {
	allowed := []string{"starwright/geom", "starwright/toolpath", "starwright/toolpath/finding"}
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) < 5 {
		t.Fatalf("found %d files (%v)", len(files), err)
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range f.Imports {
			path := strings.Trim(i.Path.Value, `"`)
			if strings.HasPrefix(path, "starwright/") && !slices.Contains(allowed, path) {
				t.Errorf("%s imports %s", name, path)
			}
		}
	}
}
