package packet

import (
	"bytes"
	"fmt"
	"math"
	"slices"

	"starwright/geom"
	"starwright/post/rs274/ncread"
	"starwright/post/rs274/ncwrite"
	"starwright/toolpath"
	"starwright/toolpath/finding"
)

// turnedTol is by how much, in mm, a coordinate may differ from that of the
// program that was released: what is lost where numbers are written again with
// fewer decimals, and the same as a cut may reach into a part.
const turnedTol = 0.02

// causesFirst is how many turned coordinates are said before the wood's faults.
const causesFirst = 5

// edits holds the moves of an edited program against those of the program as
// it was released, which is made again from the job. Where another version of
// this program wrote the packet that may give other bytes; then nothing is
// compared.
//
// What a program does to the wood is for the back-plot to say, and a file that
// was written anew by other means is judged by that alone. But a file that
// keeps to the released program move for move, with a coordinate turned here
// and there, was not meant to differ: there each turned coordinate is a fault,
// even where the wood would not show it.
func (p *Proof) edits(g *Program, released string) {
	text, err := ncwrite.Bytes(g.Plan, g.UnitMM)
	if err == nil && sum(text) == released {
		p.against(text, g.UnitMM)
	}
}

// against compares the moves with those of a released program. What it finds
// comes first: it is the cause of the rest.
func (p *Proof) against(text []byte, unitMM float64) {
	if !p.whole {
		return // far longer: another program
	}
	var want []toolpath.Move
	_, err := ncread.Read(bytes.NewReader(text), p.Path, ncread.Events{
		Move: func(m *toolpath.Move) error { want = append(want, *m); return nil },
	})
	if err != nil {
		return
	}
	d := difference{p: p, text: text, unitMM: unitMM, want: want, got: p.Moves}
	if len(d.want) != len(d.got) { // a block that is there twice moves nothing
		d.want, d.got = moving(d.want), moving(d.got)
	}
	d.trim()
	if found := d.turned(); len(found) > 0 {
		// Of many, as where a part was moved, a few show the cause; then what
		// it does to the wood.
		n := min(len(found), causesFirst)
		p.Findings = slices.Concat(found[:n], p.Findings, found[n:])
	} else if !p.OK() {
		p.Findings = append(d.edited(), p.Findings...)
	}
}

// moving leaves out what moves nowhere.
func moving(ms []toolpath.Move) []toolpath.Move {
	out := make([]toolpath.Move, 0, len(ms))
	for i := range ms {
		if m := &ms[i]; m.From != m.To || m.IsArc() || len(out) == 0 {
			out = append(out, *m)
		}
	}
	return out
}

// difference is where the moves of a file leave those that were released.
type difference struct {
	p         *Proof
	text      []byte // as released
	unitMM    float64
	want, got []toolpath.Move
	from      int // so many moves at the beginning are the same
	more      int // of the moves as released are left after the difference
}

// trim finds how far the moves are the same from both ends.
func (d *difference) trim() {
	n := min(len(d.want), len(d.got))
	for d.from < n && alike(&d.want[d.from], &d.got[d.from]) {
		d.from++
	}
	for d.more < n-d.from && alike(&d.want[len(d.want)-1-d.more], &d.got[len(d.got)-1-d.more]) {
		d.more++
	}
}

// alike reports whether two moves end at the same place and, arcs, turn about
// the same centre seen from their start.
func alike(a, b *toolpath.Move) bool {
	u, v := numbers(a), numbers(b)
	for k := range u {
		if math.Abs(u[k]-v[k]) > turnedTol {
			return false
		}
	}
	return a.Kind == b.Kind
}

// numbers are what a block gives of a move: X, Y, Z, I and J, mm.
func numbers(m *toolpath.Move) [5]float64 {
	var c geom.Point
	if m.IsArc() {
		c = m.Center.Sub(m.From.XY())
	}
	return [5]float64{m.To.X, m.To.Y, m.To.Z, c.X, c.Y}
}

