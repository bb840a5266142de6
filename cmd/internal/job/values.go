package job

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"starwright/geom"
)

// openFeed reads a feed, 0 where the file lacks it or it had to be reported.
func (s section) openFeed(key string, lo, hi float64, example string) float64 {
	n := s.get(key)
	if n == nil {
		return 0
	}
	t, ok := s.quantity(key, n, "a feed", key+" = "+quote(example))
	if !ok {
		return 0
	}
	v, err := geom.ParseFeed(t, s.unit(n))
	if meant, bad := geom.ParseFeed(strings.TrimSpace(t)+"/min", s.unit(n)); err != nil && bad == nil && within(meant, lo, hi) {
		s.fail(key, n, "a feed is a length a minute", quote(strings.TrimSpace(t)+"/min"))
		return 0
	}
	switch {
	case err != nil:
		s.fail(key, n, "this is not a feed: "+reason(err), fmt.Sprintf("%s (feeds are written like %s)", quote(example), geom.FeedForms))
	case !within(v, lo, hi):
		s.fail(key, n, fmt.Sprintf("write %s to %s", s.r.u.FormatFeed(lo), s.r.u.FormatFeed(hi)), quote(example))
	default:
		return v
	}
	return 0
}

// angle reads an angle, nil where the file lacks it or it had to be reported.
func (s section) angle(key string, lo, hi geom.Angle, example string) *geom.Angle {
	n := s.get(key)
	if n == nil {
		return nil
	}
	t, ok := s.quantity(key, n, "an angle", key+" = "+quote(example))
	if !ok {
		return nil
	}
	a, err := geom.ParseAngle(t)
	switch {
	case err != nil:
		s.fail(key, n, "this is not an angle: "+reason(err), fmt.Sprintf("%s (angles are written like %s)", quote(example), geom.AngleForms))
	case !within(float64(a), float64(lo), float64(hi)):
		s.fail(key, n, fmt.Sprintf("write %s to %s", lo.Format(), hi.Format()), quote(example))
	default:
		return &a
	}
	return nil
}

// count reads a whole number; def is taken where the file lacks it.
func (s section) count(key string, lo, hi, def int, why string) int {
	n := s.get(key)
	if n == nil {
		s.note(key, strconv.Itoa(def), why)
		return def
	}
	if v, ok := s.wholeOf(key, n, lo, hi, def); ok {
		return v
	}
	return def
}

// whole reads a whole number, nil where the file lacks it or it had to be
// reported.
func (s section) whole(key string, lo, hi, example int) *int {
	n := s.get(key)
	if n == nil {
		return nil
	}
	if v, ok := s.wholeOf(key, n, lo, hi, example); ok {
		return &v
	}
	return nil
}

// wholeOf reads a whole number; false where it had to be reported.
func (s section) wholeOf(key string, n *node, lo, hi, example int) (int, bool) {
	if n.kind != whole {
		s.fail(key, n, "write a whole number, without quotes", strconv.Itoa(meantWhole(n, lo, hi, example)))
		return 0, false
	}
	t, why := plain(n)
	if why != "" {
		s.fail(key, n, why, strconv.Itoa(example))
		return 0, false
	}
	v, err := strconv.Atoi(t)
	if err != nil || v < lo || v > hi {
		s.fail(key, n, fmt.Sprintf("write %d to %d", lo, hi), strconv.Itoa(meantWhole(n, lo, hi, example)))
		return 0, false
	}
	return v, true
}

// meantWhole returns the whole number nearest to what was written, the example
// where that is none.
func meantWhole(n *node, lo, hi, example int) int {
	t := strings.Trim(unquoted(strings.ReplaceAll(n.text, "_", "")), "+ ")
	v, err := strconv.ParseFloat(strings.Replace(t, ",", ".", 1), 64)
	if err != nil || n.kind == table || n.kind == list || v != v {
		return example
	}
	return int(min(max(math.Round(v), float64(lo)), float64(hi)))
}

// number reads a bare number or one in quotes with the unit given, nil where
// the file lacks it or it had to be reported.
func (s section) number(key string, lo, hi float64, unit, example string) *float64 {
	n := s.get(key)
	if n == nil {
		return nil
	}
	if v, ok := s.numberOf(key, n, lo, hi, unit, example); ok {
		return &v
	}
	return nil
}

// numberOf reads a number; false where it had to be reported.
func (s section) numberOf(key string, n *node, lo, hi float64, unit, example string) (float64, bool) {
	t, ok := s.quantity(key, n, "a number in "+unit, key+" = "+example)
	if !ok {
		return 0, false
	}
	t = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(t), unit))
	v, err := strconv.ParseFloat(t, 64)
	switch {
	case err != nil || strings.Trim(strings.TrimPrefix(t, "-"), ".0123456789") != "":
		s.fail(key, n, "this is not a plain number in "+unit, example)
	case !within(v, lo, hi):
		if strings.HasPrefix(unit, "the ") { // words for a unit, not its sign
			unit = "in " + unit
		}
		s.fail(key, n, fmt.Sprintf("write %s to %s %s", show(lo), show(hi), unit), example)
	default:
		return v, true
	}
	return 0, false
}

// show prints a number as short as it goes, without exponent.
func show(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// yes reads true or false, nil where the file lacks it.
func (s section) yes(key string, example bool) *bool {
	n := s.get(key)
	if n == nil {
		return nil
	}
	if n.kind != truth {
		if yes, ok := meantTruth(n.text); ok {
			example = yes
		}
		s.fail(key, n, "write true or false, without quotes", strconv.FormatBool(example))
		return nil
	}
	v := n.text == "true"
	return &v
}

// truthy reads true or false; def is taken where the file lacks it.
func (s section) truthy(key string, def bool, why string) bool {
	if v := s.yes(key, def); v != nil {
		return *v
	}
	if !s.has(key) {
		s.note(key, strconv.FormatBool(def), why)
	}
	return def
}

// choice reads one of a few words; the first is taken where the file lacks it.
func (s section) choice(key, why string, choices ...string) string {
	n := s.get(key)
	if n == nil {
		s.note(key, choices[0], why)
		return choices[0]
	}
	if n.kind == text && slices.Contains(choices, n.text) {
		return n.text
	}
	quoted := make([]string, len(choices))
	for i, w := range choices {
		quoted[i] = quote(w)
	}
	slices.Sort(quoted)
	would := quote(choices[0])
	if w := meantWord(n.text, choices); w != "" {
		would = quote(w)
	}
	s.fail(key, n, "write "+strings.Join(quoted, " or "), would)
	return choices[0]
}

// words reads a text of people's own; "" where the file lacks it.
func (s section) words(key string, most int, example string) string {
	n := s.get(key)
	if n == nil {
		return ""
	}
	if why := notWords(n, most); why != "" {
		s.fail(key, n, why, quote(example))
		return ""
	}
	return n.text
}

// notWords says why a value is not a short printable text.
func notWords(n *node, most int) string {
	switch {
	case n.kind != text:
		return "put this in quotes"
	case utf8.RuneCountInString(n.text) > most:
		return fmt.Sprintf("this must have %d characters at most", most)
	case printable(n.text, most) != n.text:
		return "this must be one line of printable characters"
	}
	return ""
}
