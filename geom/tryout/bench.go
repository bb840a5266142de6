package tryout

import (
	"slices"

	"starwright/geom"
	"starwright/geom/route"
)

// bench is what lies on the bench while a route is carried out.
type bench struct {
	route  route.Route
	want   Want
	slips  Slips
	pieces map[key][]*pile
	made   map[string]int // jigs that were cut, by path
	slots  map[Facet]int  // slots that were cut
	fitted map[int]bool   // units of which one star was tried
	holds  map[key]int    // how many segments a glued piece has
	ran    map[ran]int    // how often programs of sheets were run
	report Report
}

// Slips are errors that a shop's machine has, for the proof of the correction
// after a test fit. The zero Slips are a true machine.
type Slips struct {
	Saw   geom.Angle   // the saw stands off its scale by so much, a line by hand off its marks
	Block geom.Angle   // every block and notch is off by so much
	Only  []route.Kind // of which set-ups; none is all of them
}

// of returns the slips that a set-up has.
func (s Slips) of(u *route.Setup) Slips {
	if len(s.Only) > 0 && !slices.Contains(s.Only, u.Kind) {
		return Slips{}
	}
	return s
}

// key tells the piles of pieces apart.
type key struct {
	unit int
	kind string
}

// pile is pieces that are alike.
type pile struct {
	shape outline
	count int // that lie there now
	total int // that ever came out
}

// Try carries out a route and reports what comes of it.
func Try(r route.Route, want Want) *Report { return TryWith(r, want, Slips{}) }

// TryWith is [Try] on a machine that is off.
func TryWith(r route.Route, want Want, slips Slips) *Report {
	b := carryOut(r, want, slips)
	b.finish()
	return &b.report
}

// carryOut does all set-ups in order.
func carryOut(r route.Route, want Want, slips Slips) *bench {
	b := &bench{route: r, want: want, slips: slips,
		pieces: map[key][]*pile{}, made: map[string]int{}, slots: map[Facet]int{}, fitted: map[int]bool{}, holds: map[key]int{}, ran: map[ran]int{}}
	names := map[string]bool{}
	for i := range r.Setups {
		s := &r.Setups[i]
		if names[s.Name] {
			b.fault("order", s.Name, "two set-ups have this name")
		}
		names[s.Name] = true
		b.setup(s)
	}
	return b
}

// setup carries out one set-up.
func (b *bench) setup(s *route.Setup) {
	if s.Count <= 0 {
		b.fault("count", s.Name, "it is done %d times", s.Count)
	}
	if s.Unit < 0 || s.Unit >= len(b.want.Units) {
		b.fault("order", s.Name, "it is for star %d of %d", s.Unit, len(b.want.Units))
		return
	}
	b.readings(s)
	b.jigs(s)
	switch {
	case s.Cut != nil:
		b.cut(s)
	case len(s.Sheets) > 0:
		b.sheets(s)
	case s.Slot != nil:
		b.slot(s)
	case s.Join != nil:
		b.join(s)
	}
	if s.Kind == route.TestFit {
		b.fit(s)
	}
}

// put lays n pieces onto a pile.
func (b *bench) put(k key, shape outline, n int) {
	const alike = 1e-3 // mm; pieces from one set-up are the same
	if p := b.pileOf(k, shape, alike); p != nil {
		p.count, p.total = p.count+n, p.total+n
		return
	}
	b.pieces[k] = append(b.pieces[k], &pile{shape, n, n})
}

// pileOf is pile for one that may be empty.
func (b *bench) pileOf(k key, shape outline, within float64) *pile {
	for _, p := range b.pieces[k] {
		if apart(p.shape, shape) <= within {
			return p
		}
	}
	return nil
}
