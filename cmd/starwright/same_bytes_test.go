package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// The same job gives the same bytes wherever, whenever and by whomever the
// packet is made.
func TestSameBytes(t *testing.T) {
	s := newShop(t)
	source := "title = \"first\"\n[star]\nboard_width = \"100 mm\"\noffcut_star = true\n[jigs]\nmake = []\n"
	var first tree
	for i, c := range []struct {
		name, folder string
		env          []string
	}{
		{"as it is", "a", nil},
		{"one processor", "b", []string{"GOMAXPROCS=1"}},
		{"two processors", "c", []string{"GOMAXPROCS=2"}},
		{"another path", "Größe & so/a folder", nil},
		{"another language", "d", []string{"LC_ALL=tr_TR.UTF-8", "LANG=tr_TR.UTF-8", "LC_NUMERIC=de_DE.UTF-8"}},
		{"far east", "e", []string{"TZ=Pacific/Kiritimati"}},
		{"far west, another home", "f", []string{"TZ=Etc/GMT+12", "HOME=/nonexistent", "USER=nobody", "TMPDIR=/nonexistent"}},
		{"rare memory", "g", []string{"GOGC=5"}},
		{"no date", "h", []string{"SOURCE_DATE_EPOCH="}},
	} {
		if err := os.MkdirAll(filepath.Join(s.dir, c.folder), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(s.dir, c.folder, "my job.toml"), []byte(source), 0o644); err != nil {
			t.Fatal(err)
		}
		cmd := exec.Command(s.bin, "make", "my job.toml")
		cmd.Dir = filepath.Join(s.dir, c.folder)
		cmd.Env = append(os.Environ(), c.env...)
		if said, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%s: %v\n%s", c.name, err, said)
		}
		got := s.tree(filepath.Join(c.folder, "my job-packet"))
		if i == 0 {
			first = got
			time.Sleep(1100 * time.Millisecond) // stamps of the time count seconds
			continue
		}
		for path, data := range first {
			if got[path] != data {
				t.Errorf("%s: %s differs", c.name, path)
			}
		}
		if len(got) != len(first) {
			t.Errorf("%s: %d files, not %d", c.name, len(got), len(first))
		}
	}
	t.Logf("%d files the same in 9 places", len(first))
}

// Nothing in the program asks for the time, the place or chance, so that
// nothing of it can come into a packet. The desk does, for its key and to clear
// up after pages that were closed; it hands jobs on and makes no file itself.
func TestNobodyAsksTheClock(t *testing.T) {
	banned := map[string]bool{
		"time.Now": true, "time.Since": true, "time.Local": true, "time.Tick": true, "os.Hostname": true, "os.Getpid": true,
		"os.Getenv": true, "os.LookupEnv": true, "os.Environ": true, "user.Current": true, "maphash.MakeSeed": true,
	}
	allowed := map[string]bool{
		"cmd/internal/packet/papers.go os.Getenv": true, // SOURCE_DATE_EPOCH, for the date on paper
		"cmd/engine/main.go time.Now":             true, // how often the page hears how far the work is
		"cmd/engine/main.go time.Since":           true,
		"cmd/onefile/main.go os.Environ":          true, // passed on to the go command
	}
	files := 0
	err := filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "node_modules" || d.Name() == "testdata" || d.Name() == ".git" || path == "../../cmd/internal/desk") {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		files++
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			return err
		}
		for _, i := range f.Imports {
			if strings.Contains(i.Path.Value, "math/rand") || strings.Contains(i.Path.Value, "crypto/rand") {
				t.Errorf("%s imports %s", path, i.Path.Value)
			}
		}
		ast.Inspect(f, func(n ast.Node) bool {
			sel, ok := n.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			if pkg, ok := sel.X.(*ast.Ident); ok {
				name := pkg.Name + "." + sel.Sel.Name
				if banned[name] && !allowed[filepath.ToSlash(strings.TrimPrefix(path, "../../"))+" "+name] {
					t.Errorf("%s: %s", path, name)
				}
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if files < 50 {
		t.Errorf("only %d files were looked at", files)
	}
}
