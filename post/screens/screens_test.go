package screens

import (
	"bytes"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

func page() Page {
	return Page{Title: "Fair <stars>", Lead: "Eight stars.", Screens: []Screen{
		{Title: "Before you switch on", Cautions: []string{"Guards on."}},
		{Title: "Facets", Where: "mitre saw", Face: "show face up",
			Numbers:  []Number{{"Saw, from square", "0°"}, {"Stop", "231.5 mm"}},
			Pictures: []Picture{{[]byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1"></svg>`), "a board at the fence"}},
			Steps:    []string{"Push the board home."}, Measure: []string{"The two cuts meet."},
			Counts: []Count{{"first facet", "cuts", 5}, {"second facet", "cuts", 40}}},
		{Title: "Test fit", Fits: []Fit{{UnitMM: 1, Unit: "mm", Rows: []FitRow{
			{0.5, "0.5 mm", "valley", "Put a shim there."}, {0.5, "0.5 mm", "centre", "Put a shim here."}}}}},
	}}
}

func build(t *testing.T, p Page) string {
	t.Helper()
	var b bytes.Buffer
	if err := Build(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The page is read by a parser of the HTML standard (golang.org/x/net/html), and
// holds what a screen was given, words as words.
func TestPageHoldsItsScreens(t *testing.T) {
	root, err := html.Parse(strings.NewReader(build(t, page())))
	if err != nil {
		t.Fatal(err)
	}
	counts := map[string]int{}
	var text strings.Builder
	var walk func(*html.Node)
	walk = func(n *html.Node) {
		switch n.Type {
		case html.ElementNode:
			counts[n.Data]++
			if n.Data == "script" || n.Data == "style" {
				return
			}
		case html.TextNode:
			text.WriteString(n.Data + " ")
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c)
		}
	}
	walk(root)
	if counts["section"] != 3 || counts["img"] != 1 || counts["form"] != 1 {
		t.Errorf("elements: %v", counts)
	}
	if n := counts["input"]; n != 1+5+1 { // what is looked at, five boxes, the gap
		t.Errorf("%d fields", n)
	}
	for _, w := range []string{"Fair <stars>", "231.5 mm", "show face up", "Guards on.", "40 cuts", "0.5 mm, valley", "Put a shim here."} {
		if !strings.Contains(text.String(), w) {
			t.Errorf("the page does not say %q", w)
		}
	}
}

func TestSamePageSameBytes(t *testing.T) {
	once, again := build(t, page()), build(t, page())
	if once != again {
		t.Error("two runs differ")
	}
	other := page()
	other.Screens[1].Numbers[1].Value = "232 mm"
	a, b := build(t, page()), build(t, other)
	key := func(s string) string { _, s, _ = strings.Cut(s, `data-key="`); return s[:16] }
	if key(a) == key(b) {
		t.Error("the ticks of one packet would show in another")
	}
}

func TestNoScreensIsAnError(t *testing.T) {
	if Build(&bytes.Buffer{}, Page{}) == nil {
		t.Error("a page without screens was written")
	}
}
