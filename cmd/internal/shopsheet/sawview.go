package shopsheet

import (
	"math"

	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/route"
	"starwright/post/picture"
)

// sawView is a set-up of the saw seen from above: the fence at the top of the
// page, the maker at its foot. Everything in it stands where the route's data
// put it; the view has no method of its own.
type sawView struct {
	picture.Panel
	s    *route.Setup
	say  picture.Say
	kept float64 // side of the blade on which the work stays, as the sign of X
	dir  geom.Point
	work geom.Contour // before the cut, as it lies
	size float64      // mm, of what is drawn: words and marks are in proportion to it
}

// sawPanel draws a set-up.
func (m *maker) sawPanel(s *route.Setup, name string) picture.Panel {
	v := &sawView{s: s, say: m.say, kept: -1}
	v.Name = name + ", show face up"
	if s.Hold.ShowFaceDown {
		v.Name = name + ", show face DOWN"
	}
	v.Room = picture.Room{Left: 14, Right: 14, Above: 7, Below: 6}
	if s.Cut.KeepLeft {
		v.kept = 1
	}
	v.dir = s.Cut.To.Sub(s.Cut.From).Unit()
	v.work = s.Hold.Place().Contour(geom.Polygon(s.Piece.Before...)).CCW()
	jigs := m.placedJigs(s, v.kept)
	box := v.work.Bounds().With(geom.Point{})
	for _, j := range jigs {
		box = box.Union(j.outline.Bounds())
	}
	v.size = math.Max(box.W(), box.H())
	v.fence(box)
	for _, j := range jigs {
		v.jig(j)
	}
	v.pieces()
	v.stop()
	v.blade()
	v.numbers(m)
	return v.Panel
}

// placedJig is a jig as it stands at the fence.
type placedJig struct {
	outline geom.Contour
	holes   []geom.Contour
	word    string
}

// placedJigs finds the jigs that the work touches, and stands them where the
// set-up's numbers say: a block with its nose at the printed distance from the
// line of cut, a cradle with its straight side on that line.
func (m *maker) placedJigs(s *route.Setup, kept float64) []placedJig {
	var out []placedJig
	seen := map[string]bool{}
	for _, t := range s.Touches {
		j, ok := m.jigAt(t.Jig)
		if t.Jig == "" || seen[t.Jig] || !ok {
			continue
		}
		seen[t.Jig] = true
		at, word := cradlePlace(j), "cradle"
		if t.What == route.TouchBlock {
			at, word = blockPlace(reading(s, route.ReadNose), kept), "block"
		}
		p := placedJig{outline: at.Contour(j.Outline).CCW(), word: word}
		for _, h := range j.Holes {
			p.holes = append(p.holes, at.Contour(h.Contour).CCW())
		}
		out = append(out, p)
	}
	return out
}

// blockPlace stands a block, drawn with its fence edge on the X axis and its nose
// at X = 0, below the fence with its nose towards the blade.
func blockPlace(nose, kept float64) geom.Place {
	if kept > 0 {
		return geom.Place{Mirror: true, Move: geom.Pt(nose, 0)}
	}
	return geom.Place{Turn: 180 * geom.Degree, Move: geom.Pt(-nose, 0)}
}

// cradlePlace stands a cradle, whose drawing has the line of cut on the Y axis
// and the fence on the X axis, below the fence.
func cradlePlace(j jig.Jig) geom.Place {
	if b := j.Outline.Bounds(); b.Max.Y > -b.Min.Y {
		return geom.Place{Turn: 180 * geom.Degree}
	}
	return geom.Place{}
}

// jigAt returns the jig of a drawing's path.
func (m *maker) jigAt(path string) (jig.Jig, bool) {
	for _, j := range m.Jigs {
		if jigPath(j) == path {
			return j, true
		}
	}
	return jig.Jig{}, false
}

// fence draws the fence with its opening at the blade.
func (v *sawView) fence(box geom.Box) {
	deep := v.size * 0.045
	gap := math.Max(5, v.size*0.02) // half the opening at the blade
	left, right := math.Min(box.Min.X, 0)-v.size*0.14, math.Max(box.Max.X, 0)+v.size*0.1
	for _, x := range [2][2]float64{{left, -gap}, {gap, right}} {
		v.shape(geom.Rect(geom.Box{Min: geom.Pt(x[0], 0), Max: geom.Pt(x[1], deep)}), picture.Kerf)
		// Its far side as a line, so that no word stands on it.
		v.Lines = append(v.Lines, picture.Straight(geom.Pt(x[0], deep), geom.Pt(x[1], deep), picture.Edge))
	}
	at := left*0.75 - gap*0.25
	if v.kept < 0 {
		at = right*0.75 + gap*0.25
	}
	v.label(geom.Pt(at, deep), "fence", picture.Near, geom.Pt(0, 1))
}

