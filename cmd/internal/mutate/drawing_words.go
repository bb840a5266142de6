package mutate

import (
	"math"
	"regexp"
	"strings"
)

// binds finds what people set up by in a text: a figure with a unit, a side, an
// axis, a part of the machine.
var binds = regexp.MustCompile(`(?i)[0-9]\s*(mm|cm|in|inch|deg|°)\b|[0-9]\s*°|\b(left|right|above|below|[xyz]0?|face|fence|foot|side|centre|saw|bit|slot|tip|facet)\b`)

// texts holds words against those that were there. What was there before may be
// missing or in other letters; a new text that people set up by misleads them.
func (r *ruling) texts(a, b *drawing) {
	plain := func(t *thing) string {
		s := strings.ToLower(strings.Join(strings.Fields(t.text(1)), " "))
		return strings.ReplaceAll(s, "°", " deg")
	}
	was := map[string]bool{}
	for i := range a.entities {
		if a.entities[i].kind == "TEXT" {
			was[plain(&a.entities[i])] = true
		}
	}
	for i := range b.entities {
		t := &b.entities[i]
		if t.kind != "TEXT" || was[plain(t)] {
			continue
		}
		switch s := t.text(1); {
		case t.text(8) == "GUIDE" && regexp.MustCompile(`^[0-9.]+ (mm|in|inch|inches)$`).MatchString(strings.TrimSpace(s)):
			r.add(Either, "line %d: another length on GUIDE", t.line) // the bar's, which is judged for itself
		case binds.MatchString(s):
			r.add(Harmful, "line %d: says %q, which was not there", t.line, s)
		}
	}
}

// colours judges whether what is cut can be told by its colour from what is not:
// the colour of an entity is its own (group 62), or that of its layer.
func (r *ruling) colours(d *drawing) {
	by := map[string]string{} // colour: a layer that has it
	use := func(layer, colour string) {
		colour = strings.TrimPrefix(colour, "-")
		if !ourLayer(layer) || colour == "" || colour == "0" || colour == "256" {
			return
		}
		if o, used := by[colour]; used && cutLayer(o) != cutLayer(layer) {
			r.add(Harmful, "%s and %s have the colour %s", o, layer, colour)
		} else if !used {
			by[colour] = layer
		}
	}
	for name, l := range d.layers {
		use(name, l.text(62))
	}
	for i := range d.entities {
		use(d.entities[i].text(8), d.entities[i].text(62))
	}
}

// headerUnit judges $INSUNITS, where there is one: 1 is inches, 4 millimetres, 0
// nothing.
func (r *ruling) headerUnit(d *drawing) {
	v := d.header["$INSUNITS"]
	if v == nil {
		return
	}
	if n := v.text(70); n != "0" && n != map[float64]string{1: "4", 25.4: "1"}[d.unit] {
		r.add(Harmful, "$INSUNITS %s, the comment says %g mm", n, d.unit)
	}
}

// flat judges what a polyline has that is flat, seen and plain not.
func (r *ruling) flat(t *thing) {
	worst := Harmful
	if !cutLayer(t.text(8)) {
		worst = Either // a guide is looked at, not cut
	}
	const seen = 0.01 // height or width that is more than a rounding
	for _, c := range [6]int{38, 39, 40, 41, 43, 30} {
		switch v := t.real(c); {
		case math.Abs(v) > seen:
			r.add(worst, "line %d: group %d", t.line, c)
		case v != 0:
			r.add(Either, "line %d: group %d", t.line, c)
		}
	}
	if k := strings.ToUpper(t.text(6)); k != "" && k != "CONTINUOUS" && k != "BYLAYER" {
		r.add(worst, "line %d: a line of %s", t.line, k)
	}
	if t.real(60) != 0 || t.real(67) != 0 {
		r.add(worst, "line %d: invisible or on paper", t.line)
	}
	if t.has(210) && (t.real(210) != 0 || t.real(220) != 0 || t.real(230) != 1) {
		r.add(worst, "line %d: turned out of the plane", t.line)
	}
}
