package flat

import (
	"math"

	"starwright/geom"
)

// zone is where a panel is screwed down.
type zone struct {
	at   geom.Point // its lower left corner
	kind int        // the same for zones of one size
	*shape
}

// zones returns the zones of a panel.
func (s *search) zones(length, width float64) []zone {
	if s.o.Zones == nil {
		return nil
	}
	var out []zone
	for _, b := range s.o.Zones(length, width) {
		if b.W() <= 0 || b.H() <= 0 {
			continue
		}
		// Boxes at the right end of panels are as wide as each other up to a
		// rounding; they are kept off by the width of the first.
		kind := 0
		for kind < len(s.zoneShapes) && (math.Abs(s.zoneShapes[kind].w-b.W()) > geom.Rounding || math.Abs(s.zoneShapes[kind].h-b.H()) > geom.Rounding) {
			kind++
		}
		if kind == len(s.zoneShapes) {
			s.zoneShapes = append(s.zoneShapes, newShape(geom.Rect(b), 0))
		}
		out = append(out, zone{b.Min, kind, s.zoneShapes[kind]})
	}
	return out
}

// banned is a stretch along the panel in which a part in some pose would come too
// near to a zone.
type banned struct{ from, to float64 }

func (b banned) holds(x float64) bool { return x > b.from+geom.Rounding && x < b.to-geom.Rounding }

// sides says how far left and right of a zone a part stays clear of it.
type sides struct{ left, right float64 }

type sidesKey struct {
	zone, item, turn int
	up               float64 // of the part over the zone
}

// ban returns what a zone bans for a part of which the lower side lies at y; false
// where the part passes above or below it.
func (s *search) ban(item, turn int, y float64, z *zone) (banned, bool) {
	key := sidesKey{z.kind, item, turn, y - z.at.Y}
	d, ok := s.sides[key]
	if !ok {
		sh := s.shapes[item][turn]
		d = sides{gap(sh, z.shape, -key.up, s.zoneSpacing), gap(z.shape, sh, key.up, s.zoneSpacing)}
		s.sides[key] = d
	}
	return banned{z.at.X - d.left, z.at.X + d.right}, !math.IsInf(d.right, -1)
}

// bans returns what the zones ban for a pose.
func (s *search) bans(p *pose, zones []zone) []banned {
	out := []banned{}
	for i := range zones {
		if b, ok := s.ban(p.item, p.turn, p.y, &zones[i]); ok {
			out = append(out, b)
		}
	}
	return out
}

// needs returns how long a panel has to be for its parts. Screws at its right end
// move with that: it grows until they are clear.
func (s *search) needs(parts []laid, t *task) float64 {
	length := 0.0
	for _, p := range parts {
		length = max(length, p.at.X+s.shapes[p.item][p.turn].w+s.o.Margin)
	}
	length = min(geom.RoundUp(length, s.o.Step), max(length, t.most))
	if s.o.Zones == nil {
		return length
	}
	const tries = 50
	for range tries {
		more := s.tooNear(parts, s.zones(length, t.width))
		if more == 0 {
			return length
		}
		if length = geom.RoundUp(length+more, s.o.Step); length >= t.most {
			break
		}
	}
	return t.most
}

// tooNear returns by how much zones would have to move right for the parts to be
// clear of them, 0 where they are.
func (s *search) tooNear(parts []laid, zones []zone) float64 {
	more := 0.0
	for _, l := range parts {
		s.work += len(zones)
		sh := s.shapes[l.item][l.turn]
		for i := range zones {
			z := &zones[i]
			if clear := s.zoneSpacing + sh.more; z.at.X > l.at.X+sh.w+clear || l.at.X > z.at.X+z.w+clear {
				continue
			}
			if b, ok := s.ban(l.item, l.turn, l.at.Y, z); ok && b.holds(l.at.X) {
				more = max(more, l.at.X-b.from)
			}
		}
	}
	return more
}
