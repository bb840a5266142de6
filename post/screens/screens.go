// Package screens makes a page that is carried to the machine on a phone: one
// set-up a screen, its numbers very large, the drawing, what to do, and boxes to
// tick off. It is one file that opens from a folder with no network; what is
// ticked stays in the browser that ticked it. Without its script it is a plain
// page with everything on it, and so it prints.
//
// The package knows screens, words and pictures. It knows neither stars nor
// saws; what stands on a screen is its caller's.
package screens

import (
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"strings"
)

// Page is all screens in their order.
type Page struct {
	Title   string
	Lead    string // a sentence below the title
	Screens []Screen
}

// Screen is one set-up.
type Screen struct {
	Title    string
	Where    string // machine, or by hand
	Face     string // which face is up; "" where it does not matter
	Cautions []string
	Numbers  []Number // set on the machine, very large
	Facts    []Number // to know or to measure
	Pictures []Picture
	Before   []string // to tick off before it starts: bit, zero, room, air cut
	Steps    []string
	Measure  []string
	Counts   []Count
	Fits     []Fit // fields for a gap that answer with a correction
}

// Number is a value with its name.
type Number struct{ Name, Value string }

// Picture is an SVG with a text that says what it shows.
type Picture struct {
	SVG  []byte
	Text string
}

// Count is pieces to count off.
type Count struct {
	Name string
	Of   string // "cuts"
	N    int
}

// Fit turns the gap in the last joint of a star into what to do: the row of the
// gap that is nearest.
type Fit struct {
	Star   string  // whose joint it is; "" where there is one star
	UnitMM float64 // millimetres in a unit of the field
	Unit   string
	Rows   []FitRow
}

// FitRow is a gap with what it asks for.
type FitRow struct {
	Wide float64 // of the gap, mm
	Gap  string  // as it is written
	At   string  // "valley" or "centre"
	Do   string
}

//go:embed assets
var assets embed.FS

// mostBoxes is how many boxes are ticked one by one; more are counted.
const mostBoxes = 24

// Build writes the page. The same content gives the same bytes.
func Build(w io.Writer, p Page) error {
	if len(p.Screens) == 0 {
		return fmt.Errorf("the page has no screens")
	}
	frame, style, script, err := parts()
	if err != nil {
		return err
	}
	key, err := keyOf(p)
	if err != nil {
		return err
	}
	var choices, screens markup
	for i, s := range p.Screens {
		choices.put(`<option value="{}">{}. {}</option>`, i, i+1, s.Title)
		screens.screen(i, len(p.Screens), s)
	}
	_, err = strings.NewReplacer(
		"{{policy}}", policy(style, script),
		"{{title}}", safe(p.Title),
		"{{style}}", style,
		"{{key}}", key,
		"{{lead}}", safe(p.Lead),
		"{{choices}}", choices.String(),
		"{{screens}}", screens.String(),
		"{{script}}", script,
	).WriteString(w, frame)
	return err
}

// keyOf tells pages apart in a browser that has ticked several.
func keyOf(p Page) (string, error) {
	data, err := json.Marshal(p)
	if err != nil {
		return "", fmt.Errorf("the page's content: %w", err)
	}
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:8]), nil
}

// parts returns the page's frame, its style sheet and its script.
func parts() (frame, style, script string, err error) {
	read := func(name string) string {
		b, e := assets.ReadFile("assets/" + name)
		if e != nil && err == nil {
			err = fmt.Errorf("the page's parts: %w", e)
		}
		return string(b)
	}
	return read("page.html"), read("style.css"), read("script.js"), err
}

// Hashes returns what a content security policy has to allow for the page to
// run where it inherits one: its script and its style sheet.
func Hashes() (script, style string) {
	_, css, js, err := parts()
	if err != nil {
		return "", ""
	}
	return hashOf(js), hashOf(css)
}

// policy is the page's content security policy (W3C, Content Security Policy
// Level 3, sections 6.1 and 8.3): this script, this style sheet, nothing else.
func policy(style, script string) string {
	return "default-src 'none'; script-src " + hashOf(script) + "; style-src " + hashOf(style) + "; img-src data:; base-uri 'none'; form-action 'none'"
}

func hashOf(s string) string {
	sum := sha256.Sum256([]byte(s))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}
