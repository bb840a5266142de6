package planner

import "slices"

// splinterLeast is the area, in mm², from which a splinter is no chip.
const splinterLeast = 6.0

// splinters returns the pieces of waste so narrow that the squares show
// them in crumbs, one behind the other: each crumb would go with the chips, the
// splinter does not.
func splinters(crumbs []loosePiece) (out []loosePiece) {
	for len(crumbs) > 0 {
		var group []loosePiece
		group, crumbs = gathered(crumbs)
		one := group[0]
		one.wood = append(slices.Clone(one.wood), one.at)
		for _, c := range group[1:] {
			one.area += c.area
			one.box = one.box.Union(c.box)
			one.wood = append(append(one.wood, c.wood...), c.at)
		}
		if one.area >= splinterLeast {
			out = append(out, one)
		}
	}
	return out
}

// gathered puts the first piece together with all that lie near it or near each
// other, and returns the rest. Boxes are a square larger than what is in them, so
// that those overlap which lie two squares apart or less.
func gathered(pieces []loosePiece) (group, rest []loosePiece) {
	group, rest = pieces[:1:1], pieces[1:]
	for n := 0; n < len(group); n++ {
		var far []loosePiece
		for _, c := range rest {
			if c.box.Overlaps(group[n].box) {
				group = append(group, c)
			} else {
				far = append(far, c)
			}
		}
		rest = far
	}
	return group, rest
}
