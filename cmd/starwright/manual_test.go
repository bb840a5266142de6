package main

import (
	"io"
	"strings"
	"testing"

	"github.com/spf13/pflag"
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
		c.LocalFlags().VisitAll(func(f *pflag.Flag) {
			if f.Name != "help" && !strings.Contains(page, `\-\-`+escaped(f.Name)) {
				t.Errorf("the page does not name --%s of %s", f.Name, c.Name())
			}
		})
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
