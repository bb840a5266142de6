package main

import (
	"io"
	"strings"
	"testing"
)

// The manual page names every command and flag, and no line of text is a macro
// by chance (groff_man(7): control lines start with a dot or an apostrophe).
func TestManual(t *testing.T) {
	root := newApp(strings.NewReader(""), io.Discard, io.Discard).root()
	page := manual(root)
	for _, c := range root.Commands() {
		if !c.IsAvailableCommand() {
			continue
		}
		if !strings.Contains(page, ".SS "+quoted(c.UseLine())) {
			t.Errorf("the page has no %s", c.Name())
		}
		for _, f := range flagName().FindAllStringSubmatch(c.LocalFlags().FlagUsages(), -1) {
			if !strings.Contains(page, `\-\-`+escaped(f[1])) {
				t.Errorf("the page does not name --%s of %s", f[1], c.Name())
			}
		}
	}
	known := map[string]bool{".TH": true, ".SH": true, ".SS": true, ".TP": true, ".PP": true, ".B": true, ".br": true, ".nf": true, ".fi": true}
	for l := range strings.Lines(page) {
		macro, _, _ := strings.Cut(strings.TrimSpace(l), " ")
		if (strings.HasPrefix(l, ".") || strings.HasPrefix(l, "'")) && !known[macro] {
			t.Errorf("a macro that is none: %s", l)
		}
	}
	for text, want := range map[string]string{".start": `\&.start`, "'tis": `\&'tis`, `a\b-c`: `a\eb\-c`} {
		if got := escaped(text); got != want {
			t.Errorf("%s is written %s, want %s", text, got, want)
		}
	}
}
