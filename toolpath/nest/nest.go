// Package nest lays parts out on sheets: as few sheets as it can, every part
// with its spacing to the others, its margin to the edge and clear of the
// places where the sheet is screwed down.
//
// Parts are placed by their real shapes, not by boxes: one after the other,
// the large ones first, each as low and then as far left as it goes, in the
// turning that ends lowest; several orders are tried and the best is kept. The
// work is counted, not timed, so that the same parts always lie the same way.
// The package does not lay parts into the cut-outs of others, and does not
// plan the cutter's way.
package nest

import (
	"context"
	"math"

	"starwright/geom"
	"starwright/toolpath"
)

// Item is one part to be laid out.
type Item struct {
	Part toolpath.Part
	// Turns are the turnings allowed. None stands for the four quarter turns,
	// and those that lay the longest side of the part along an edge.
	Turns []geom.Angle
}

// Options describe the sheets. Lengths are mm.
type Options struct {
	W, H    float64
	Margin  float64    // from the sheet's edge to a part
	Spacing float64    // from part to part
	Cutter  float64    // diameter, or the kerf of a beam; spacing and margin are at least that
	Zones   []geom.Box // screw zones; the cutter passes between them and a part
	Unit    geom.Unit  // of the lengths in problems
}

// Placement is one part on a sheet.
type Placement struct {
	Item int        // number of the item
	At   geom.Place // where it lies
	Part toolpath.Part
}

// Sheet is one sheet with its parts, in the order of the items.
type Sheet struct {
	Parts []Placement
	Used  float64 // share of the sheet's area that its parts take, 0 to 1
}

// Result is the finished layout.
type Result struct {
	Sheets []Sheet
	Used   float64 // share of all sheets' area
	// Bound is a number of sheets that no layout could undercut, because of
	// the area that parts and spacing take.
	Bound int
}

// CornerZones returns square screw zones with the given side in the four
// corners of a sheet; none where the side is 0.
func CornerZones(w, h, side float64) []geom.Box {
	if side <= 0 {
		return nil
	}
	at := func(x, y float64) geom.Box { return geom.Box{Min: geom.Pt(x, y), Max: geom.Pt(x+side, y+side)} }
	return []geom.Box{at(0, 0), at(w-side, 0), at(0, h-side), at(w-side, h-side)}
}

// Batch is items that may be laid out more than once, with other options: what the
// first time finds out about their shapes serves the next.
type Batch struct {
	items  []Item
	shapes []*shape // by item, nil where nothing is known yet
	memory [workers]memory
}

// NewBatch lays nothing out yet.
func NewBatch(items []Item) *Batch {
	return &Batch{items: items, shapes: make([]*shape, len(items))}
}

// Nest lays the items out, one layout at a time. The error is of type [problem.List]
// where the options are wrong, of type [TooLarge] where a part fits on no sheet, and
// the context's own where that ends before the layout is found.
func (b *Batch) Nest(ctx context.Context, o Options) (Result, error) {
	if ps := o.Check(); len(ps) > 0 {
		return Result{}, ps
	}
	s, err := newSearch(b, o)
	if err != nil {
		return Result{}, err
	}
	best := s.run(ctx, &b.memory)
	if err := ctx.Err(); err != nil {
		return Result{}, err
	}
	return s.result(best), nil
}

// zoneMore is by how much a part lies farther from a screw zone than the
// cutter is wide, mm, where the spacing of parts is not less.
const zoneMore = 1.0

// ZoneSpacing is how far a part keeps from a screw zone, mm.
func (o Options) ZoneSpacing() float64 { return math.Min(o.Spacing, o.Cutter+zoneMore) }

// usable is the area in which parts may lie.
func (o Options) usable() geom.Box {
	return geom.Box{Min: geom.Pt(o.Margin, o.Margin), Max: geom.Pt(o.W-o.Margin, o.H-o.Margin)}
}

// Grown is the least area that a shape of an area covers once it is grown by d
// all round: (√A + √π d)² (Brunn and Minkowski).
func Grown(area, d float64) float64 {
	return math.Pow(math.Sqrt(area)+math.Sqrt(math.Pi)*d, 2)
}

// bound returns the least number of sheets by area. Parts grown by half the
// spacing do not overlap and lie in the usable area grown as much.
func (s *search) bound() int {
	d := s.o.Spacing / 2
	need := 0.0
	for _, it := range s.items {
		need += Grown(math.Abs(it.Part.Outline.Area()), d)
	}
	u := s.o.usable()
	room := (u.W() + 2*d) * (u.H() + 2*d)
	return int(geom.Steps(need, room))
}

// result turns the best layout found into placed parts.
func (s *search) result(best layout) Result {
	r := Result{Bound: s.bound()}
	all := 0.0
	for _, sheet := range best.sheets {
		var out Sheet
		for i := range s.items { // in the order of the items
			for _, p := range sheet {
				if p.item != i {
					continue
				}
				at := geom.Place{Turn: s.turns[i][p.turn].angle, Move: p.move.Sub(s.turns[i][p.turn].low)}
				part := s.items[i].Part.Placed(at)
				out.Parts = append(out.Parts, Placement{i, at, part})
				out.Used += math.Abs(part.Outline.Area())
			}
		}
		all += out.Used
		out.Used /= s.o.W * s.o.H
		r.Sheets = append(r.Sheets, out)
	}
	if n := len(r.Sheets); n > 0 {
		r.Used = all / (float64(n) * s.o.W * s.o.H)
	}
	return r
}
