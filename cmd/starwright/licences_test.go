package main

import (
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// Every module that is linked stands in the licence list, and nothing else, on
// whatever system the program is built for.
func TestLicencesListed(t *testing.T) {
	var linked []string
	for _, system := range []string{"linux/amd64", "darwin/arm64", "windows/amd64", "js/wasm"} {
		list := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}}{{end}}{{end}}", ".")
		goos, goarch, _ := strings.Cut(system, "/")
		list.Env = append(os.Environ(), "GOOS="+goos, "GOARCH="+goarch)
		out, err := list.Output()
		if err != nil {
			t.Fatal(err)
		}
		linked = append(linked, strings.Fields(string(out))...)
	}
	slices.Sort(linked)
	linked = slices.Compact(linked)
	doc, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	_, section, found := strings.Cut(string(doc), "\n## Licences of dependencies\n")
	if !found {
		t.Fatal("no list")
	}
	section, _, _ = strings.Cut(section, "\n## ")
	var listed []string
	for line := range strings.Lines(section) {
		if rest, ok := strings.CutPrefix(line, "| `"); ok {
			name, licence, _ := strings.Cut(rest, "` | ")
			if len(strings.TrimSpace(licence)) < 4 {
				t.Errorf("%s has no licence", name)
			}
			listed = append(listed, name)
		}
	}
	slices.Sort(listed)
	if !slices.Equal(linked, listed) {
		t.Errorf("linked: %v\nlisted: %v", linked, listed)
	}
}
