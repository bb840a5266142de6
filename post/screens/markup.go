package screens

import (
	"encoding/base64"
	"fmt"
	"html"
	"strconv"
	"strings"
)

// markup is a piece of the page. (The template packages of the standard library
// could make it, but they call methods by name, and so the linker has to keep every
// method of every type: a third of the engine that browsers load.)
type markup struct{ strings.Builder }

// put writes a piece in which values stand for {}, made safe for text and for
// quoted attributes.
func (m *markup) put(piece string, values ...any) {
	for _, v := range values {
		before, after, found := strings.Cut(piece, "{}")
		if !found {
			panic("screens: more values than places: " + piece)
		}
		m.WriteString(before)
		m.WriteString(safe(fmt.Sprint(v)))
		piece = after
	}
	m.WriteString(piece)
}

// safe returns text as it may stand between elements and in quoted attributes.
func safe(s string) string { return html.EscapeString(s) }

// screen writes one set-up of all.
func (m *markup) screen(i, all int, s Screen) {
	m.put("\n<section class=\"screen\" id=\"s{}\" aria-labelledby=\"t{}\">\n  <p class=\"where\">{} of {}", i+1, i+1, i+1, all)
	if s.Where != "" {
		m.put(", {}", s.Where)
	}
	m.put("</p>\n  <h2 id=\"t{}\" tabindex=\"-1\">{}</h2>", i+1, s.Title)
	if s.Face != "" {
		m.put(`<p class="face">{}</p>`, s.Face)
	}
	m.list(`<div class="care"><h3>Take care</h3><ul>`, s.Cautions, "</ul></div>")
	m.numbers("numbers", s.Numbers)
	for _, p := range s.Pictures {
		m.put(`<figure><img src="data:image/svg+xml;base64,{}" alt="{}"></figure>`, base64.StdEncoding.EncodeToString(p.SVG), p.Text)
	}
	m.numbers("facts", s.Facts)
	m.ticks(` class="before"`, "Before you start", fmt.Sprintf("%d-b", i), s.Before)
	m.list(`<h3>What to do</h3><ol class="steps">`, s.Steps, "</ol>")
	m.ticks("", "Look before you go on", fmt.Sprintf("%d-m", i), s.Measure)
	for _, f := range s.Fits {
		m.fit(f)
	}
	for k, c := range s.Counts {
		m.count(fmt.Sprintf("%d-%d", i, k), c)
	}
	m.put("\n</section>")
}

// list writes sentences one below the other, nothing where there are none.
func (m *markup) list(before string, sentences []string, after string) {
	if len(sentences) == 0 {
		return
	}
	m.put(before)
	for _, s := range sentences {
		m.put("<li>{}</li>", s)
	}
	m.put(after)
}

func (m *markup) numbers(class string, ns []Number) {
	if len(ns) == 0 {
		return
	}
	m.put(`<dl class="{}">`, class)
	for _, n := range ns {
		m.put("<div><dt>{}</dt><dd>{}</dd></div>", n.Name, n.Value)
	}
	m.put("</dl>")
}

// ticks writes sentences with a box to tick each. The boxes are known by name
// and number.
func (m *markup) ticks(class, legend, name string, sentences []string) {
	if len(sentences) == 0 {
		return
	}
	m.put("<fieldset"+class+"><legend>{}</legend>", legend)
	for k, s := range sentences {
		m.put(`<label><input type="checkbox" data-tick="{}{}"> <span>{}</span></label>`, name, k, s)
	}
	m.put("</fieldset>")
}

func (m *markup) fit(f Fit) {
	head := "What the gap asks for"
	if f.Star != "" {
		head += ", " + f.Star
	}
	m.put(`<form class="fit" data-unit="{}" data-name="{}">
    <h3>{}</h3>
    <label>Gap in the last joint, {} <input type="text" inputmode="decimal" autocomplete="off" name="gap"></label>
    <label>Open at <select name="at"><option value="valley">the valley</option><option value="centre">the centre</option></select></label>
    <output role="status"></output>
    <details><summary>All gaps</summary><table>`, number(f.UnitMM), f.Unit, head, f.Unit)
	for _, r := range f.Rows {
		m.put(`<tr data-mm="{}" data-at="{}"><th>{}, {}</th><td>{}</td></tr>`, number(r.Wide), r.At, r.Gap, r.At, r.Do)
	}
	m.put("</table></details>\n  </form>")
}

// count writes the boxes of pieces to count off, or what counts them where they
// are many.
func (m *markup) count(name string, c Count) {
	m.put(`<div class="count" data-count="{}" data-n="{}">
    <p class="of">{}: <b>{} {}</b></p>`, name, c.N, c.Name, c.N, c.Of)
	if c.N > mostBoxes || c.N < 1 {
		m.put(`<div class="tally"><button type="button" data-by="-1" aria-label="One less: {}">&minus;</button><output>0</output><button type="button" data-by="1" aria-label="One more: {}">+</button></div>`, c.Name, c.Name)
	} else {
		m.put(`<div class="boxes">`)
		for j := range c.N {
			m.put(`<label><input type="checkbox" data-tick="{}-{}" aria-label="{}, number {}"><span>{}</span></label>`, name, j, c.Name, j+1, j+1)
		}
		m.put("</div>")
	}
	m.put("\n  </div>")
}

// number writes a number with all its digits.
func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
