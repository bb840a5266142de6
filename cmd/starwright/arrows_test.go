package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// The arrows of the house: which of our own packages a folder's code may
// import. The first row that matches a folder counts. Readers must not see
// writers, nor the back-plot the planner: a proof by the same code proves
// nothing.
var arrows = []struct {
	folder string   // and what lies below it
	may    []string // folders, and what lies below them
}{
	{"geom/star", []string{"geom", "geom/problem"}},
	{"geom/jig", []string{"geom", "geom/problem", "geom/star", "geom/words"}},
	{"geom/bench", []string{"geom", "geom/problem", "geom/star", "geom/bench", "geom/words"}},
	{"geom/route/choose", []string{"geom", "geom/problem", "geom/star", "geom/jig", "geom/route"}},
	{"geom/route", []string{"geom"}},
	{"geom/tryout", []string{"geom", "geom/route", "geom/words"}},
	{"geom", nil},
	{"toolpath/finding", []string{"geom"}},
	{"toolpath/backplot", []string{"geom", "toolpath", "toolpath/finding"}},
	{"toolpath/nest", []string{"geom", "geom/problem", "toolpath"}},
	{"toolpath/flat", []string{"geom", "geom/problem", "toolpath", "toolpath/nest"}},
	{"toolpath/planner", []string{"geom", "geom/problem", "toolpath"}},
	{"toolpath", []string{"geom", "toolpath/finding"}},
	{"post/cut/cuttest", []string{"geom", "toolpath/finding", "post/cut", "post/outline"}}, // for tests
	{"post/cut", []string{"geom", "toolpath/finding"}},
	{"post/outline", []string{"geom", "toolpath/finding", "post/cut"}},
	{"post/dxf/dxfread", []string{"geom", "toolpath/finding", "post/cut"}},
	{"post/dxf/dxfwrite", []string{"geom", "geom/words", "post/cut", "post/draft"}},
	{"post/draft", []string{"geom", "post/cut"}},
	{"post/svg/svgread", []string{"geom", "toolpath/finding", "post/cut"}},
	{"post/svg/svgwrite", []string{"geom", "geom/words", "post/cut", "post/draft"}},
	{"post/rs274/ncread", []string{"geom", "toolpath", "toolpath/finding"}},
	{"post/rs274/ncwrite", []string{"geom", "geom/words", "toolpath"}},
	{"post/rs274", []string{"geom"}},
	{"post", []string{"geom", "geom/words", "toolpath", "toolpath/finding", "post/picture"}},
	{"cmd/starwright", []string{"*"}},
	{"cmd/engine", []string{"*"}},
	{"cmd/onefile", []string{"*"}},
	{"cmd/internal", []string{"*"}},
}

// imports returns what each folder of the project imports from the project,
// tests left out.
func imports(t *testing.T, root string) map[string][]string {
	t.Helper()
	out := map[string][]string{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (strings.HasPrefix(d.Name(), ".") && path != root || d.Name() == "testdata" || d.Name() == "node_modules") {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, filepath.Dir(path))
		if err != nil {
			return err
		}
		folder := filepath.ToSlash(rel)
		out[folder] = append(out[folder], "")
		for _, i := range f.Imports {
			name, err := strconv.Unquote(i.Path.Value)
			if err != nil {
				return err
			}
			if own, ok := strings.CutPrefix(name, "starwright/"); ok {
				out[folder] = append(out[folder], own)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func within(path, folder string) bool {
	return path == folder || strings.HasPrefix(path, folder+"/")
}

func TestArrows(t *testing.T) {
	seen := imports(t, "../..")
	if len(seen) < 15 {
		t.Fatalf("only %d folders with code were found; the test looks in the wrong place", len(seen))
	}
	for folder, list := range seen {
		row := -1
		for i, a := range arrows {
			if within(folder, a.folder) {
				row = i
				break
			}
		}
		if row < 0 {
			t.Errorf("%s: no rule says what it may import", folder)
			continue
		}
		for _, i := range list {
			if i != "" && !allowed(i, folder, arrows[row].may) {
				t.Errorf("%s imports %s, which turns an arrow of the house round", folder, i)
			}
		}
	}
}

// allowed reports whether an import is among the folders named: exactly, but
// for geom/bench and post/picture, whose parts stand below them.
func allowed(path, from string, may []string) bool {
	for _, m := range may {
		switch {
		case m == "*":
			return !within(path, "cmd/starwright")
		case m == path:
			return true
		case (m == "geom/bench" || m == "post/picture") && within(path, m):
			return true
		}
	}
	return within(path, from) || within(from, path) && strings.HasPrefix(from, "post/picture")
}
