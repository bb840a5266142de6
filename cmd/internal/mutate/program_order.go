package mutate

import (
	"fmt"
	"slices"
	"strings"
)

// lineKinds move lines, repeat them later, and exchange lines that stand apart.
func (p *program) lineKinds() []Change {
	var out []Change
	blocks := p.some(24, func([]token) bool { return true })
	moved := func(class string, i, k int) {
		if i < 0 || k < 0 || max(i, k) >= len(p.lines) || i == k {
			return
		}
		out = append(out, Change{class, fmt.Sprintf("line %d to %d: %q", i+1, k+1, p.lines[i]), 0, func() []byte {
			ls := slices.Delete(slices.Clone(p.lines), i, i+1)
			return []byte(strings.Join(slices.Insert(ls, k, p.lines[i]), "\n") + "\n")
		}})
	}
	for _, i := range blocks {
		moved("line moved up by two", i, i-2)
		moved("line moved up by five", i, i-5)
		moved("line moved down by two", i, i+2)
		moved("line moved down by five", i, i+5)
		moved("line moved to the top", i, 0)
		moved("line moved to the end", i, len(p.lines)-1)
		out = append(out,
			Change{"line put again two below", p.lines[i], min(i+4, len(p.lines)+1), p.with(min(i+3, len(p.lines)), min(i+3, len(p.lines)), p.lines[i])},
			p.replaced("line made a comment", i, "("+p.lines[i]+")"),
			p.replaced("line made a semicolon's comment", i, "; "+p.lines[i]),
			p.replaced("line made optional", i, "/"+p.lines[i]),
			p.replaced("line cut in half", i, strings.TrimSpace(p.lines[i][:len(p.lines[i])/2])),
			p.replaced("line written twice in one", i, p.lines[i]+" "+p.lines[i]),
			p.replaced("line number of six digits", i, "N100010 "+p.lines[i]),
			p.replaced("line number behind a word", i, p.lines[i]+" N10"),
			p.replaced("line number with a sign", i, "N-10 "+p.lines[i]),
			p.replaced("two line numbers on a line", i, "N10 N20 "+p.lines[i]),
			p.replaced("comment in front", i, "(here) "+p.lines[i]),
			p.replaced("quoted", i, "\""+p.lines[i]+"\""),
			p.replaced("dash in front", i, "- "+p.lines[i]),
			p.replaced("blanks in front and behind", i, "  "+p.lines[i]+"   "))
		for k := i + 2; k < min(i+4, len(p.lines)); k++ {
			ls := slices.Clone(p.lines[i : k+1])
			ls[0], ls[len(ls)-1] = ls[len(ls)-1], ls[0]
			out = append(out, Change{"lines apart exchanged", p.lines[i] + " and " + p.lines[k], 0, p.with(i, k+1, ls...)})
		}
		if i+3 < len(p.lines) {
			out = append(out, Change{"three lines dropped", p.lines[i], 0, p.with(i, i+3)},
				Change{"three lines doubled", p.lines[i], 0, p.with(i, i, p.lines[i:i+3]...)})
			turned := slices.Clone(p.lines[i : i+3])
			slices.Reverse(turned)
			out = append(out, Change{"three lines turned round", p.lines[i], 0, p.with(i, i+3, turned...)})
		}
	}
	return out
}

// parts divides the lines that cut: what stands before the first cut, the cuts,
// and what comes after the last. A cut begins where the cutter leaves the safe
// height behind to go to the next.
func (p *program) parts() (before []string, cuts [][]string, after []string) {
	from, fed := p.start+2, false
	for i := range p.run.moves {
		m := &p.run.moves[i]
		fed = fed || m.g > 0
		if fed && m.g == 0 && m.to[2] >= p.brief.SafeZ-heightTol {
			cuts, from, fed = append(cuts, p.lines[from:m.line]), m.line, false
		}
	}
	if len(cuts) == 0 || p.start+2 > p.run.moves[len(p.run.moves)-1].line {
		return nil, nil, nil
	}
	return p.lines[:p.start+2], cuts, p.lines[from:]
}

// orderKinds drop, double, move and exchange passes and whole cuts.
func (p *program) orderKinds() []Change {
	before, cuts, after := p.parts()
	if len(cuts) == 0 {
		return nil
	}
	as := func(class string, order func() [][]string) Change {
		return all(class, fmt.Sprintf("of %d cuts", len(cuts)), func() []string {
			return slices.Concat(before, slices.Concat(order()...), after)
		})
	}
	out := []Change{
		as("cuts in another order", func() [][]string { c := slices.Clone(cuts); slices.Reverse(c); return c }),
		as("all cuts twice", func() [][]string { return slices.Concat(cuts, cuts) }),
		as("no cut at all", func() [][]string { return nil }),
		as("first cut left out", func() [][]string { return cuts[1:] }),
		as("last cut left out", func() [][]string { return cuts[:len(cuts)-1] }),
		as("first cut twice", func() [][]string { return slices.Concat(cuts[:1], cuts) }),
		as("last cut first", func() [][]string { return slices.Concat(cuts[len(cuts)-1:], cuts[:len(cuts)-1]) }),
		as("first cut last", func() [][]string { return slices.Concat(cuts[1:], cuts[:1]) }),
		as("lines of each cut turned round", func() [][]string {
			c := slices.Clone(cuts)
			for i := range c {
				c[i] = slices.Clone(c[i])
				slices.Reverse(c[i])
			}
			return c
		}),
	}
	for k := range min(4, len(cuts)-1) {
		i := (2*k + 1) * (len(cuts) - 1) / (2 * min(4, len(cuts)-1))
		out = append(out, as("cuts exchanged", func() [][]string {
			c := slices.Clone(cuts)
			c[i], c[i+1] = c[i+1], c[i]
			return c
		}), as("cut left out", func() [][]string { return slices.Concat(cuts[:i], cuts[i+1:]) }))
	}
	return append(out, p.passKinds()...)
}

// passKinds change what stands between two comments of the program.
func (p *program) passKinds() []Change {
	var at []int
	for i := p.start; i < len(p.lines); i++ {
		if strings.HasPrefix(p.lines[i], "(") {
			at = append(at, i)
		}
	}
	at = append(at, p.spins)
	var out []Change
	for k := 0; k+1 < len(at); k++ {
		a, b := at[k], at[k+1]
		out = append(out,
			Change{"pass left out", p.lines[a], 0, p.with(a, b)},
			Change{"pass twice", p.lines[a], 0, p.with(a, a, p.lines[a:b]...)},
			Change{"pass without its second half", p.lines[a], 0, p.with(a+(b-a)/2, b)})
		if k+2 < len(at) {
			c := at[k+2]
			out = append(out, Change{"passes exchanged", p.lines[a], 0, p.with(a, c, slices.Concat(p.lines[b:c], p.lines[a:b])...)})
		}
	}
	return out
}
