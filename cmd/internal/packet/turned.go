package packet

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"

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

// causesFirst is how many turned coordinates come before the wood's faults.
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
		p.against(text, g)
	}
}

// against compares a file with a released program. What it finds comes before
// all else: it is the cause of the rest.
func (p *Proof) against(text []byte, g *Program) {
	causes := p.turned(text, g)
	if len(causes) == 0 && p.OK() {
		return
	}
	changed, differs := changedBlocks(text, p.Text)
	if differs && (len(causes) == 0 || !changed.holds(causes[0].Line)) {
		first := -1
		if len(causes) == 0 {
			first = slices.IndexFunc(p.Findings, func(f finding.Finding) bool { return changed.holds(f.Line) })
		}
		if first >= 0 { // the fault that stands in the changed line says more than that it was changed
			f := p.Findings[first]
			p.Findings = append([]finding.Finding{f}, slices.Delete(slices.Clone(p.Findings), first, first+1)...)
			return
		}
		causes = append([]finding.Finding{changed.cause(p)}, causes...)
	}
	if len(causes) == 0 {
		return
	}
	causes[0] = p.inWood(causes[0])
	// Of many, as where a part was moved, a few show the cause; then what it
	// does to the wood.
	n := min(len(causes), causesFirst)
	p.Findings = slices.Concat(causes[:n], p.Findings, causes[n:])
}

// inWood adds to a cause what comes of it in the wood.
func (p *Proof) inWood(cause finding.Finding) finding.Finding {
	for _, f := range p.Findings {
		if f.InWood == "" || strings.Contains(cause.InWood, f.InWood) {
			continue
		}
		if cause.InWood != "" {
			cause.InWood += "; "
		}
		cause.InWood += f.InWood
		cause.ByMM = max(cause.ByMM, f.ByMM)
		if cause.At == nil {
			cause.At = f.At
		}
		break
	}
	if cause.InWood == "" && len(p.Findings) > 0 { // what comes of it is that controllers stop
		f := p.Findings[0]
		cause.What += fmt.Sprintf("; so line %d has a fault: %s", f.Line, f.What)
	}
	return cause
}

// turned returns a finding for each coordinate that was turned, where the file
// keeps to a released program otherwise.
func (p *Proof) turned(text []byte, g *Program) []finding.Finding {
	if !p.whole {
		return nil // far longer: another program
	}
	var want []toolpath.Move
	_, err := ncread.Read(bytes.NewReader(text), p.Path, ncread.Events{
		Move: func(m *toolpath.Move) error { want = append(want, *m); return nil },
	})
	if err != nil {
		return nil
	}
	d := difference{p: p, unitMM: g.UnitMM, unit: g.Task.Unit, want: want, got: p.Moves}
	if len(d.want) != len(d.got) { // a block that is there twice moves nothing
		d.want, d.got = moving(d.want), moving(d.got)
	}
	d.order()
	return d.turned()
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
	unitMM    float64
	unit      geom.Unit // in which findings give lengths
	want, got []toolpath.Move
}

// order puts the released moves in the order of the file, cut by cut: two like
// holes or stations that were exchanged are the same work.
func (d *difference) order() {
	want, got := cutsOf(d.want), cutsOf(d.got)
	if len(want) != len(got) {
		return
	}
	var lost []int // cuts of the file that are not where they were
	var left [][]toolpath.Move
	out := make([][]toolpath.Move, len(got))
	for i := range got {
		if sameCut(want[i], got[i]) {
			out[i] = want[i]
		} else {
			lost, left = append(lost, i), append(left, want[i])
		}
	}
	if len(lost) > maxMoved {
		return
	}
	var still []int
	for _, i := range lost {
		k := slices.IndexFunc(left, func(c []toolpath.Move) bool { return sameCut(c, got[i]) })
		if k < 0 {
			still = append(still, i)
			continue
		}
		out[i], left = left[k], slices.Delete(left, k, k+1)
	}
	for n, i := range still { // what is left over is held against each other as it comes
		out[i] = left[n]
	}
	d.want = slices.Concat(out...)
}

// maxMoved is how many cuts may stand in another place for their order to be
// looked into.
const maxMoved = 2000

// cutsOf divides moves where after a cut and the rapid that lifts the cutter the
// next rapid begins.
func cutsOf(ms []toolpath.Move) (out [][]toolpath.Move) {
	from, cut := 0, false
	for i := range ms {
		if cut && !ms[i].Cuts() && !ms[i-1].Cuts() {
			out, from, cut = append(out, ms[from:i:i]), i, false
		}
		cut = cut || ms[i].Cuts()
	}
	return append(out, ms[from:])
}

func sameCut(a, b []toolpath.Move) bool {
	return slices.EqualFunc(a, b, func(u, v toolpath.Move) bool { return alike(&u, &v) })
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
	for i := range d.want {
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
			What: fmt.Sprintf("has %c%s where the program that was released had %c%s; if you mean the change, make it in job.toml",
				letter, d.number(v[k]), letter, d.number(u[k])),
			ByMM: by, At: &at, InWood: fmt.Sprintf("the cutter runs %.2m %s", geom.Measure{MM: by, Unit: d.unit}, wood)})
	}
	return out
}

// number prints a coordinate in the unit of the file.
func (d *difference) number(mm float64) string { return formatNumber(mm/d.unitMM, d.unitMM) }
