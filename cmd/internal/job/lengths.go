package job

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"starwright/geom"
)

// span is the range of lengths that are believed, with one that goes through.
type span struct {
	lo, hi  float64 // mm, both allowed
	example string
	would   string // what to try instead in words, "" for key = example
}

// instead returns what to try instead of a bad value.
func (sp span) instead(key string) string {
	if sp.would != "" {
		return sp.would
	}
	return key + " = " + quote(sp.example)
}

// plain returns the digits of a TOML number, or says why it is not plain.
func plain(n *node) (digits, why string) {
	s := strings.TrimPrefix(strings.ReplaceAll(n.text, "_", ""), "+")
	if strings.HasSuffix(s, "inf") || strings.HasSuffix(s, "nan") {
		return "", "this is not a number"
	}
	if strings.Trim(s, "-.0123456789") != "" {
		return "", "a number here is plain digits, without exponent or prefix"
	}
	return s, ""
}

// quantity returns the text of a value that is written in quotes with its unit
// or as a bare number, or reports it.
func (s section) quantity(key string, n *node, what, would string) (string, bool) {
	switch n.kind {
	case text:
		return n.text, true
	case whole, decimal:
		t, why := plain(n)
		if why != "" {
			s.failTry(key, n, why, would)
			return "", false
		}
		return t, true
	}
	s.failTry(key, n, "this must be "+what+" in quotes, or a bare number", would)
	return "", false
}

// quote writes a text as TOML; an inch mark in it comes out as \".
func quote(s string) string { return strconv.Quote(s) }

// lengthOf reads a length; false where it had to be reported.
func (s section) lengthOf(key string, n *node, sp span) (float64, bool) {
	t, ok := s.quantity(key, n, "a length", sp.instead(key))
	if !ok {
		return 0, false
	}
	mm, err := geom.ParseLength(t, s.unit(n))
	if err != nil {
		would := fmt.Sprintf("%s (lengths are written like %s)", s.mend(key, t, n, sp), geom.LengthForms)
		s.failTry(key, n, "this is not a length: "+reason(err), would)
		return 0, false
	}
	if n.kind == text && s.unit(n) == geom.Millimetre && bareFraction(t) {
		s.failTry(key, n, "a fraction is of an inch, and the numbers here are mm", s.mend(key, t+" in", n, sp))
		return 0, false
	}
	if !within(mm, sp.lo, sp.hi) {
		s.failTry(key, n, fmt.Sprintf("write %s to %s", s.r.least(sp.lo), s.r.most(sp.hi)), s.believed(key, mm, sp))
		return 0, false
	}
	return mm, true
}

// believed returns what to try instead of a length that nobody has: the one
// with the point a place further, which is the usual slip, else the usual one.
func (s section) believed(key string, mm float64, sp span) string {
	if sp.would == "" {
		for _, times := range []float64{0.1, 10} {
			if v := s.r.u.Round(mm * times); v > 0 && within(v, sp.lo, sp.hi) && (times < 1) == (mm > sp.hi) {
				return key + " = " + quote(s.r.u.Format(v))
			}
		}
	}
	return sp.instead(key)
}

// rounding is what reading and unit conversion may shift a value, relative.
const rounding = 1e-12

// within reports whether v lies in [lo, hi], give or take rounding.
func within(v, lo, hi float64) bool {
	return v >= lo-lo*rounding && v <= hi+hi*rounding
}

// least and most print the ends of a range, on the side that is still good.
func (r *reader) least(mm float64) string {
	if mm > 0 && mm < r.u.MM()/8 {
		step := 0.01 // as fine as it is printed
		if r.u == geom.Inch {
			step = 0.001 * geom.MMPerInch
		}
		return r.u.FormatFine(math.Ceil(mm/step-rounding) * step)
	}
	return r.u.Format(r.u.Ceil(mm))
}

func (r *reader) most(mm float64) string { return r.u.FormatFloor(mm) }

// mend returns what to try instead of a wrongly written length: what it was
// most likely meant to be, where that is a length, or else the example.
func (s section) mend(key, t string, n *node, sp span) string {
	t = meantLength(unquoted(t), s.unit(n))
	mm, err := geom.ParseLength(t, s.unit(n))
	if err != nil || !within(mm, sp.lo, sp.hi) || sp.would != "" {
		return sp.instead(key)
	}
	if n.kind == text {
		t = quote(t)
	}
	return key + " = " + t
}

// reason returns why geom refused a value, without the value.
func reason(err error) string {
	var v *geom.ValueError
	if errors.As(err, &v) {
		return v.Why
	}
	return err.Error()
}

// length reads a length or takes the default, for the reason given.
func (s section) length(key string, sp span, why string) float64 {
	if n := s.get(key); n != nil {
		if v, ok := s.lengthOf(key, n, sp); ok {
			return v
		}
		return s.r.mm(sp.example)
	}
	s.note(key, sp.example, why)
	return s.r.mm(sp.example)
}

// open reads a length that stays open where the file lacks it.
func (s section) open(key string, sp span) *float64 {
	n := s.get(key)
	if n == nil {
		return nil
	}
	if v, ok := s.lengthOf(key, n, sp); ok {
		return &v
	}
	return nil
}
