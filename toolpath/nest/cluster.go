package nest

import "starwright/geom"

// cluster is the shapes round one part of a bed. They are shared, not copied, by all
// parts that are alike.
type cluster struct {
	off   *between
	at    geom.Point
	marks []mark // of each shape
}

// mark is the sides of a shape that the last row crossed, see [ban.ends]; 0 where
// none did. A hull has its lowest corner there, from which no left side starts.
type mark struct{ right, left int32 }

// ban is one shape on the bed.
type ban struct {
	sum  *sum
	mark *mark
	at   geom.Point
}

func (c *cluster) ban(k int) ban { return ban{&c.off.sums[k], &c.marks[k], c.at} }

func newCluster(off *between, at geom.Point, m *memory) cluster {
	marks := m.marks.take(len(off.sums))
	clear(marks)
	return cluster{off, at, marks}
}

func moved(b geom.Box, by geom.Point) geom.Box {
	return geom.Box{Min: b.Min.Add(by), Max: b.Max.Add(by)}
}

// box is the box round all of them on the bed, and boxOf that of one.
func (c *cluster) box() geom.Box { return moved(c.off.box, c.at) }

func (c *cluster) boxOf(k int) geom.Box { return moved(c.off.sums[k].box, c.at) }

// across is [hull.across] on the bed.
func (b *ban) across(y float64, m *memory) (from, to float64) {
	from, to = b.sum.hull(m).across(y - b.at.Y)
	return from + b.at.X, to + b.at.X
}

// ends and begins are the two ends of [ban.across] for the rows of a view, each of
// which lies above the last: the side that one crosses is looked for from the side
// that the last one crossed. Most rows need the end alone.
func (b *ban) ends(y float64, m *memory) float64 {
	h := b.sum.hull(m)
	y -= b.at.Y
	i := int(b.mark.right)
	for i+1 < h.top && h.pts[i+1].Y <= y {
		i++
	}
	b.mark.right = int32(i)
	return xAt(h.pts[i], h.pts[i+1], y) + b.at.X
}

func (b *ban) begins(y float64, m *memory) float64 {
	h := b.sum.hull(m)
	y -= b.at.Y
	n, i := len(h.pts), int(b.mark.left)
	if i == 0 {
		i = n - 1
	}
	for i > h.top && h.pts[i].Y < y {
		i--
	}
	b.mark.left = int32(i)
	next := i + 1
	if next == n {
		next = 0
	}
	return xAt(h.pts[i], h.pts[next], y) + b.at.X
}

// cut is where a row enters and leaves a shape, by fitTol within it at either end.
func (b *ban) cut(y float64, m *memory) (from, to float64) {
	return b.begins(y, m) + fitTol, b.ends(y, m) - fitTol
}

// upright is [hull.upright] on the bed.
func (b *ban) upright(x float64, m *memory) (from, to float64, ok bool) {
	x -= b.at.X
	if x <= b.sum.box.Min.X || x >= b.sum.box.Max.X {
		return 0, 0, false
	}
	from, to, ok = b.sum.hull(m).upright(x)
	return from + b.at.Y, to + b.at.Y, ok
}
