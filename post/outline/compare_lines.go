package outline

import (
	"math"

	"starwright/geom"
	"starwright/post/cut"
)

// maxLineOff is how far, in mm, a line may lie from its place to count as
// displaced and not as another one.
const maxLineOff = 10

// lines compares the lines, joints and other guides. The check bar is measured
// by [Judge] and needs not be among those wanted.
func (c *comparison) lines() {
	f := c.f
	used := make([]bool, len(f.Lines))
	tree := middleTree(f.Lines)
	var open []int
	for i, w := range c.want.Lines {
		k, d := c.lineNear(tree, w, c.tol, nil)
		switch {
		case k < 0:
			open = append(open, i)
		default:
			used[k] = true
			c.out.Lines++
			c.out.MaxDeviationMM = math.Max(c.out.MaxDeviationMM, d)
		}
	}
	for _, i := range open {
		w := c.want.Lines[i]
		k, d := c.lineNear(tree, w, math.Min(maxLineOff, w.A.Dist(w.B)/2), used)
		if k < 0 {
			c.add(0, "missing", "", "", "a line is missing on %s: from %s to %s", w.Layer, xy(c.f, w.A), xy(c.f, w.B)).At = at(w.A)
			continue
		}
		used[k] = true
		c.out.MaxDeviationMM = math.Max(c.out.MaxDeviationMM, d)
		x := c.add(f.Lines[k].Line, "displaced", f.Lines[k].Kind+" on "+w.Layer, guideInWood(w.Layer),
			"a line is %.3m from its place, which is from %s to %s", in(c.f, d), xy(c.f, w.A), xy(c.f, w.B))
		x.ByMM, x.At = d, at(f.Lines[k].A)
	}
	if bar := FindBar(f); bar != nil {
		for _, k := range bar.lines {
			used[k] = true
		}
	}
	for k, l := range f.Lines {
		if !used[k] && cut.Known(l.Layer) && !cut.Cuts(l.Layer) { // on cut layers Judge names every line
			c.add(l.Line, "not-wanted", l.Kind+" on "+l.Layer, guideInWood(l.Layer), "a line that does not belong here: from %s to %s", xy(c.f, l.A), xy(c.f, l.B)).At = at(l.A)
		}
	}
}

func guideInWood(layer string) string {
	if layer == cut.Guide {
		return "nothing is cut there; who works to the guide lines is misled"
	}
	return ""
}

// middleTree finds lines by their middles.
func middleTree(lines []cut.FileLine) *geom.BoxTree {
	boxes := make([]geom.Box, len(lines))
	for i, l := range lines {
		m := l.A.Lerp(l.B, 0.5)
		boxes[i] = geom.Box{Min: m, Max: m}
	}
	return geom.NewBoxTree(boxes)
}

// lineNear returns the line of the file on the same layer whose ends are
// nearest to those of w, within limit; of those not used, where used is given.
func (c *comparison) lineNear(tree *geom.BoxTree, w cut.Line, limit float64, used []bool) (int, float64) {
	m := w.A.Lerp(w.B, 0.5)
	best, least := -1, limit
	tree.Each(geom.Box{Min: m, Max: m}.Grow(limit), func(k int) bool {
		l := c.f.Lines[k]
		if l.Layer != w.Layer || used != nil && used[k] {
			return true
		}
		d := math.Min(math.Max(l.A.Dist(w.A), l.B.Dist(w.B)), math.Max(l.A.Dist(w.B), l.B.Dist(w.A)))
		if d < least || d == least && best < 0 {
			best, least = k, d
		}
		return true
	})
	return best, least
}
