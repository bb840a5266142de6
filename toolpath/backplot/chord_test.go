package backplot_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"starwright/geom"
	"starwright/toolpath/backplot"
)

// plainChord is Chord with every end and side looked at.
func plainChord(a, b geom.Point, r, y float64) (from, to float64, ok bool) {
	from, to = math.Inf(1), math.Inf(-1)
	take := func(x float64) { from, to = min(from, x), max(to, x) }
	for _, p := range []geom.Point{a, b} {
		if d := r*r - (y-p.Y)*(y-p.Y); d >= 0 {
			take(p.X - math.Sqrt(d))
			take(p.X + math.Sqrt(d))
		}
	}
	if l := b.Sub(a).Len(); l > 0 {
		n := b.Sub(a).Left().Mul(r / l)
		for _, side := range []geom.Point{n, n.Mul(-1)} {
			p, q := a.Add(side), b.Add(side)
			if p.Y != q.Y && (p.Y-y)*(q.Y-y) <= 0 {
				take(p.X + (y-p.Y)/(q.Y-p.Y)*(q.X-p.X))
			}
		}
	}
	return from, to, from < to
}

// Chords are what they are with every side looked at, to the last bit: of lines long
// and short, along rows and across, and of rows that touch an end or a side.
func TestChord(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 2))
	const r = 3.175
	beyond := 0 // chords that a side makes longer than the ends do
	for range 200_000 {
		a := geom.Pt(300*random.Float64(), 200*random.Float64())
		length := []float64{0, 0.002, 0.0139, 0.5, 5, 80}[random.IntN(6)]
		turn := []float64{0, math.Pi / 2, math.Pi, 2 * math.Pi * random.Float64()}[random.IntN(4)]
		b := a.Add(geom.Pt(math.Cos(turn), math.Sin(turn)).Mul(length))
		n := geom.Pt(0, 0)
		if length > 0 {
			n = b.Sub(a).Unit().Left().Mul(r)
		}
		y := []float64{a.Y + 4*random.NormFloat64(), a.Y + r, b.Y - r, a.Y + n.Y, b.Y - n.Y,
			a.Y + n.Y + random.Float64()*(b.Y-a.Y), math.Nextafter(b.Y-n.Y, 1e9)}[random.IntN(7)]
		from, to, ok := backplot.Chord(a, b, r, y)
		wantFrom, wantTo, want := plainChord(a, b, r, y)
		if from != wantFrom || to != wantTo || ok != want {
			t.Fatalf("from %v to %v at %v: %v to %v, want %v to %v", a, b, y, from, to, wantFrom, wantTo)
		}
		if _, ends, _ := plainChord(a, a, r, y); to > max(ends, a.X, b.X) {
			beyond++
		}
	}
	if beyond < 1000 {
		t.Errorf("a side mattered %d times", beyond)
	}
}
