package planner

// splinterLeast is the area, in mm², from which a splinter is no chip.
const splinterLeast = 6.0

// splinters returns the pieces of waste so narrow that the squares show
// them in crumbs, one behind the other: each crumb would go with the chips, the
// splinter does not.
func splinters(crumbs []loosePiece) (out []loosePiece) {
	for len(crumbs) > 0 {
		var one loosePiece
		if one, crumbs = gathered(crumbs); one.area >= splinterLeast {
			out = append(out, one)
		}
	}
	return out
}

// gathered puts the first crumb together with all that lie near it or near each
// other, and returns the rest. Boxes are a square larger than what is in them, so
// that those overlap which lie two squares apart or less.
func gathered(crumbs []loosePiece) (one loosePiece, rest []loosePiece) {
	one, rest = crumbs[0], crumbs[1:]
	for group := crumbs[:1:1]; len(group) > 0; group = group[1:] {
		var far []loosePiece
		for _, c := range rest {
			if !c.box.Overlaps(group[0].box) {
				far = append(far, c)
				continue
			}
			group = append(group, c)
			one.area += c.area
			one.box = one.box.Union(c.box)
		}
		rest = far
	}
	return one, rest
}
