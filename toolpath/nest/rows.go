package nest

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/toolpath"
)

// Stack is a number of equal parts to be laid out in rows, such as splines.
type Stack struct {
	Part  toolpath.Part
	Count int
}

// Rows lays many small parts out in straight rows by their boxes, stack after
// stack, long side along X: what suits rectangles, where a search for the best
// place would find no better. The rows of a sheet stop short of its screw
// zones. Options are those of [Batch.Nest], the error likewise.
func Rows(stacks []Stack, o Options) (Result, error) {
	if ps := o.Check(); len(ps) > 0 {
		return Result{}, ps
	}
	r := rows{o: o, room: o.usable()}
	for i, s := range stacks {
		if err := r.lay(i, s); err != nil {
			return Result{}, err
		}
	}
	for i := range r.sheets {
		area := 0.0
		for _, p := range r.sheets[i].Parts {
			area += math.Abs(p.Part.Outline.Area())
		}
		r.sheets[i].Used = area / (o.W * o.H)
		r.used += area
	}
	out := Result{Sheets: r.sheets, Bound: int(geom.Steps(r.used, r.room.W()*r.room.H()))}
	if n := len(r.sheets); n > 0 {
		out.Used = r.used / (o.W * o.H * float64(n))
	}
	return out, nil
}

// rows is a layout in the making: the sheet being filled is the last one, its
// row starts at y, is h high and filled up to x.
type rows struct {
	o       Options
	room    geom.Box
	sheets  []Sheet
	x, y, h float64
	used    float64
}

// lay lays out one stack.
func (r *rows) lay(item int, s Stack) error {
	flat, w, h := flatten(s.Part)
	if over := math.Max(w-r.room.W(), h-r.room.H()); over > geom.Rounding {
		return &TooLarge{Part: s.Part.Name, W: w, H: h, RoomW: r.room.W(), RoomH: r.room.H(),
			OverX: math.Max(0, w-r.room.W()), OverY: math.Max(0, h-r.room.H()), Unit: r.o.Unit, sheet: r.o}
	}
	for k := range s.Count {
		at, ok := r.next(w, h)
		if !ok {
			return r.o.betweenZones(s.Part.Name, w, h, r.o.Spacing, false)
		}
		place := geom.Place{Turn: flat.Turn, Move: flat.Move.Add(at)}
		p := s.Part.Placed(place)
		if s.Count > 1 {
			p.Name = fmt.Sprintf("%s %d of %d", s.Part.Name, k+1, s.Count)
		}
		n := len(r.sheets) - 1
		r.sheets[n].Parts = append(r.sheets[n].Parts, Placement{Item: item, At: place, Part: p})
	}
	return nil
}

// flatten returns how a part is turned so that its longer side lies along X and
// its box starts at the origin, and that box.
func flatten(p toolpath.Part) (at geom.Place, w, h float64) {
	if b := p.Outline.Bounds(); b.H() > b.W() {
		at.Turn = 90 * geom.Degree
	}
	b := at.Contour(p.Outline).Bounds()
	at.Move = b.Min.Mul(-1)
	return at, b.W(), b.H()
}

// next finds the place of the next box of w by h: in the row, in a new row, or
// on a new sheet. It fails where even an empty sheet has none.
func (r *rows) next(w, h float64) (geom.Point, bool) {
	for try := 0; try < 2; try++ {
		if len(r.sheets) > 0 {
			if at, ok := r.onSheet(w, h); ok {
				return at, true
			}
		}
		r.sheets = append(r.sheets, Sheet{})
		r.x, r.y, r.h = r.room.Min.X, r.room.Min.Y, 0
	}
	r.sheets = r.sheets[:len(r.sheets)-1]
	return geom.Point{}, false
}

// onSheet looks along the row, then up row by row, stepping over screw zones.
func (r *rows) onSheet(w, h float64) (geom.Point, bool) {
	x, y, rowH := r.x, r.y, r.h
	for y+h <= r.room.Max.Y+geom.Rounding {
		for x+w <= r.room.Max.X+geom.Rounding {
			box := geom.Box{Min: geom.Pt(x, y), Max: geom.Pt(x+w, y+h)}
			zone, hit := r.zone(box)
			if !hit {
				r.x, r.y, r.h = x+w+r.o.Spacing, y, math.Max(rowH, h)
				return box.Min, true
			}
			x = zone.Max.X + r.o.Spacing
		}
		step := rowH
		if step == 0 { // an empty row: go up past the zones that fill it
			step = h / 4
		} else {
			step += r.o.Spacing
		}
		x, y, rowH = r.room.Min.X, y+step, 0
	}
	return geom.Point{}, false
}

// zone returns a screw zone that a box comes too close to.
func (r *rows) zone(b geom.Box) (geom.Box, bool) {
	near := b.Grow(r.o.Spacing - geom.Rounding)
	for _, z := range r.o.Zones {
		if z.Overlaps(near) {
			return z, true
		}
	}
	return geom.Box{}, false
}
