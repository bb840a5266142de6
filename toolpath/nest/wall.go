package nest

import "starwright/geom"

// closed keeps what closed a row.
func (v *view) closed(w wall) {
	v.wall = v.wall[:0]
	for _, l := range w.links {
		v.wall = append(v.wall, l.ban)
	}
}

// shut returns how many of the next rows the shapes close that closed the last one.
// What they close at two heights they close between: they are convex. So it is looked
// for farther and farther up, and then back, which tells of ten rows by the few shapes
// of a wall what [bed.row] finds out of each by all.
func (v *view) shut(room geom.Box, ys []float64, m *memory) int {
	if !v.closes(room, ys[0], m) {
		return 0
	}
	last, step := 0, 1
	for ; last+step < len(ys) && v.closes(room, ys[last+step], m); step *= 2 {
		last += step
	}
	for step /= 2; step > 0; step /= 2 {
		if last+step < len(ys) && v.closes(room, ys[last+step], m) {
			last += step
		}
	}
	return last + 1
}

// closes reports whether the wall closes a row, a chain of shapes each of which begins
// where the one before it still is. It does so with a rounding to spare, so that
// [bed.row] would say the same of this row and of all between two such.
func (v *view) closes(room geom.Box, y float64, m *memory) bool {
	x := room.Min.X
	for i := range v.wall {
		b := &v.wall[i]
		if box := &b.sum.box; y <= box.Min.Y+b.at.Y+fitTol || y >= box.Max.Y+b.at.Y-fitTol {
			return false
		}
		from, to := b.across(y, m)
		if from > x-3*fitTol {
			return false
		}
		x = to - fitTol
	}
	return x > room.Max.X+2*fitTol
}

// link is a shape that carried the free place of a row past it.
type link struct {
	to  float64
	ban ban
}

// wall is the shapes that carried the free place of a row from its beginning to where
// it is, without those that it would have come as far without.
type wall struct {
	start float64
	links []link
}

// add adds the shape that carries the place on.
func (w *wall) add(from, to float64, b ban) {
	n := len(w.links)
	for ; n > 0; n-- {
		before := w.start
		if n > 1 {
			before = w.links[n-2].to
		}
		if from > before-fitTol {
			break
		}
	}
	w.links = append(w.links[:n], link{to, b})
}
