package outline

import (
	"fmt"
	"math"
	"strings"

	"starwright/geom"
	"starwright/post/cut"
)

// contour judges one contour for itself.
func (j *judge) contour(c *cut.FileContour) {
	block := c.Kind + " on " + c.Layer
	if !cut.Known(c.Layer) {
		j.unknownLayer(c.Line, c.Kind, c.Layer)
		return
	}
	if !cut.Cuts(c.Layer) {
		return
	}
	if len(c.Contour) < 2 {
		j.add(c.Line, "contour", block, "nothing is cut here", "a contour of %d vertices", len(c.Contour))
		return
	}
	j.closed(c, block)
	j.repeats(c, block)
	area, length := math.Abs(c.Area()), c.Length()
	if !(area > limitMM*length) {
		j.add(c.Line, "area", block, "the cutter runs there and back and no part falls out",
			"the contour encloses nothing: its line is %.3m long", in(j.f, length)).At = at(c.Contour[0].Point)
	}
}

// closed judges whether the contour is closed and, where it is not, the gap.
func (j *judge) closed(c *cut.FileContour, block string) {
	if c.Closed {
		return
	}
	first, last := c.Contour[0].Point, c.Contour[len(c.Contour)-1].Point
	d := first.Dist(last)
	what := fmt.Sprintf("open contour, without %s: from its last vertex to its first it is %.3m", j.f.Closer, in(j.f, d))
	inWood := fmt.Sprintf("the part stays fast over %.3m, and nobody can tell inside from outside", in(j.f, d))
	if d <= repeatMM {
		what = "open contour: its first vertex is repeated at the end in place of " + j.f.Closer
		inWood = "inside and outside may not be told, so that the kerf falls on the wrong side"
	}
	f := j.add(c.Line, "open", block, inWood, "%s", what)
	f.ByMM, f.At = d, at(last)
}

// repeats judges vertices drawn twice and arcs beyond measure.
func (j *judge) repeats(c *cut.FileContour, block string) {
	for i := range c.Contour {
		e := c.Contour.Curve(i)
		if math.Abs(e.Bulge) > maxBulge {
			j.add(int(c.VertexLines[i]), "arc", block, "one program draws a circle here, another a dot",
				"bulge %g at %s is a full circle but for rounding: a circle is two arcs", e.Bulge, xy(j.f, e.A)).At = at(e.A)
		}
		if i == len(c.Contour)-1 && !c.Closed {
			break // no edge back to the first
		}
		if e.A.Dist(e.B) <= repeatMM {
			k := (i + 1) % len(c.Contour)
			j.add(int(c.VertexLines[k]), "repeated-vertex", j.f.Vertex(c.Contour[k]), "the cutter may dwell and burn, or offset the corner wrongly",
				"vertex %d repeats vertex %d at %s", k+1, i+1, xy(j.f, e.B)).At = at(e.B)
		}
	}
}

// strays judges everything that is no contour.
func (j *judge) strays() {
	for _, l := range j.f.Lines {
		j.stray(l.Line, l.Kind, l.Layer, alone, &l.A)
	}
	for _, t := range j.f.Texts {
		j.stray(t.Line, t.Kind, t.Layer, letters, &t.At)
	}
	for _, o := range j.f.Others {
		inWood := alone
		switch {
		case o.Words:
			inWood = letters
		case o.Rare:
			inWood = "software that does not read it leaves the cut out without a word"
		}
		var p *geom.Point
		if len(o.Curves) > 0 {
			p = &o.Curves[0].A
		}
		j.stray(o.Line, o.Kind, o.Layer, inWood, p)
	}
}

// What becomes of strays in the wood.
const (
	alone   = "a cut that is not part of any closed outline"
	letters = "letters are cut through the part, or dropped"
)

// stray names something on a layer where it may not be.
func (j *judge) stray(line int, kind, layer, inWood string, p *geom.Point) {
	switch {
	case !cut.Known(layer):
		j.unknownLayer(line, kind, layer)
	case cut.Cuts(layer):
		f := j.add(line, "stray", kind+" on "+layer, inWood,
			"%s on %s: cut layers hold closed outlines and nothing else", article(kind), layer)
		if p != nil {
			f.At = at(*p)
		}
	}
}

// article puts "a" or "an" before the name of a kind as it is spoken.
func article(kind string) string {
	if kind != "" && strings.Contains("AEIOaeio", kind[:1]) || kind == "LWPOLYLINE" || kind == "MTEXT" {
		return "an " + kind
	}
	return "a " + kind
}

func (j *judge) unknownLayer(line int, kind, layer string) {
	j.add(line, "layer", kind+" on "+layer, "whether it is cut depends on the program",
		"%s on layer %q: the layers are OUTLINE, HOLE, GUIDE and TEXT", article(kind), layer)
}
