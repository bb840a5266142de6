package outline

import (
	"cmp"
	"math"
	"slices"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/toolpath/finding"
)

// Result is the outcome of a comparison.
type Result struct {
	Findings       []finding.Finding
	MaxDeviationMM float64 // largest distance from where anything that was recognised should be
	Contours       int     // contours that lie where they should
	Lines          int     // lines that lie where they should
}

// Compare says where a file is not the drawing that was wanted. Contours and
// lines of each layer are matched within tol (mm) whatever their order, first
// vertex and direction; what does not match is named as missing, not wanted,
// on another layer, or displaced, with the vertices and arcs that are to blame.
// A drawing that is wrong as a whole (scale, shift, mirror image, turn) gives
// one finding that says so. Of texts it is compared what people set up by; see
// [TakeApart].
func Compare(f *cut.File, want cut.Drawing, tol float64) Result {
	c := &comparison{
		judge:   judge{f: f},
		want:    want,
		tol:     tol,
		corners: cornerTree(f),
		used:    make([]bool, len(f.Contours)),
		met:     make([]bool, len(want.Contours)),
		work:    maxWork,
	}
	c.match(geom.Place{})
	if c.wrongAsAWhole() {
		c.out.Findings = c.judge.out
		return c.out
	}
	c.wrongLayers()
	c.displaced()
	c.leftOver()
	c.lines()
	c.words()
	if c.work < 0 {
		c.add(0, "tangle", "", "", "too many contours of many vertices lie over each other to compare them all")
	}
	c.out.Findings = c.judge.out
	return c.out
}

// comparison is the work on one file.
type comparison struct {
	judge
	want    cut.Drawing
	tol     float64
	corners *geom.BoxTree
	used    []bool // contours of the file that are accounted for
	met     []bool // contours that were wanted and found
	work    work
	out     Result
}

// cornerTree finds the contours of a file by the lower left corner of their
// boxes.
func cornerTree(f *cut.File) *geom.BoxTree {
	corners := make([]geom.Box, len(f.Contours))
	for i := range f.Contours {
		corners[i] = geom.EmptyBox()
		if len(f.Contours[i].Contour) > 0 {
			m := f.Contours[i].Contour.Bounds().Min
			corners[i] = geom.Box{Min: m, Max: m}
		}
	}
	return geom.NewBoxTree(corners)
}

// find returns the contour of the file that has the shape wanted, as yet
// unused, on that layer, or on another where layer is empty.
func (c *comparison) find(w geom.Contour, layer string) (int, float64) {
	if len(w) == 0 {
		return -1, 0
	}
	found, off := -1, 0.0
	m := w.Bounds().Min
	c.corners.Each(geom.Box{Min: m, Max: m}.Grow(c.tol), func(k int) bool {
		g := &c.f.Contours[k]
		if c.used[k] || layer != "" && g.Layer != layer {
			return true
		}
		d, same := c.work.sameShape(g.Contour, w, c.tol)
		if same {
			found, off = k, d
		}
		return !same
	})
	return found, off
}

// match accounts for every contour that lies where the placement puts a wanted
// one, and returns how many.
func (c *comparison) match(p geom.Place) int {
	n := 0
	for i, w := range c.want.Contours {
		shape := w.Contour
		if p != (geom.Place{}) {
			shape = p.Contour(shape)
		}
		if k, off := c.find(shape, w.Layer); k >= 0 {
			c.used[k], c.met[i] = true, true
			c.out.MaxDeviationMM = math.Max(c.out.MaxDeviationMM, off)
			n++
		}
	}
	c.out.Contours = n
	return n
}

// wrongLayers names contours that lie where they should on another layer.
func (c *comparison) wrongLayers() {
	for i, w := range c.want.Contours {
		if c.met[i] {
			continue
		}
		if k, _ := c.find(w.Contour, ""); k >= 0 {
			g := &c.f.Contours[k]
			c.used[k], c.met[i] = true, true
			c.add(g.Line, "wrong-layer", g.Kind+" on "+g.Layer, layerInWood(w.Layer, g.Layer),
				"the contour at %s is on %s: it belongs on %s", xy(c.f, w.Contour[0].Point), g.Layer, w.Layer).At = at(w.Contour[0].Point)
		}
	}
}

func layerInWood(want, got string) string {
	switch {
	case cut.Cuts(want) && !cut.Cuts(got):
		return "it is not cut"
	case !cut.Cuts(want) && cut.Cuts(got):
		return "a guide line is cut through the part"
	}
	return "it is cut in the wrong order, or with the kerf on the wrong side"
}

// maxPairing bounds how many contours without a match are held against each
// other.
const maxPairing = 400

// displaced pairs wanted contours with the likeliest of what is left in the
// file and says where the two differ.
func (c *comparison) displaced() {
	type pair struct {
		want, got int
		off       float64
	}
	var pairs []pair
	rest, open := c.rest(), c.open()
	for _, i := range open[:min(len(open), maxPairing)] {
		w := c.want.Contours[i].Contour.Bounds()
		for _, k := range rest[:min(len(rest), maxPairing)] {
			g := c.f.Contours[k].Contour.Bounds()
			off := math.Max(gap(w.Min, g.Min), gap(w.Max, g.Max))
			near := off <= math.Max(w.W(), w.H())/2
			if near && c.f.Contours[k].Layer == c.want.Contours[i].Layer {
				pairs = append(pairs, pair{i, k, off})
			}
		}
	}
	slices.SortStableFunc(pairs, func(a, b pair) int { return cmp.Compare(a.off, b.off) })
	for _, p := range pairs {
		if !c.met[p.want] && !c.used[p.got] {
			c.met[p.want], c.used[p.got] = true, true
			c.differ(&c.f.Contours[p.got], c.want.Contours[p.want])
		}
	}
}

// rest returns the contours of the file that are not accounted for.
func (c *comparison) rest() []int {
	var out []int
	for k, used := range c.used {
		if !used && len(c.f.Contours[k].Contour) > 0 {
			out = append(out, k)
		}
	}
	return out
}

// open returns the wanted contours that were not found.
func (c *comparison) open() []int {
	var out []int
	for i, met := range c.met {
		if !met {
			out = append(out, i)
		}
	}
	return out
}

// leftOver names what is missing and what is not wanted.
func (c *comparison) leftOver() {
	for _, i := range c.open() {
		w := c.want.Contours[i]
		b := w.Contour.Bounds()
		c.add(0, "missing", "", missingInWood(w.Layer), "a contour is missing on %s: %.3f x %.3m at %s",
			w.Layer, in(c.f, b.W()), in(c.f, b.H()), xy(c.f, b.Min)).At = at(b.Min)
	}
	for _, k := range c.rest() {
		g := &c.f.Contours[k]
		inWood := ""
		if cut.Cuts(g.Layer) {
			inWood = "a cut where none belongs"
		}
		b := g.Contour.Bounds()
		c.add(g.Line, "not-wanted", g.Kind+" on "+g.Layer, inWood, "a contour that does not belong here: %.3f x %.3m at %s",
			in(c.f, b.W()), in(c.f, b.H()), xy(c.f, b.Min)).At = at(b.Min)
	}
}

func missingInWood(layer string) string {
	switch layer {
	case cut.Outline:
		return "the part is not cut"
	case cut.Hole:
		return "the hole is not cut"
	}
	return ""
}
