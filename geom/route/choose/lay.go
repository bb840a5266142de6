package choose

import (
	"fmt"
	"strings"

	"starwright/geom"
	"starwright/geom/route"
)

// setup adds a set-up to the route, named in words.
func (m *maker) setup(u *unit, kind route.Kind, machine route.Machine, what string, stage route.Stage) *route.Setup {
	s := route.Setup{Kind: kind, Machine: machine, Stage: stage, Name: what, Group: string(kind)}
	if u != nil {
		s.Unit = u.index
		s.Star = u.Spec.Name
		if u.name != "" {
			s.Name, s.Group = u.name+": "+what, u.name+" "+s.Group
		}
	}
	m.out.Route.Setups = append(m.out.Route.Setups, s)
	return &m.out.Route.Setups[len(m.out.Route.Setups)-1]
}

// sawOf is the machine of a cut that is made in some way.
func sawOf(way route.Method) route.Machine {
	if way == route.ByHand {
		return route.Hand
	}
	return route.MitreSaw
}

// boards and small return the units from boards and those from off-cuts.
func (m *maker) boards() (out []*unit) {
	for _, u := range m.units {
		if u.from == nil {
			out = append(out, u)
		}
	}
	return out
}

func (m *maker) smalls() (out []*unit) {
	for _, u := range m.units {
		if u.from != nil {
			out = append(out, u)
		}
	}
	return out
}

// lay writes the set-ups in the order of work: what is set up once is used for
// all stars of the order, and no facet of the batch is cut before one star was
// tried.
func (m *maker) lay() {
	m.layJigs()
	for _, u := range m.units {
		m.layPlates(u)
	}
	if m.Flat != nil {
		m.layFlat()
	} else {
		m.laySawn()
	}
	for _, u := range m.units {
		m.laySlots(u)
	}
	for _, u := range m.units {
		m.laySplines(u)
	}
	for _, u := range m.units {
		m.layGlue(u)
	}
	if len(m.boards()) > 1 {
		keep(m.out.Route.Setups)
	}
	for i := range m.out.Route.Setups {
		if s := &m.out.Route.Setups[i]; s.Count == 1 {
			s.Of = one(s.Of)
		}
	}
}

// laySawn adds the set-ups that saw the segments.
func (m *maker) laySawn() {
	for _, u := range m.boards() {
		m.layRip(u)
	}
	for _, u := range m.boards() {
		m.layWood(u)
	}
	for _, stage := range []route.Stage{route.FirstStar, route.Rest} {
		for _, u := range alike(m.boards(), facetSetting) {
			m.layFacets(u, stage)
		}
		if stage == route.FirstStar {
			for _, u := range m.boards() {
				m.layTest(u)
			}
		}
	}
	for _, u := range alike(m.boards(), tipSetting) {
		m.layTips(u)
	}
	for _, u := range m.smalls() {
		m.layPairs(u)
	}
	for _, stage := range []route.Stage{route.FirstStar, route.Rest} {
		for _, u := range alike(m.smalls(), facetSetting) {
			m.layFacets(u, stage)
			if stage == route.FirstStar {
				m.layTest(u)
			}
		}
	}
}

// one is what a single one of things is called.
func one(things string) string {
	if things == "halves" {
		return "half"
	}
	if of, ok := strings.CutPrefix(things, "pieces "); ok {
		return "piece " + of
	}
	return strings.TrimSuffix(things, "s")
}

// pieces returns how many segments of a unit are cut at a stage.
func (u *unit) pieces(stage route.Stage) int {
	switch stage {
	case route.FirstStar:
		return u.Points
	case route.Rest:
		return u.Segments() - u.Points
	}
	return u.Segments()
}

// stageWords says for which part of the batch a set-up is.
func (u *unit) stageWords(stage route.Stage) string {
	if stage == route.FirstStar && u.Count() > 1 {
		return ", the first star"
	}
	if stage == route.Rest {
		return ", the other stars"
	}
	return ""
}

// facetCuts returns the two cuts of the facets: of a segment the one that leaves
// the left or the right facet first is cut from the blank, the other one from
// what that leaves. The order of the two is settled when they are laid.
func (u *unit) facetCuts() []cutting {
	return u.cuts(func(side float64) line {
		v := valley(u.Segment, side)
		if side > 0 {
			return line{v, geom.Point{}}
		}
		return line{geom.Point{}, v}
	}, u.before(), u.piece())
}

// tipCuts returns the two cuts of the tip.
func (u *unit) tipCuts() []cutting {
	s := u.Segment
	v := s.Valley()
	body := []geom.Point{{}, {X: v.X, Y: -v.Y}, {X: u.Blank.Length, Y: -v.Y}, {X: u.Blank.Length, Y: v.Y}, v}
	return u.cuts(func(side float64) line {
		w, tip := valley(s, side), geom.Pt(s.Length, 0)
		if side > 0 {
			return line{tip, w}
		}
		return line{w, tip}
	}, body, route.PieceSegment)
}

// cuts returns the cut of the left side and that of the right one, both from
// the uncut piece.
func (u *unit) cuts(at func(side float64) line, before []geom.Point, piece string) []cutting {
	var out []cutting
	for _, side := range []float64{1, -1} {
		out = append(out, cutting{piece: piece, before: tidy(before), line: at(side)})
	}
	return out
}

