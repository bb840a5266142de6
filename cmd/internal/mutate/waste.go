package mutate

import (
	"math"
	"sync"
)

// Wood that is left at the bottom of a sheet holds nothing below a thickness,
// and a loose piece below an area goes with the chips.
const (
	skin      = 0.3 // mm
	chipArea  = 4.0 // mm²
	wasteCell = 0.5 // mm
)

// waste floods the sheet from what is left of it in squares and looks for
// places that the flood does not reach. Squares do not tell what a thin bridge
// holds: what only comes loose with a wider cutter is Either.
func (r *ruling) waste(j *Brief, segs []seg) {
	s, z := j.Sheet, -j.Sheet.Thickness+skin
	if s.TabWidth > 0 {
		z = min(z, -s.Thickness+s.TabHeight/2)
	}
	switch rad := j.Cutter / 2; {
	case s.looseArea(segs, z, rad-0.2) > 2*chipArea:
		r.add(Harmful, "a piece of the sheet comes loose")
	case s.looseArea(segs, z, rad+0.2) > chipArea/2:
		r.add(Either, "a piece of the sheet comes loose or nearly so")
	}
}

// grids are used again and again: sheets are large.
var grids = sync.Pool{New: func() any { return new([]uint8) }}

// looseArea is the area of the largest piece that hangs together with nothing
// else and is no part of a part.
func (s *Sheet) looseArea(segs []seg, z, rad float64) float64 {
	w, h := int(math.Ceil(s.W/wasteCell)), int(math.Ceil(s.H/wasteCell))
	p := grids.Get().(*[]uint8)
	defer grids.Put(p)
	if len(*p) < w*h {
		*p = make([]uint8, w*h)
	}
	cell := (*p)[:w*h]
	clear(cell)
	done := map[[4]float64]bool{}
	for i := range segs {
		a, b, ok := segs[i].below(z)
		key := [4]float64{a[0], a[1], b[0], b[1]}
		if !ok || done[key] {
			continue
		}
		done[key] = true
		x0, x1 := int((min(a[0], b[0])-rad)/wasteCell), int((max(a[0], b[0])+rad)/wasteCell)
		y0, y1 := int((min(a[1], b[1])-rad)/wasteCell), int((max(a[1], b[1])+rad)/wasteCell)
		for y := max(0, y0); y <= min(h-1, y1); y++ {
			for x := max(0, x0); x <= min(w-1, x1); x++ {
				if cell[y*w+x] == 0 && segDist2(&a, &b, (float64(x)+0.5)*wasteCell, (float64(y)+0.5)*wasteCell) < rad*rad {
					cell[y*w+x] = 1
				}
			}
		}
	}
	return s.flood(cell, w, h)
}

// flood fills piece after piece and returns the largest loose one that begins
// outside of every part. The largest of all is what the rest hangs on.
func (s *Sheet) flood(cell []uint8, w, h int) float64 {
	largest, loose := 0, 0
	var stack []int
	for first := range cell {
		if cell[first] != 0 {
			continue
		}
		n := 0
		stack = append(stack[:0], first)
		cell[first] = 2
		for len(stack) > 0 {
			at := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			n++
			for _, next := range [4]int{at - 1, at + 1, at - w, at + w} {
				if next < 0 || next >= len(cell) || next == at-1 && at%w == 0 || next == at+1 && at%w == w-1 || cell[next] != 0 {
					continue
				}
				cell[next] = 2
				stack = append(stack, next)
			}
		}
		x, y := (float64(first%w)+0.5)*wasteCell, (float64(first/w)+0.5)*wasteCell
		if within := s.inPart(x, y); n > largest {
			if !within {
				loose = max(loose, largest)
			}
			largest = n
		} else if !within {
			loose = max(loose, n)
		}
	}
	return float64(loose) * wasteCell * wasteCell
}

// inPart reports whether a place lies in a part; where no tabs hold the parts,
// its cut-outs with it, for what holds those holds these.
func (s *Sheet) inPart(x, y float64) bool {
	for _, p := range s.Parts {
		in := inside(p.Outline, x, y)
		for _, h := range p.Holes {
			in = in && (s.TabCount == 0 || !inside(h, x, y))
		}
		if in {
			return true
		}
	}
	return false
}
