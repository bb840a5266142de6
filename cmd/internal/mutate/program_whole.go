package mutate

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// numbered returns every line with the numbers of some letters changed.
func (p *program) numbered(letters string, change func(letter byte, v float64) float64, digits float64) []string {
	out := make([]string, len(p.lines))
	for i, l := range p.lines {
		out[i] = rewrite(l, " ", func(t token) string {
			if strings.IndexByte(letters, t.letter) < 0 {
				return same(t)
			}
			return string(t.letter) + number(change(t.letter, t.value()), digits)
		})
	}
	return out
}

// wholeKinds change the program altogether.
func (p *program) wholeKinds() []Change {
	u := p.brief.UnitMM
	by := func(class, letters string, change func(letter byte, v float64) float64) Change {
		return all(class, "all "+letters, func() []string { return p.numbered(letters, change, u) })
	}
	times := func(k float64) func(byte, float64) float64 { return func(_ byte, v float64) float64 { return v * k } }
	plus := func(mm float64) func(byte, float64) float64 {
		return func(_ byte, v float64) float64 { return v + mm/u }
	}
	cells := func(step float64) func(byte, float64) float64 {
		return func(_ byte, v float64) float64 { return math.Round(v/step) * step }
	}
	xyz, xyzij := "XYZ", "XYZIJ"
	out := []Change{
		by("X mirrored", "XI", times(-1)), by("Y mirrored", "YJ", times(-1)), by("Z turned round", "Z", times(-1)),
		by("X and Y mirrored", "XYIJ", times(-1)), by("all of Z below", "Z", func(_ byte, v float64) float64 { return -math.Abs(v) }),
		by("all of Z above", "Z", func(_ byte, v float64) float64 { return math.Abs(v) }),
		by("X at its size without sign", "X", func(_ byte, v float64) float64 { return math.Abs(v) }),
		by("feeds exchanged", "F", func(_ byte, v float64) float64 {
			if math.Abs(v*u-p.brief.Plunge) < 1 {
				return p.brief.Feed / u
			}
			return p.brief.Plunge / u
		}),
		by("all feeds those of sinking", "F", func(byte, float64) float64 { return p.brief.Plunge / u }),
		by("all feeds those of cutting", "F", func(byte, float64) float64 { return p.brief.Feed / u }),
		by("feeds a second", "F", times(1.0/60)), by("feeds of another unit", "F", times(25.4)), by("feeds of the other unit", "F", times(1/25.4)),
	}
	for _, k := range []float64{0.11, 0.3, 0.6, 0.9, 1.02, 1.3, 3, 10} {
		out = append(out, by(fmt.Sprintf("all feeds times %g", k), "F", times(k)))
	}
	for _, k := range []float64{0.1, 0.5, 0.9, 1.1, 2} {
		out = append(out, all(fmt.Sprintf("all speeds times %g", k), "S", func() []string {
			return strings.Split(strings.TrimSuffix(string(p.each(func(_ int, l string) string {
				return rewrite(l, " ", func(t token) string {
					if t.letter != 'S' {
						return same(t)
					}
					return fmt.Sprintf("S%.0f", t.value()*k)
				})
			})()), "\n"), "\n")
		}))
	}
	for _, k := range []float64{0.99, 1.001, 1.01, 25.4, 1 / 25.4, 10, 0.1, 1000} {
		out = append(out, by(fmt.Sprintf("X times %.3g", k), "XI", times(k)), by(fmt.Sprintf("Y times %.3g", k), "YJ", times(k)),
			by(fmt.Sprintf("Z times %.3g", k), "Z", times(k)), by(fmt.Sprintf("all times %.3g", k), xyzij, times(k)))
	}
	for _, d := range []float64{0.005, 0.05, 0.2, 1, 25, -0.05, -1} {
		for _, l := range xyz {
			out = append(out, by(fmt.Sprintf("%c moved by %g mm", l, d), string(l), plus(d)))
		}
	}
	for _, step := range []float64{0.0001, 0.005, 0.01, 0.1, 1} {
		out = append(out, by(fmt.Sprintf("numbers in steps of %g mm", step), xyzij, cells(step/u)))
	}
	for _, l := range "XYZIJFSPGM" {
		out = append(out, p.without(fmt.Sprintf("no %c at all", l), byte(l)))
	}
	return append(append(out, p.turnings()...), p.conversions()...)
}

// without leaves a letter out everywhere.
func (p *program) without(class string, letter byte) Change {
	return Change{class, "the whole file", 0, p.each(func(_ int, l string) string {
		return rewrite(l, " ", func(t token) string {
			if t.letter == letter {
				return ""
			}
			return same(t)
		})
	})}
}

