package backplot

import (
	"starwright/geom"
	"starwright/toolpath"
)

// Bound sets the bounds of the work on one program, so that tests meet them.
func (r *Replay) Bound(tangleFree, tanglePerMove, maxBeyond int) {
	r.budget = budget{tangleFree, tanglePerMove, maxBeyond}
}

// Field lets tests from outside ask the coverage primitive itself.
type Field struct{ f *field }

// NewField returns an empty field for a cutter of radius r.
func NewField(r float64) Field { return Field{newField(r)} }

// Add files a move.
func (f Field) Add(m toolpath.Move) {
	for _, s := range sweeps(nil, &m) {
		f.f.add(s, f.f.retraced(&s.axis))
	}
}

// Covered asks whether no wood above z stands under the cutter along axis.
func (f Field) Covered(axis geom.Curve, z float64) bool { return f.f.covered(axis, z) }

// Open returns which parts of c no cut at or below z reaches, as from and to.
func (f Field) Open(c geom.Curve, r, z float64) (out [][2]float64) {
	for _, s := range f.f.open(c, r, z) {
		out = append(out, [2]float64{s.From, s.To})
	}
	return out
}

// Standing asks whether wood above z stands within a contour.
func (f Field) Standing(c geom.Contour, z, grow float64) (geom.Point, bool) {
	piece, ok := f.f.standing(contourRegion(c), z, grow)
	return piece.At(0.5), ok
}

// Sliver is the strip that [Field.Covered] forgives.
const Sliver = sliver

// Chord returns where a row lies within the disc of radius r swept straight from a to b.
func Chord(a, b geom.Point, r, y float64) (from, to float64, ok bool) {
	at, ok := chord(a, b, r, y)
	return at.From, at.To, ok
}

// CurveDist is the fast distance of two curves.
func CurveDist(a, b geom.Curve) float64 {
	x, y := newEdge(a), newEdge(b)
	return curveDist(&x, &y)
}

// Judge replays the moves of one program, without stops, and holds them
// against its task.
func Judge(t Task, moves []toolpath.Move) Result {
	r := New(t)
	for i := range moves {
		r.Move(&moves[i])
	}
	return r.Finish()
}

// OK reports whether the file keeps everything it had to.
func (r Result) OK() bool {
	for _, c := range r.Checks {
		if !c.Pass {
			return false
		}
	}
	return r.Count == 0
}

// Axes lets tests from outside ask the table of axes itself.
type Axes struct {
	a axes
	s store
}

// Set files an axis and returns the number it gets.
func (x *Axes) Set(c geom.Curve) int32 {
	n := x.s.add(sweep{axis: c})
	x.a.set(n, &x.s)
	return n
}

// Find returns the number of the axis, or -1.
func (x *Axes) Find(c geom.Curve) int32 { return x.a.find(&c, &x.s) }

// Reset empties the table.
func (x *Axes) Reset() {
	x.s.reset()
	x.a.reset()
}
