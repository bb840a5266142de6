package tryout

import (
	"math"

	"starwright/geom/route"
)

// finish holds what lies on the bench at the end against what was wanted.
func (b *bench) finish() {
	for i, u := range b.want.Units {
		b.segments(i, u)
		b.joints(i, u)
		b.splines(i, u)
		b.glued(i, u)
	}
	b.runs()
}

// segments judges the outlines and their number.
func (b *bench) segments(i int, u Unit) {
	name := u.Name
	need, nearest := u.Points*u.Count, math.Inf(1)
	var best *pile
	for k, piles := range b.pieces {
		if k.unit != i {
			continue
		}
		for _, p := range piles {
			if d := apart(p.shape, outline(u.Segment)); d < nearest {
				best, nearest = p, d
			}
		}
	}
	if best == nil {
		b.fault("outline", "", "no segment of %s comes out", star(name))
		return
	}
	b.atMost("outline", "", nearest, OutlineTol, "a segment of %s comes out %.2m off", star(name), b.in(nearest))
	if n := b.finished(i); n < need {
		b.fault("count", "", "%d segments of %s come out; its stars take %d", n, star(name), need)
	}
	gap := lastJoint(best.shape, u.Points)
	b.atMost("joint", "", math.Abs(gap), JointTol, "the last joint of %s stands open by %.2m", star(name), b.in(math.Abs(gap)))
	b.tried(i, u)
}

// tried looks that one star was laid together before the rest was cut.
func (b *bench) tried(i int, u Unit) {
	if u.Count > 1 && !b.fitted[i] {
		b.fault("order", "", "no star of %s is tried before the batch is cut", star(u.Name))
	}
}

// joints looks that each facet has its slot, at the same place in both hands.
func (b *bench) joints(i int, u Unit) {
	if u.Slot == nil {
		return
	}
	for _, right := range []bool{false, true} {
		if n := b.slots[Facet{i, right}]; n < u.Points*u.Count {
			b.fault("slot", "", "%d %s facets of %s are slotted, of %d", n, hand(right), star(u.Name), u.Points*u.Count)
		}
	}
}

// splines looks that they go into their slots.
func (b *bench) splines(i int, u Unit) {
	if u.Slot == nil || u.Spline == nil {
		return
	}
	sl, sp := u.Slot, u.Spline
	b.atMost("spline", "", sp.Length-(sl.End-sl.Start), 0, "the spline is longer than its slot")
	b.atMost("spline", "", sp.Width-2*sl.Depth, 0, "the spline is wider than its two slots are deep")
	b.atMost("spline", "", sp.Thickness-sl.Width, 0, "the spline is thicker than its slot is wide")
	n := 0
	for _, s := range b.route.Setups {
		if s.Kind == route.Splines && s.Unit == i {
			n += s.Count
		}
	}
	if n < u.Points*u.Count {
		b.fault("count", "", "%d splines are made for %s; its stars take %d", n, star(u.Name), u.Points*u.Count)
	}
}

// glued looks that the star is glued after all its facets and slots are cut.
func (b *bench) glued(i int, u Unit) {
	last, glue := -1, -1
	for k, s := range b.route.Setups {
		if s.Unit != i {
			continue
		}
		switch {
		case s.Cut != nil || s.Slot != nil || len(s.Sheets) > 0:
			last = k
		case s.Kind == route.GlueHalves && glue < 0:
			glue = k
		}
	}
	switch {
	case glue < 0:
		b.fault("order", "", "no set-up glues %s", star(u.Name))
	case glue < last:
		b.fault("order", b.route.Setups[last].Name, "it comes after the star is glued")
	}
}

func star(name string) string {
	if name == "" {
		return "the star"
	}
	return "the star " + name
}

func hand(right bool) string {
	if right {
		return "right"
	}
	return "left"
}