// turnings turn the program about zero, and exchange its axes.
func (p *program) turnings() []Change {
	turned := func(class string, x, y func(x, y float64) float64) Change {
		return all(class, "all moves", func() []string {
			var at [2]float64
			out := slices.Clone(p.lines)
			for k := range p.run.moves {
				m := &p.run.moves[k]
				var ws []string
				for _, t := range tokens(p.lines[m.line-1]) {
					if strings.IndexByte("XYIJ", t.letter) < 0 {
						ws = append(ws, same(t))
					}
				}
				n := func(v float64) string { return number(v/p.brief.UnitMM, p.brief.UnitMM) }
				at = [2]float64{m.to[0], m.to[1]}
				ws = append(ws, "X"+n(x(at[0], at[1])), "Y"+n(y(at[0], at[1])))
				if m.g > 1 {
					i, j := m.o[0]-m.from[0], m.o[1]-m.from[1]
					ws = append(ws, "I"+n(x(i, j)), "J"+n(y(i, j)))
				}
				out[m.line-1] = strings.Join(ws, " ")
			}
			return out
		})
	}
	first := func(x, _ float64) float64 { return x }
	second := func(_, y float64) float64 { return y }
	about := func(deg float64) (x, y func(x, y float64) float64) {
		c, s := math.Cos(deg*math.Pi/180), math.Sin(deg*math.Pi/180)
		return func(x, y float64) float64 { return c*x - s*y }, func(x, y float64) float64 { return s*x + c*y }
	}
	out := []Change{turned("X and Y exchanged", second, first), turned("X and Y said in every block", first, second)}
	for _, deg := range []float64{0.01, 0.1, 1, 90, 180} {
		x, y := about(deg)
		out = append(out, turned(fmt.Sprintf("turned by %g degrees", deg), x, y))
	}
	return out
}

// conversions write the program in the other unit, as steps, with every word in
// every block or none that is in force.
func (p *program) conversions() []Change {
	u := p.brief.UnitMM
	other, codes := 25.4, [2]string{"G21", "G20"}
	if u != 1 {
		other, codes = 1, [2]string{"G20", "G21"}
	}
	convert := func(class, letters string, digits float64, word bool) Change {
		return all(class, "the other unit", func() []string {
			out := p.numbered(letters, func(_ byte, v float64) float64 { return v * u / other }, digits)
			for i := range out {
				if word && out[i] == codes[0] {
					out[i] = codes[1]
				}
			}
			return out
		})
	}
	inForce := func(class string, say bool) Change {
		return all(class, "the whole file", func() []string {
			have, out := map[byte]string{}, slices.Clone(p.lines)
			for i, l := range p.lines {
				if i < p.start || !strings.HasPrefix(l, "G0 ") && !strings.HasPrefix(l, "G1 ") {
					if strings.HasPrefix(l, "G2") || strings.HasPrefix(l, "G3") {
						have = map[byte]string{}
					}
					continue
				}
				var ws []string
				for _, t := range tokens(l) {
					if have[t.letter] != t.text || t.letter != 'G' && t.letter != 'F' {
						ws = append(ws, same(t))
					}
					have[t.letter] = t.text
				}
				if f := have['F']; say && f != "" && !strings.Contains(l, "F") && have['G'] == "1" {
					ws = append(ws, "F"+f)
				}
				out[i] = strings.Join(ws, " ")
			}
			return out
		})
	}
	return []Change{
		convert("written in the other unit", "XYZIJF", 25.4, true), convert("written in the other unit to three digits", "XYZIJF", 1, true),
		convert("the other unit's numbers", "XYZIJF", 25.4, false), convert("the other unit's word", "", 1, true),
		convert("the other unit, feeds left", "XYZIJ", 25.4, true), convert("the other unit, centres left", "XYZF", 25.4, true),
		inForce("nothing said twice", false), inForce("feed said in every cut", true),
		p.stepwise("written as steps", "G91"), p.stepwise("steps without G91", "G90"),
	}
}

// stepwise writes every number as a step from the one before; the first ones
// stay places.
func (p *program) stepwise(class, mode string) Change {
	return all(class, "the whole file", func() []string {
		var out []string
		var at [3]float64 // as written so far
		known, switched := [3]bool{}, false
		for _, l := range p.lines {
			if known == [3]bool{true, true, true} && !switched {
				switched = true
				out = append(out, mode)
			}
			out = append(out, rewrite(l, " ", func(t token) string {
				k := int(t.letter) - 'X'
				if k < 0 || k > 2 {
					return same(t)
				}
				v := t.value()
				step := v - at[k]
				at[k], known[k] = v, true
				if !switched {
					return same(t)
				}
				return string(t.letter) + number(step, p.brief.UnitMM)
			}))
		}
		return out
	})
}
