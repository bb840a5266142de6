package deskpage

import (
	"io/fs"
	"regexp"
	"strings"
	"testing"
)

// The modules become one script: every import is found, and no name stands at
// the top of two of them.
func TestScript(t *testing.T) {
	script, err := Script()
	if err != nil {
		t.Fatal(err)
	}
	if regexp.MustCompile(`(?m)^(import|export) `).MatchString(script) {
		t.Error("an import or export is left in the joined script")
	}
	err = fs.WalkDir(assets, "assets/js", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := assets.ReadFile(p)
		first, _, _ := strings.Cut(string(data), "\n")
		if !strings.HasPrefix(first, "// ") || !strings.Contains(script, first) {
			t.Errorf("%s is not in the script, or does not say what it is for", p)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestOneFile(t *testing.T) {
	page, err := OneFile([]byte("engine"), []byte("// starts it\n"))
	if err != nil {
		t.Fatal(err)
	}
	text := string(page)
	for _, bad := range []string{"src=", "href=\"desk.css\"", "unsafe-inline", "http://", "https://"} {
		for _, part := range strings.Split(text, bad)[1:] {
			if !strings.HasPrefix(part, "www.w3.org/2000/svg") { // a name, not a request
				t.Errorf("the file asks for another: %s%.60s", bad, part)
			}
		}
	}
	again, err := OneFile([]byte("engine"), []byte("// starts it\n"))
	if err != nil || string(again) != text {
		t.Error("the same parts give two files")
	}
	if _, err := OneFile(nil, []byte("</script>")); err == nil {
		t.Error("a script that ends its own element is taken")
	}
}

func TestAssets(t *testing.T) {
	for _, name := range []string{"desk.html", "desk.css", "js/main.js", "mark.svg"} {
		if _, _, ok := Asset(name); !ok {
			t.Errorf("%s is missing", name)
		}
	}
	for _, name := range []string{"../doc.go", "js", "", ".", "js/../desk.html", "/desk.html", "desk.go", "none.js"} {
		if _, _, ok := Asset(name); ok {
			t.Errorf("%q is served", name)
		}
	}
}
