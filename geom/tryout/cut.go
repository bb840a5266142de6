package tryout

import (
	"cmp"
	"math"
	"slices"

	"starwright/geom"
	"starwright/geom/route"
)

// cut carries out a set-up that saws an outline.
func (b *bench) cut(s *route.Setup) {
	if s.Piece == nil || s.Hold == nil {
		b.fault("contact", s.Name, "it cuts and does not say what, or how it is held")
		return
	}
	k := key{s.Unit, s.Piece.Kind}
	if s.Stage == route.Rest && (s.Kind == route.Facet || s.Kind == route.PairFacet) && !b.fitted[s.Unit] {
		b.fault("order", s.Name, "the batch is cut, and no star of it has been tried")
	}
	left := s.Count
	for _, from := range b.take(s, k) {
		n := min(left, from.count)
		from.count -= n
		left -= n
		b.cutPile(s, k, from.shape, n)
	}
}

// cutPile cuts n like pieces.
func (b *bench) cutPile(s *route.Setup, k key, work outline, n int) {
	l, err := b.lay(s, work)
	if err != nil {
		b.fault("contact", s.Name, "%v", err)
		return
	}
	if s.Method == route.ByHand {
		b.drawn(s, l)
	} else {
		b.claims(s, l, work)
	}
	kept, off := b.saw(s, l, work)
	if kept == nil {
		b.fault("outline", s.Name, "nothing stays on the side that is kept")
		return
	}
	b.atMost("outline", s.Name, apart(kept, outline(s.Piece.After)), OutlineTol, "what comes out is not the piece that the route says")
	b.put(k, kept, n)
	if s.Piece.Falls != "" && off != nil {
		b.put(key{s.Unit, s.Piece.Falls}, off, n)
	}
}

// take finds the pieces that a set-up works on, nearest first, and looks that
// there are enough: what was cut for the first star may lie on a pile of its own.
func (b *bench) take(s *route.Setup, k key) []*pile {
	before := outline(s.Piece.Before)
	if len(before) < 3 || before.area() <= 0 {
		b.fault("outline", s.Name, "the piece before is no outline")
		return nil
	}
	if s.Kind == route.Blanks && isBoard(before) {
		return []*pile{{before, math.MaxInt32, 0}} // from the rack
	}
	var piles []*pile
	have := 0
	for _, p := range b.pieces[k] {
		if p.count > 0 && apart(p.shape, before) <= b.alike() {
			piles = append(piles, p)
			have += p.count
		}
	}
	switch {
	case have == 0:
		b.fault("order", s.Name, "there is no %s yet that looks like the one it starts from", s.Piece.Kind)
		return nil
	case have < s.Count:
		b.fault("count", s.Name, "it works on %d pieces, and %d are there", s.Count, have)
		return nil
	}
	slices.SortStableFunc(piles, func(p, q *pile) int { return cmp.Compare(apart(p.shape, before), apart(q.shape, before)) })
	return piles
}

// alike is how far a piece may be from the one that a set-up starts from, mm. On a
// machine that is off the maker takes the piece that is there.
func (b *bench) alike() float64 {
	if b.slips.Saw != 0 || b.slips.Block != 0 {
		return 3 * sameCorner
	}
	return OutlineTol
}

// isBoard reports whether an outline is a plain rectangle along the axis.
func isBoard(o outline) bool {
	if len(o) != 4 {
		return false
	}
	for i, p := range o {
		d := o[(i+1)%4].Sub(p)
		if math.Abs(d.X) > speck && math.Abs(d.Y) > speck {
			return false
		}
	}
	return true
}

// claims holds the route's own word of where the work lies and where the blade
// runs against what the contacts make of it.
func (b *bench) claims(s *route.Setup, l laid, work outline) {
	far := 0.0
	for _, p := range work {
		far = math.Max(far, s.Hold.Place().Point(p).Dist(l.place.Point(p)))
	}
	b.atMost("hold", s.Name, far, OutlineTol, "held by its contacts and the printed numbers the work lies elsewhere than the route says")
	along := s.Cut.To.Sub(s.Cut.From).Unit()
	b.atMost("blade", s.Name, math.Abs(along.Cross(s.Cut.From))+along.Sub(l.dir).Len()*100, OutlineTol,
		"the line of cut is not where the saw's setting puts it")
	behind := 0.0
	for _, p := range work.placed(l.place) {
		behind = math.Max(behind, p.Y)
	}
	b.atMost("fence", s.Name, behind, OutlineTol, "the work reaches through the fence")
}

// saw cuts the work where it lies and returns, in its own coordinates, what is
// kept and what falls off.
func (b *bench) saw(s *route.Setup, l laid, work outline) (kept, off outline) {
	lies := work.placed(l.place)
	if lies.area() < 0 { // turned over: clip a counter-clockwise one
		lies = reversed(lies)
	}
	d := l.dir
	if !l.left {
		d = d.Mul(-1)
	}
	kept = lies.keep(l.from, d)
	edge := l.from.Add(d.Left().Mul(-s.Cut.Kerf))
	off = lies.keep(edge, d.Mul(-1))
	if s.Cut.Kerf < 0 {
		b.fault("outline", s.Name, "the kerf lies on the side that is kept")
	}
	if s.Method != route.ByHand {
		b.reach(s, l, lies)
	}
	return own(kept, l.place), own(off, l.place)
}

// reach looks whether the printed reach, and the saw's own, go through the wood.
func (b *bench) reach(s *route.Setup, l laid, lies outline) {
	// Where the two edges of the kerf cross the work, whichever goes farther.
	far := 0.0
	for _, shift := range [2]float64{0, s.Cut.Kerf} {
		side := l.dir.Left().Mul(-shift)
		if !l.left {
			side = side.Mul(-1)
		}
		for i, p := range lies {
			q := lies[(i+1)%len(lies)]
			hp, hq := l.dir.Cross(p.Sub(side)), l.dir.Cross(q.Sub(side))
			if hp >= 0 != (hq >= 0) {
				far = math.Max(far, p.Lerp(q, hp/(hp-hq)).Dot(l.dir))
			}
		}
	}
	// And the corners that the kerf itself takes.
	for _, p := range lies {
		d := l.dir.Cross(p.Sub(l.from))
		if !l.left {
			d = -d
		}
		if d <= 0 && d >= -s.Cut.Kerf {
			far = math.Max(far, p.Sub(l.from).Dot(l.dir))
		}
	}
	if r, ok := find(s, route.ReadReach); ok && r.MM != nil {
		b.atMost("reach", s.Name, far-*r.MM, ReachTol, "the blade must go %.1m from the fence to sever what falls off, and the sheet says %.1f", b.in(far), b.in(*r.MM))
	}
	if b.want.SawReach > 0 {
		b.atMost("reach", s.Name, far-b.want.SawReach, ReachTol, "the blade must go %.1m from the fence, and the saw reaches %.1f", b.in(far), b.in(b.want.SawReach))
	}
	b.atMost("reach", s.Name, far-s.Cut.To.Sub(s.Cut.From).Len(), ReachTol, "the cut ends before it is through: the wood ends %.1m from the fence", b.in(far))
}

func own(o outline, t geom.Place) outline {
	if o == nil {
		return nil
	}
	o = o.back(t)
	if o.area() < 0 {
		return reversed(o)
	}
	return o
}

func reversed(o outline) outline {
	out := make(outline, len(o))
	for i, p := range o {
		out[len(o)-1-i] = p
	}
	return out
}