func (v *sawView) jig(j placedJig) {
	v.Shapes = append(v.Shapes, picture.Shape{Contour: j.outline, Holes: j.holes, Look: picture.Facet})
	for _, h := range j.holes {
		v.shape(h, picture.Hole)
	}
	v.Labels = append(v.Labels, picture.Label{At: j.outline.Bounds().Center(), Text: j.word, Mark: picture.On, In: j.outline, NotIn: append([]geom.Contour{v.work}, j.holes...)})
}

// pieces draws what stays, what falls off and the kerf between them.
func (v *sawView) pieces() {
	s := v.s
	d := v.dir
	if v.kept < 0 {
		d = d.Mul(-1)
	}
	kept := clip(v.work, geom.Point{}, d)
	off := clip(v.work, d.Left().Mul(-s.Cut.Kerf), d.Mul(-1))
	v.shape(v.work, picture.Kerf)
	v.shape(off, picture.Waste)
	v.shape(kept, picture.Part)
	if len(kept) >= 3 {
		v.Labels = append(v.Labels, picture.Label{At: kept.Bounds().Center(), Text: "stays", Mark: picture.On, In: kept})
		v.label(v.holdAt(kept), "hold here", picture.Dot, geom.Pt(v.kept, -0.3))
	}
	if len(off) >= 3 {
		word := "falls off"
		if s.Piece.Falls != "" {
			word = "keep too"
		}
		v.label(off.Bounds().Center(), word, picture.Dot, geom.Pt(-v.kept, -0.4))
	}
}

// holdAt is the place of what stays that is farthest from the line of cut and well
// within, on the operator's side where there is a choice.
func (v *sawView) holdAt(kept geom.Contour) geom.Point {
	const across = 24   // places along each side
	const within = 0.05 // of what is drawn, from the edge
	const near = 1.0    // of a mm from the line of cut that a mm nearer to the operator is worth
	b := kept.Bounds()
	best, most := b.Center(), math.Inf(-1)
	for i := range across * across {
		p := geom.Pt(b.Min.X+b.W()*(float64(i%across)+0.5)/across, b.Min.Y+b.H()*(float64(i/across)+0.5)/across)
		if !kept.Contains(p) || kept.DistTo(p) < within*v.size {
			continue
		}
		if worth := math.Abs(v.dir.Cross(p)) - near*p.Y; worth > most {
			best, most = p, worth
		}
	}
	return best
}

// stop draws the stop at the corner that meets it.
func (v *sawView) stop() {
	corner, along, ok := v.stopAt()
	if !ok {
		return
	}
	away := along.Left() // towards the operator
	if away.Y > 0 {
		away = away.Mul(-1)
	}
	deep, high := v.size*0.05, v.size*0.1
	v.shape(geom.Polygon(corner, corner.Add(along.Mul(deep)), corner.Add(along.Mul(deep)).Add(away.Mul(high)), corner.Add(away.Mul(high))), picture.Waste)
	v.label(corner.Add(along.Mul(deep/2)).Add(away.Mul(high*0.5)), "stop", picture.Dot, geom.Pt(v.kept, -0.2))
}

// stopAt returns the corner that meets the stop and the way along fence or block
// that leads there from the blade.
func (v *sawView) stopAt() (corner, along geom.Point, ok bool) {
	s, place := v.s, v.s.Hold.Place()
	along = geom.Pt(v.kept, 0)
	for _, t := range s.Touches {
		n := len(s.Piece.Before)
		switch {
		case t.What == route.TouchStop && t.Corner >= 0 && t.Corner < n:
			corner, ok = place.Point(s.Piece.Before[t.Corner]), true
		case t.What == route.TouchStop && t.Edge >= 0 && t.Edge < n: // the end of it that lies at the fence or the block
			a, b := place.Point(s.Piece.Before[t.Edge]), place.Point(s.Piece.Before[(t.Edge+1)%n])
			if a.Y < b.Y {
				a = b
			}
			corner, ok = a, true
		case t.What == route.TouchBlock && t.Edge >= 0 && t.Edge < n:
			a, b := place.Point(s.Piece.Before[t.Edge]), place.Point(s.Piece.Before[(t.Edge+1)%n])
			along = b.Sub(a).Unit()
			if along.X*v.kept < 0 {
				along = along.Mul(-1)
			}
		}
	}
	return corner, along, ok
}