// turned returns a finding for each move of which a coordinate was turned,
// where the file keeps to the released program otherwise: as many moves of the
// same kinds, at least half of them unchanged.
func (d *difference) turned() []finding.Finding {
	if len(d.want) != len(d.got) {
		return nil
	}
	var out []finding.Finding
	for i := d.from; i < len(d.want)-d.more; i++ {
		a, b := &d.want[i], &d.got[i]
		if a.Kind != b.Kind {
			return nil
		}
		out = append(out, d.axes(a, b, i == 0)...)
		if 2*len(out) > len(d.want) {
			return nil
		}
	}
	return out
}

// axes returns the findings of one move. A coordinate that neither block gives
// stays what it was and is not said again.
func (d *difference) axes(a, b *toolpath.Move, first bool) []finding.Finding {
	u, v := numbers(a), numbers(b)
	a0 := [5]float64{a.From.X, a.From.Y, a.From.Z, math.NaN(), math.NaN()}
	b0 := [5]float64{b.From.X, b.From.Y, b.From.Z, math.NaN(), math.NaN()}
	var out []finding.Finding
	for k, letter := range "XYZIJ" {
		by := math.Abs(u[k] - v[k])
		if by <= turnedTol || !first && a0[k] == u[k] && b0[k] == v[k] {
			continue
		}
		line := b.Line
		if first && k < 3 && d.p.given[k] > 0 {
			line = d.p.given[k]
		}
		if n := len(out); n > 0 && out[n-1].Line == line {
			out[n-1].What += fmt.Sprintf(", and %c%s for %c%s", letter, d.number(v[k]), letter, d.number(u[k]))
			out[n-1].ByMM = max(out[n-1].ByMM, by)
			continue
		}
		at, wood := b.To, "beside the way that was proven"
		if k == 2 {
			wood = "lower than was proven"
			if v[k] > u[k] {
				wood = "higher than was proven"
			}
		}
		out = append(out, finding.Finding{File: d.p.Path, Line: line, Block: ncread.Block(d.p.Text, line), Rule: "turned",
			What: fmt.Sprintf("has %c%s where the program that was released had %c%s; a change that is meant goes in job.toml",
				letter, d.number(v[k]), letter, d.number(u[k])),
			ByMM: by, At: &at, InWood: fmt.Sprintf("the cutter runs %.2f mm %s", by, wood)})
	}
	return out
}

// number prints a coordinate in the unit of the file.
func (d *difference) number(mm float64) string { return formatNumber(mm/d.unitMM, d.unitMM) }

// edited returns a finding at the first block that is not that of the released
// program. It helps to find the cause where the wood shows a fault.
func (d *difference) edited() []finding.Finding {
	want := d.want[d.from : len(d.want)-d.more]
	got := d.got[d.from : len(d.got)-d.more]
	if len(want) == 0 && len(got) == 0 || len(d.got) == 0 {
		return nil
	}
	f := finding.Finding{File: d.p.Path, Rule: "edited"}
	switch {
	case len(want) == 0:
		f.Line, f.What = got[0].Line, "the program that was released has no such block"
	case len(got) > 0:
		f.Line, f.What = got[0].Line, fmt.Sprintf("the program that was released has %q instead", d.block(want[0].Line))
	case d.from < len(d.got):
		f.Line, f.What = d.got[d.from].Line, fmt.Sprintf("the program that was released has %q before this block", d.block(want[0].Line))
	default:
		f.Line, f.What = d.got[len(d.got)-1].Line, fmt.Sprintf("the program that was released goes on with %q", d.block(want[0].Line))
	}
	f.Block = ncread.Block(d.p.Text, f.Line)
	return []finding.Finding{f}
}

// block is a line of the released program.
func (d *difference) block(line int) string { return ncread.Block(d.text, line) }
