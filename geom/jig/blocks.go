package jig

import (
	"math"

	"starwright/geom"
	"starwright/geom/star"
)

// Block says how a cut that the saw cannot reach is made with an angle block.
type Block struct {
	Cut     string     // facet or tip
	Needed  geom.Angle // of the cut, from a square cross-cut
	Angle   geom.Angle // of the block: by how much it turns the board from the fence
	Setting geom.Angle // of the saw, from square: Needed less Angle
}

// Second returns the saw's setting, towards the block, for the second cut of a
// tip: the first one took the board's edge at that side, so that the board is
// turned over and lies against the block by the edge just cut. Between the two
// cuts lies the tip angle t, so that 90 - t is left instead of 90 - t/2; a
// setting below 0 is one away from the block.
func (k Block) Second(tip geom.Angle) geom.Angle {
	a := k.Setting - tip/2
	if math.Abs(float64(a)) < float64(angleSlack) {
		return 0
	}
	return a
}

// Limits of the choice of a block.
const (
	steepest   = 60 * geom.Degree // above, the board stands too square to the fence to be held well; common practice, no source
	angleSlack = geom.Angle(geom.Rounding)
)

// detents returns the settings, from square, at which a mitre saw's table
// clicks in. Common practice, no source.
func detents() []geom.Angle {
	return []geom.Angle{0, geom.Deg(22.5), geom.Deg(30), geom.Deg(45)}
}

// Blocks chooses an angle block for every cut of a segment that lies beyond
// maxMiter, and the saw's setting with it.
//
// A block turns the board by its angle, so that the saw is set to what is left
// of the angle needed; that setting must be from 0 to maxMiter. In this order
// the choice looks for
//
//   - one block that serves all cuts;
//   - a block of no more than 60 degrees;
//   - one of the star's own angles: the facet's setting 90 - 180/n, 180/n or
//     half the tip angle; failing that a block that leaves one cut at 0, 22.5,
//     30 or 45 degrees, where saws have detents;
//   - most cuts at a detent;
//   - the least turning of the saw, and then the smaller block.
func Blocks(s star.Segment, maxMiter geom.Angle) []Block {
	var cuts []Block
	for _, c := range []Block{{Cut: "facet", Needed: s.CenterMiter()}, {Cut: "tip", Needed: s.TipMiter()}} {
		if c.Needed > maxMiter+angleSlack {
			cuts = append(cuts, c)
		}
	}
	if len(cuts) == 0 {
		return nil
	}
	if best, ok := bestBlock(cuts, s, maxMiter); ok {
		return best
	}
	var out []Block
	for _, c := range cuts {
		best, _ := bestBlock([]Block{c}, s, maxMiter) // a block of the angle needed always serves
		out = append(out, best...)
	}
	return out
}

// bestBlock returns the cuts with the best single block for all of them, and
// false where none serves all.
func bestBlock(cuts []Block, s star.Segment, maxMiter geom.Angle) ([]Block, bool) {
	var best []Block
	var rank [5]float64
	for _, a := range blockAngles(cuts, s) {
		served, r, ok := serve(cuts, a.angle, maxMiter)
		if !ok {
			continue
		}
		r[1] = a.class
		if best == nil || less(r, rank) {
			best, rank = served, r
		}
	}
	return best, best != nil
}

type blockAngle struct {
	angle geom.Angle
	class float64 // 0 the star's own, 1 leaving a detent
}

// blockAngles returns the blocks worth a thought.
func blockAngles(cuts []Block, s star.Segment) []blockAngle {
	out := []blockAngle{{s.CenterMiter(), 0}, {s.Center / 2, 0}, {s.Tip / 2, 0}}
	for _, c := range cuts {
		for _, d := range detents() {
			out = append(out, blockAngle{c.Needed - d, 1})
		}
	}
	return out
}

// serve sets the saw for all cuts with a block, and ranks the block; the
// lesser rank is the better.
func serve(cuts []Block, angle, maxMiter geom.Angle) ([]Block, [5]float64, bool) {
	const leastBlock = 2 * geom.Degree // a thinner wedge is no block
	var rank [5]float64
	if angle < leastBlock {
		return nil, rank, false
	}
	if angle > steepest+angleSlack {
		rank[0] = 1
	}
	rank[4] = float64(angle)
	var out []Block
	for _, c := range cuts {
		c.Angle, c.Setting = angle, c.Needed-angle
		if math.Abs(float64(c.Setting)) < float64(angleSlack) {
			c.Setting = 0
		}
		if c.Setting < 0 || c.Setting > maxMiter+angleSlack {
			return nil, rank, false
		}
		for _, d := range detents() {
			if math.Abs(float64(c.Setting-d)) < float64(angleSlack) {
				rank[2]--
			}
		}
		rank[3] += float64(c.Setting)
		out = append(out, c)
	}
	return out, rank, true
}

// less compares ranks from the first place on; places that differ by rounding
// count as equal.
func less(a, b [5]float64) bool {
	for i := range a {
		if math.Abs(a[i]-b[i]) > float64(angleSlack) {
			return a[i] < b[i]
		}
	}
	return false
}
