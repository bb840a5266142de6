package main

import (
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// Every module that is linked stands in the licence list, and nothing else.
func TestLicencesListed(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}}{{end}}{{end}}", ".").Output()
	if err != nil {
		t.Fatal(err)
	}
	linked := strings.Fields(string(out))
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