// before returns what the facets of a unit are cut from.
func (u *unit) before() []geom.Point {
	if u.From != nil {
		return pairOf(u.Unit)
	}
	return blankOf(u.Unit)
}

// piece is the kind of piece that becomes a segment of the unit.
func (u *unit) piece() string {
	if u.From != nil {
		return route.PiecePair
	}
	return route.PieceSegment
}

// inOrder puts two cuts in the order in which they are made, the left one or the
// right one first, and lets the second begin with what the first leaves.
func inOrder(cuts []cutting, leftFirst bool) []cutting {
	a, b := cuts[0], cuts[1]
	if !leftFirst {
		a, b = b, a
	}
	b.before = a.after()
	return []cutting{a, b}
}

// fits reports whether a cut lies on the line of cut of a way to hold the work.
func fits(c cutting, h held) bool {
	const same = 1e-5
	l := ray(h.from, h.way)
	for _, p := range []geom.Point{c.line.a, c.line.b} {
		if d := l.off(h.exact.Point(p)); d > same || d < -same {
			return false
		}
	}
	return true
}

// hold returns how the first and the second of two cuts are held, and the cuts
// in this order: the first with the show face up, unless the off-cuts are to fall
// the other way round.
func (m *maker) hold(u *unit, way method, cuts []cutting, facets bool) ([]held, []cutting, error) {
	var hs []held
	for _, second := range []bool{false, true} {
		down := second
		if way.mirror {
			down = !second
		}
		var h held
		switch way.way {
		case route.Direct:
			h = m.direct(u, down)
		case route.OnBlock:
			h = m.onBlock(u, way.block, down)
		case route.OnFacet:
			h = m.onFacet(u, down)
		case route.OnEdge:
			h = m.onTipEdge(u, down)
		case route.Cradled:
			h = m.cradled(way.cradle, second)
		case route.ByHand:
			cs := cuts
			if second {
				cs = inOrder(cuts, true)[1:]
			}
			h = m.byHand(u, cs[0], facets)
		}
		if m.correct != nil && facets && m.correct.Unit == u.index {
			for _, c := range cuts {
				if way.way == route.ByHand && c.side() > 0 == second || way.way != route.ByHand && !fits(c, h) {
					continue
				}
				var err error
				if h, err = m.corrected(u, c, h); err != nil {
					return nil, nil, err
				}
				break
			}
		}
		if way.mirror {
			h = h.mirror()
		}
		hs = append(hs, h)
	}
	if way.way == route.ByHand {
		return hs, inOrder(cuts, true), nil
	}
	for _, left := range []bool{true, false} {
		o := inOrder(cuts, left)
		if first := hs[0]; first.side > 0 == left || first.side == 0 && fits(o[0], first) && fits(o[1], hs[1]) {
			if !left && !facets && u.small != nil {
				// The model of the off-cuts frees the left one first.
				hs[0], hs[1] = hs[1], hs[0]
				o = inOrder(cuts, true)
			}
			return hs, o, nil
		}
	}
	return nil, nil, fmt.Errorf("route: no cut of the %s lies on the line of cut", u.Words("segment"))
}

// side returns the side of the piece on which a cut is made, 1 left or -1
// right.
func (c cutting) side() float64 {
	if c.line.a.Y < -near || c.line.b.Y < -near {
		return -1
	}
	return 1
}

// markGain is the gain of a mark for a facet by hand. Two marks set a facet's angle,
// and the errors of all facets add up in the star's last joint: four marks a point,
// which together open it by four times [tolerance] at most.
func (u *unit) markGain() float64 { return u.facetGain() * float64(u.Points) }

// byHand draws a facet or a tip cut on the work.
func (m *maker) byHand(u *unit, c cutting, facets bool) held {
	s := u.Segment
	side := c.side()
	v := valley(s, side)
	top := 0.0
	for _, p := range c.before {
		top = max(top, p.Y)
	}
	var from, to geom.Point
	var reads []route.Reading
	switch {
	case !facets:
		axis := u.place(route.ReadAxis, s.Length, u.tipReach()/s.Edge*(s.Tip/2).Sin())
		from, to, reads = v, geom.Pt(*axis.MM, 0), []route.Reading{set(axis)}
	case u.From == nil:
		along := u.place(route.ReadAlong, v.X, u.markGain()*(s.Center/2).Sin())
		across := u.place(route.ReadAcross, s.Width/2, u.markGain()*(s.Center/2).Cos())
		from = geom.Pt(*along.MM, side*s.Width/2)
		to = geom.Pt(0, side*(s.Width/2-*across.MM))
		reads = []route.Reading{set(along), set(across)}
	default:
		along := u.place(route.ReadAlong, s.Edge, u.markGain())
		axis := u.place(route.ReadAxis, s.Length, u.markGain())
		tip := geom.Pt(s.Length, 0)
		from = tip.Add(v.Sub(tip).Unit().Mul(*along.MM))
		to = geom.Pt(s.Length-*axis.MM, 0)
		reads = []route.Reading{set(along), set(axis)}
	}
	h := drawn(u, c, top, from, to)
	h.readings = reads
	return h
}
