package job

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"starwright/geom"
	"starwright/geom/problem"
	"starwright/geom/star"
	"starwright/geom/words"
)

// cutterKeys are the keys of a cutter that is written as a table.
var cutterKeys = []string{"diameter", "cut_length", "flutes"}

// cutters reads the straight bits that the shop has for the CNC.
func (s section) cutters(key string) []star.Bit {
	const most = 50
	n := s.get(key)
	if n == nil {
		return nil
	}
	example := s.r.pick(`["6.35 mm", { diameter = "3.175 mm", cut_length = "12 mm" }]`, `["1/4 in", { diameter = "1/8 in", cut_length = "1/2 in" }]`)
	if n.kind != list || len(n.items) == 0 || len(n.items) > most {
		s.fail(key, n, fmt.Sprintf("write a list of cutters in brackets, 1 to %d", most), example)
		return nil
	}
	out := []star.Bit{}
	for _, item := range n.items {
		if b, ok := s.bit(key, item, example); ok {
			out = append(out, b)
		}
	}
	// The thickest first: it is the stiffest.
	slices.SortStableFunc(out, func(a, b star.Bit) int {
		switch {
		case a.Diameter > b.Diameter:
			return -1
		case a.Diameter < b.Diameter:
			return 1
		}
		return 0
	})
	return out
}

// bit reads one cutter: a diameter, or a table.
func (s section) bit(key string, n *node, example string) (b star.Bit, ok bool) {
	wide := span{lo: 0.5, hi: 50, would: key + " = " + example}
	long := span{lo: 1, hi: 300, would: key + " = " + example}
	if n.kind != table {
		b.Diameter, ok = s.lengthOf(key, n, wide)
		return b, ok
	}
	ok = true
	for _, k := range n.keys {
		kid := n.kids[k]
		good := true
		switch k {
		case "diameter":
			b.Diameter, good = s.lengthOf(key, kid, wide)
		case "cut_length":
			b.CutLength, good = s.lengthOf(key, kid, long)
		case "flutes":
			b.Flutes, good = s.wholeOf(key, kid, 1, 12, 2)
		default:
			good = false
			would := words.Meant(k, cutterKeys)
			why := fmt.Sprintf("a cutter has no key %q", printable(k, maxShown))
			if would == "" {
				why += "; its keys are diameter, cut_length and flutes"
			}
			s.r.add(Error{File: kid.file(), Line: kid.line, Table: s.name, Key: key, Why: why, Would: would})
		}
		ok = ok && good
	}
	if ok && n.kids["diameter"] == nil {
		s.failTry(key, n, "this cutter has no diameter", key+" = "+example)
		return b, false
	}
	return b, ok
}

// owned returns the cutters that the slots may be cut with; without a CNC the router
// table's.
func (j *Job) owned() []star.Bit {
	if !j.Shop.With(CNC) {
		return j.routerBits()
	}
	return j.Shop.Cutters
}

// routerBits returns the bits of the router table, the thickest first.
func (j *Job) routerBits() (out []star.Bit) {
	if !j.Shop.With(RouterTable) {
		return nil
	}
	for _, d := range j.RouterTable.Bits {
		out = append(out, star.Bit{Diameter: d})
	}
	slices.SortStableFunc(out, func(a, b star.Bit) int { return cmp.Compare(b.Diameter, a.Diameter) })
	return out
}

// takeBit takes over what is known of the cutter of some diameter (mm), named by the
// job or picked by the star's model, where it is one of those that the shop has. It may
// be called again when another one was picked.
func (j *Job) takeBit(diameter float64) {
	owned := j.owned()
	i := slices.IndexFunc(owned, func(b star.Bit) bool { return math.Abs(b.Diameter-diameter) <= geom.Rounding })
	if i < 0 {
		return
	}
	was := j.Cutter
	j.Cutter = j.ofBit(j.Cutter, owned[i])
	note := func(key, value string, known bool) {
		j.Defaults = slices.DeleteFunc(j.Defaults, func(n problem.Note) bool { return n.Key == key })
		if known {
			j.Defaults = append(j.Defaults, problem.Note{Key: key, Value: value, Why: "of that cutter in [shop] cutters"})
		}
	}
	if j.At("cutter.cut_length") == 0 {
		note("cutter.cut_length", j.Units.FormatExact(open(j.Cutter.CutLength)), j.Cutter.CutLength != nil)
	}
	if j.Cutter.Flutes != was.Flutes {
		note("cutter.flutes", fmt.Sprint(j.Cutter.Flutes), true)
	}
}

// ofBit returns a cutter with what is known of a bit of the shop, where the job does
// not say it.
func (j *Job) ofBit(c CutterTable, b star.Bit) CutterTable {
	if j.At("cutter.cut_length") == 0 {
		c.CutLength = nil
		if b.CutLength > 0 {
			c.CutLength = &b.CutLength
		}
	}
	if j.At("cutter.flutes") == 0 {
		c.Flutes = usualFlutes
		if b.Flutes > 0 {
			c.Flutes = b.Flutes
		}
	}
	return c
}

// open returns a value that may be open, 0 where it is.
func open(v *float64) float64 {
	if v == nil {
		return 0
	}
	return *v
}

// tooShort says that the cutter, with edges that long, does not go through the sheet.
func (j *Job) tooShort(l *float64) []Error {
	s, u := j.Sheet, j.Units
	if l == nil || j.Jigs.Make != nil && len(j.Jigs.Make) == 0 || s.Thickness+s.Breakthrough <= *l {
		return nil
	}
	p := problem.Problem{Key: "cutter.cut_length", Got: u.FormatSize(*l), Why: fmt.Sprintf(
		"the cutter does not reach through the sheet, which is %s thick, and %s beyond", u.FormatSize(s.Thickness), u.FormatSize(s.Breakthrough))}
	key := "[sheet] thickness"
	switch {
	case j.At("sheet.thickness") > 0:
		p.Key, p.Got, key = "sheet.thickness", u.Format(s.Thickness), "thickness"
		p.Why = fmt.Sprintf("the cutter, with a cut_length of %s, does not reach through the sheet and %s beyond", u.FormatSize(*l), u.FormatSize(s.Breakthrough))
	case j.At("cutter.cut_length") == 0:
		p.Key, p.Got = "shop.cutters", ""
	}
	p.Would = "[cutter] cut_length = " + quote(u.Format(u.Ceil(s.Thickness+s.Breakthrough)))
	if t := u.Floor(*l - s.Breakthrough); t >= 1 {
		p.Would = key + " = " + quote(u.Format(t)) + ", or a longer cutter"
	}
	return []Error{j.Error(p)}
}
