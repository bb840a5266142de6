package choose

import (
	"math"
	"slices"

	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/problem"
	"starwright/geom/route"
)

// makes reports whether the packet may make a jig: where the job names its jigs,
// those alone.
func (m *maker) makes(key string) bool { return m.Named == nil || m.named(key) }

// want asks for a jig, once.
func (m *maker) want(w jig.Want) {
	if m.makes(w.Key) && !slices.Contains(m.out.Wants, w) {
		m.out.Wants = append(m.out.Wants, w)
	}
}

func (m *maker) wantCradle(u *unit, key string) { m.want(jig.Want{Key: key, Unit: u.index}) }

// plates makes the plates of one kind for a unit, or says why they cannot be
// made.
func (m *maker) plates(w jig.Want) ([]jig.Jig, problem.List) {
	return m.kits.Kit([]jig.Want{w})
}

// drawing is the path of a jig's drawing in the packet.
func drawing(file string) string { return "dxf/" + file + ".dxf" }

// use describes a jig as a set-up uses it. One that the job does not make has
// no drawing: the maker has it.
func (m *maker) use(j *jig.Jig, does string) route.JigUse {
	out := route.JigUse{Key: j.Key, Title: j.Title, Path: drawing(j.File), Plates: j.Quantity, Does: does}
	if !m.makes(j.Key) {
		out.Path = ""
		return out
	}
	if j.Build == nil {
		return out
	}
	for _, l := range j.Build.Layers {
		switch {
		case l.File == j.File:
			out.Plates = l.Count
		case l.Loose:
			out.Bed = drawing(l.File)
		default:
			out.Base = drawing(l.File)
		}
	}
	return out
}

// blockFor returns the block for the facets of a unit; its angle is 0 where no
// block serves.
func (m *maker) blockFor(u *unit) (block, problem.List) {
	var b block
	for _, k := range jig.Blocks(u.Segment, m.Jigs.MaxMiter) {
		if k.Cut == "facet" {
			b.angle, b.setting = k.Angle, k.Setting
		}
	}
	if b.angle == 0 { // the saw swings far enough and reaches too short; a block of the whole angle changes nothing
		return b, nil
	}
	kit, ps := m.plates(jig.Want{Key: "angle-block", Unit: u.index, Angle: b.angle})
	if len(ps) > 0 {
		return block{}, ps
	}
	for i := range kit {
		j := &kit[i]
		if j.Build == nil {
			continue
		}
		b.nose = j.Build.Stop.Y
		b.use = m.use(j, "turns the board "+deg(b.angle)+" from the fence")
		b.foot = footOf(j.Build)
		return b, nil
	}
	return block{}, nil
}

// footOf returns where the fence edge of a jig begins and ends along the fence.
func footOf(b *jig.Build) [2]float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, e := range b.Fence {
		lo, hi = min(lo, e.A.X, e.B.X), max(hi, e.A.X, e.B.X)
	}
	return [2]float64{lo, hi}
}

// cradleFor returns a cradle for a unit, and what it would need where it cannot
// be had.
func (m *maker) cradleFor(u *unit, key string) (c cradle, need string) {
	if !m.makes(key) {
		return c, key + " in the list under [jigs] make"
	}
	kit, ps := m.plates(jig.Want{Key: key, Unit: u.index})
	if len(ps) > 0 {
		return c, "a cradle that can be made: " + ps[0].Why
	}
	seg := u.Segment
	for i := range kit {
		j := &kit[i]
		if j.Build == nil || len(j.Build.Layers) == 0 {
			continue
		}
		switch j.Hand {
		case "left":
			c.left = m.use(j, "holds the work right up to the blade")
			c.lies = geom.Place{Turn: 90*geom.Degree + seg.Tip/2, Move: j.Build.Stop}
			if u.From != nil {
				c.lies.Turn = 90*geom.Degree + seg.Center/2
			}
			c.foot = footOf(j.Build)
			c.carries = j.Build.Offcut
		case "right":
			c.right = m.use(j, "holds the work right up to the blade")
		}
	}
	c.own = func(t geom.Place) geom.Place { return t }
	c.near, c.far = valley(seg, 1), valley(seg, -1)
	cut := cutting{}
	if u.From != nil {
		tip := geom.Pt(seg.Length, 0)
		c.own = func(t geom.Place) geom.Place {
			return geom.Place{Turn: t.Turn + 180*geom.Degree, Move: t.Point(tip)}
		}
		c.notch, c.near, c.far = tip, c.far, c.near
		cut = u.facetCuts()[0]
	} else {
		cut = u.tipCuts()[0]
	}
	reach := 0.0
	for _, right := range []bool{false, true} {
		reach = max(reach, m.reachOf(u, cut, m.cradled(c, right)))
	}
	if !m.reaches(reach) {
		return c, m.tooShort(u, reach)
	}
	return c, ""
}

// makeKit makes the plates of all jigs that the route uses and those that the
// job names besides.
func (m *maker) makeKit() problem.List {
	wants := m.out.Wants
	for _, k := range m.Named {
		if !slices.ContainsFunc(wants, func(w jig.Want) bool { return w.Key == k }) {
			wants = append(wants, jig.Named([]string{k})...)
		}
	}
	if len(wants) == 0 {
		return nil
	}
	kit, ps := m.kits.Kit(wants)
	if len(ps) > 0 {
		return ps
	}
	m.out.Wants, m.out.Kit = wants, kit
	return nil
}

// plateUses lists the plates of one kind for a unit that are made.
func (m *maker) plateUses(key string, u *unit) []route.JigUse {
	var out []route.JigUse
	for i := range m.out.Kit {
		if j := &m.out.Kit[i]; j.Key == key && (len(j.For) == 0 || slices.Contains(j.For, u.Unit)) {
			use := m.use(j, "holds the segments while the glue sets")
			use.Beside = true
			out = append(out, use)
		}
	}
	return out
}