// blade draws the line of cut, with the arm's swing where it is turned.
func (v *sawView) blade() {
	over := v.size * 0.07
	end := v.dir.Mul(math.Max(v.s.Cut.Reach, v.s.Cut.To.Sub(v.s.Cut.From).Len()*0) + over)
	if v.s.Cut.Reach == 0 {
		end = v.dir.Mul(-v.work.Bounds().Min.Y/math.Max(0.2, -v.dir.Y) + over)
	}
	v.Lines = append(v.Lines, picture.Straight(v.dir.Mul(-over), end, picture.Axis))
	v.label(end.Mul(0.97), "line of cut", picture.Arrow, geom.Pt(-v.kept, 0.1))
}

// numbers puts the printed readings to the places where they are set.
func (v *sawView) numbers(m *maker) {
	s := v.s
	const leastShown = 15 * geom.Degree // a smaller angle has no room for its number; it stands large above
	if a := printed(s, route.ReadSaw); a != "" && s.Setting >= leastShown {
		from, to := v.dir.Angle(), 270*geom.Degree
		if (to - from).Normal() > 180*geom.Degree {
			from, to = to, from
		}
		v.Angles = append(v.Angles, picture.AngleDim{From: from, To: to, Text: a, Rays: true})
	}
	corner, along, ok := v.stopAt()
	if nose := printed(s, route.ReadNose); nose != "" {
		x := v.kept * reading(s, route.ReadNose)
		v.Dims = append(v.Dims, picture.Dim{A: geom.Pt(0, 0), B: geom.Pt(x, 0), Side: picture.Above, Text: "nose " + nose})
	}
	if stop := printed(s, route.ReadStop); stop != "" && ok {
		if printed(s, route.ReadNose) == "" {
			v.Dims = append(v.Dims, picture.Dim{A: geom.Pt(0, 0), B: corner, Side: picture.Above, Text: "stop " + stop})
		} else {
			from, off := corner.Sub(along.Mul(reading(s, route.ReadStop))), 9.0
			if v.kept < 0 {
				off = -off
			}
			v.Dims = append(v.Dims, picture.Dim{A: from, B: corner, Side: picture.Aligned, Off: off, Text: "stop " + stop})
		}
	}
}

func (v *sawView) shape(c geom.Contour, l picture.Look) {
	if len(c) >= 3 {
		v.Shapes = append(v.Shapes, picture.Shape{Contour: c, Look: l})
	}
}

func (v *sawView) label(at geom.Point, text string, k picture.Mark, away geom.Point) {
	v.Labels = append(v.Labels, picture.Label{At: at, Text: text, Mark: k, Away: away})
}

// clip returns what lies of a straight-sided outline on the left of the line
// through a in direction d (Sutherland and Hodgman, Reentrant polygon clipping,
// 1974).
func clip(c geom.Contour, a, d geom.Point) geom.Contour {
	var out []geom.Point
	for i, p := range c {
		q := c[(i+1)%len(c)]
		hp, hq := d.Cross(p.Sub(a)), d.Cross(q.Sub(a))
		if hp >= 0 {
			out = append(out, p.Point)
		}
		if hp >= 0 != (hq >= 0) {
			out = append(out, p.Lerp(q.Point, hp/(hp-hq)))
		}
	}
	if len(out) < 3 {
		return nil
	}
	return geom.Polygon(out...)
}

// printed returns a reading as it stands on the page, "" where the set-up has
// none of the name.
func printed(s *route.Setup, name string) string {
	for _, r := range s.Readings {
		if r.Name == name {
			return r.Printed
		}
	}
	return ""
}

// reading returns the number of a reading, mm or degrees.
func reading(s *route.Setup, name string) float64 {
	for _, r := range s.Readings {
		switch {
		case r.Name != name:
		case r.MM != nil:
			return *r.MM
		case r.Deg != nil:
			return *r.Deg
		}
	}
	return 0
}
