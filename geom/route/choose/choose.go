package choose

import (
	"fmt"
	"math"
	"slices"

	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/problem"
	"starwright/geom/route"
	"starwright/geom/star"
)

// Where methods end. Common practice, no source.
const (
	leastOnFence = 50.0 // mm of finished edge against the fence that still hold a piece
	angleSlack   = geom.Angle(1e-9)
)

// maker works out one route.
type maker struct {
	Given
	units []*unit
	kits  *jig.Kits
	out   Result
	worth map[*star.Unit]map[string]jig.Choice // of each star from boards: whether a kind of jig saves more time than it takes
	errs  []error

	correct *Correct // of the facets of a unit, after a test fit
}

// unit is a star of the order with its place in it.
type unit struct {
	*star.Unit
	printer
	index int
	name  string // "" where there is one star
	small *unit  // from its off-cuts
	from  *unit  // whose off-cuts it is made of

	facets, tips method
	slots        slotWay
	strips       *Lamination
}

// facetGain and tipGain say how far a corner moves for a mm that a facet or a
// tip cut is off, both cuts being off alike. A tip that is cut by hand to a line from
// the valley is off in its angle by what the facet has moved the valley, and so are
// the facets of a star from the off-cuts.
func (u *unit) facetGain() float64 {
	gain := 1 / (u.Segment.Center / 2).Sin()
	if s := u.small; s != nil && u.tips.way == route.ByHand {
		gain *= max(1, 2*float64(s.Points)*(u.Segment.Tip/2).Sin()*s.Segment.Edge/u.Segment.Edge)
	}
	return gain
}
func (u *unit) tipGain() float64 { return 1 / (u.Segment.Tip / 2).Sin() }

// angleGain is by how much the angle of a facet counts: no less than its corner
// moves, and so much that the two facets of all segments together leave the last
// joint no further open than two corners may move.
func (u *unit) angleGain() float64 { return max(u.facetGain(), float64(u.Points)) }

// tipReach is how far the angle of a tip cut counts, mm: over the outer edge, and
// where a pair of off-cuts lies by that edge when its facets are cut, over those. Where
// they are cut to marks along that edge, a mark is off by as much as the edge is there.
func (u *unit) tipReach() float64 {
	reach := u.Segment.Edge * u.tipGain()
	if u.small != nil {
		long := u.small.Segment.Facet
		if u.small.facets.way == route.ByHand {
			long = u.small.Segment.Edge
		}
		reach = max(reach, long*u.small.angleGain())
	}
	return reach
}

// method is how facets or tips of a unit are cut.
type method struct {
	way    route.Method
	mirror bool // the arm swings the other way
	block  block
	cradle cradle
}

// New works out the route, or says what the shop cannot do.
func New(j Given) (*Result, problem.List) {
	m, problems := newMaker(j)
	if len(problems) > 0 {
		return nil, problems
	}
	m.lay()
	if len(m.errs) > 0 {
		return nil, problem.List{{Key: "shop.has", Why: m.errs[0].Error()}}
	}
	return &m.out, nil
}

// newMaker settles the methods, or says what the shop cannot do.
func newMaker(j Given) (*maker, problem.List) {
	m := &maker{Given: j, kits: jig.NewKits(j.Order, j.Jigs)}
	several := len(j.Order.FromBoards()) > 1
	for i, u := range j.Order.Units {
		v := &unit{Unit: u, printer: printer{u.Spec.Unit}, index: i}
		if several || u.From != nil {
			v.name = u.Words("star")
		}
		m.units = append(m.units, v)
	}
	for _, u := range m.units {
		if u.From == nil {
			continue
		}
		for _, v := range m.units {
			if v.Unit == u.From {
				u.from, v.small = v, u
			}
		}
	}
	return m, m.methods()
}

// methods settles how each operation is done.
func (m *maker) methods() problem.List {
	m.kits.Ahead(m.ahead()...)
	m.price()
	if m.Flat != nil {
		m.flatMethods()
	}
	for _, u := range m.units {
		if m.Strips != nil && u.From == nil {
			u.strips = m.Strips(u.Unit)
		}
		if ps := m.outlineMethods(u); len(ps) > 0 {
			return ps
		}
		if ps := m.slotMethod(u); len(ps) > 0 {
			return ps
		}
	}
	m.glueMethod()
	m.hangMethod()
	return m.makeKit()
}

// ahead is the jigs that are asked for in any case: half of all that is made, beside
// what is priced first.
func (m *maker) ahead() (keys []string) {
	from := func(u *unit) bool { return u.From != nil }
	if m.Named == nil && m.Shop.MitreSaw && m.Flat == nil && len(m.Order.FromBoards()) == 1 && slices.ContainsFunc(m.units, from) {
		keys = append(keys, "offcut-cradle")
	}
	if m.Shop.CNC && slices.ContainsFunc(m.units, func(u *unit) bool { return u.Slot != nil }) {
		keys = append(keys, "slot-stand")
	}
	return keys
}

// outlineMethods settles how the outline of a unit's segments is sawn.
func (m *maker) outlineMethods(u *unit) problem.List {
	if m.Flat != nil {
		return nil
	}
	if ps := m.facetMethod(u); len(ps) > 0 {
		return ps
	}
	if u.From == nil {
		m.tipMethod(u)
	}
	return nil
}

// price settles which jigs are worth making where the work can be done without.
func (m *maker) price() {
	m.worth = map[*star.Unit]map[string]jig.Choice{}
	if m.Named != nil {
		return // the job says itself what is made
	}
	boards := m.Order.FromBoards()
	for _, u := range boards {
		kits := m.kits
		if len(boards) > 1 {
			kits = jig.NewKits(m.Order.Only(u), m.Jigs)
		}
		m.worth[u] = map[string]jig.Choice{}
		for _, c := range kits.Default(jig.Shop{MitreSaw: m.Shop.MitreSaw && m.Flat == nil, CNC: m.Shop.CNC, RouterTable: m.Shop.RouterTable}) {
			m.worth[u][c.Key] = c
		}
	}
}

// worthOf says whether a jig pays for a star; for one from off-cuts with the star
// that they are from.
func (m *maker) worthOf(u *unit, key string) jig.Choice {
	if u.From != nil {
		return m.worth[u.From][key]
	}
	return m.worth[u.Unit][key]
}

// pays reports whether a jig that a star does not need is made all the same.
func (m *maker) pays(u *unit, key string) bool { return m.worthOf(u, key).Make || m.named(key) }

// named reports whether the job asks for a jig by its name.
func (m *maker) named(key string) bool {
	for _, k := range m.Named {
		if k == key {
			return true
		}
	}
	return false
}

// choice notes how an operation is done.
func (m *maker) choice(u *unit, operation, how, why, next string) {
	c := route.Choice{Operation: operation, Method: how, Why: why, Next: next}
	if u != nil {
		c.Star = u.name
	}
	m.out.Route.Choices = append(m.out.Route.Choices, c)
}

// swings reports whether the arm can swing so far, and whether the set-up must
// be mirrored for it: way is the lean of the line of cut, see [held].
func (m *maker) swings(way geom.Angle) (mirror, ok bool) {
	if geom.Angle(math.Abs(float64(way))) > m.Shop.MaxMiter+angleSlack {
		return false, false
	}
	side := swing(way)
	return m.Shop.Swing != "" && side != "" && side != m.Shop.Swing, true
}

// reaches reports whether the saw reaches so far, as far as is known.
func (m *maker) reaches(mm float64) bool { return m.Shop.Reach <= 0 || mm <= m.Shop.Reach+near }

// tooShort says what a cut would need.
func (m *maker) tooShort(u *unit, mm float64) string {
	return fmt.Sprintf("a saw that reaches %s", u.Format(u.Ceil(mm)))
}

// facetMethod settles how the facets of a unit are cut.
func (m *maker) facetMethod(u *unit) problem.List {
	if u.From != nil {
		m.pairMethod(u)
		return nil
	}
	miter := u.Segment.CenterMiter()
	hand := "hand saw to the line, then plane to it on a shooting block"
	if !m.Shop.MitreSaw {
		u.facets.way = route.ByHand
		m.choice(u, "facets", hand, "the shop has no mitre saw", m.sawNext(u))
		return nil
	}
	cut := u.facetCuts()[0]
	next := ""
	if mirror, ok := m.swings(-miter); ok {
		u.facets = method{way: route.Direct, mirror: mirror}
		reach := m.reachOf(u, cut, m.direct(u, false))
		if m.reaches(reach) {
			m.choice(u, "facets", "mitre saw at "+deg(miter)+", board's edge against the fence", "the saw swings so far", "")
			return nil
		}
		next = m.tooShort(u, reach)
	} else {
		next = "a saw that swings to " + deg(miter)
	}
	b, ps := m.blockFor(u)
	if len(ps) == 0 && b.angle > 0 {
		h := m.onBlock(u, b, false)
		mirror, _ := m.swings(h.way)
		reach := m.reachOf(u, cut, h)
		if m.reaches(reach) {
			u.facets = method{way: route.OnBlock, block: b, mirror: mirror}
			m.want(jig.Want{Key: "angle-block", Unit: u.index, Angle: b.angle})
			m.choice(u, "facets", fmt.Sprintf("mitre saw at %s, board against an angle block of %s", deg(b.setting), deg(b.angle)),
				fmt.Sprintf("a facet needs %s and the saw swings to %s", deg(miter), deg(m.Shop.MaxMiter)), "without the block: "+next)
			return nil
		}
		next = m.tooShort(u, reach)
	} else if len(ps) > 0 {
		if m.named("angle-block") {
			return ps
		}
		next = "an angle block, which does not fit: " + ps[0].Why
	}
	u.facets.way = route.ByHand
	m.choice(u, "facets", hand, "the saw cannot make this cut", next)
	return nil
}

// reachOf returns how far from the fence a cut must go.
func (m *maker) reachOf(u *unit, c cutting, h held) float64 {
	fall := -u.Spec.Kerf
	if h.left {
		fall = u.Spec.Kerf
	}
	return reachOn(placed(c.before, h.place), ray(h.from, h.lean), fall)
}

// tipMethod settles how the tips of a unit are cut.
func (m *maker) tipMethod(u *unit) {
	hand := "hand saw to the line, then plane to it"
	if !m.Shop.MitreSaw {
		u.tips.way = route.ByHand
		m.choice(u, "tips", hand, "the shop has no mitre saw", m.sawNext(u))
		return
	}
	facet, need := m.onFenceMethod(u, u.tipCuts()[0], u.Segment.Facet, m.onFacet)
	c, needCradle := m.cradleFor(u, "tip-cradle")
	wanted := m.pays(u, "tip-cradle")
	cradle := method{way: route.Cradled, cradle: c}
	s := 90*geom.Degree - u.Segment.Center/2 - u.Segment.Tip/2
	switch {
	case needCradle == "" && (wanted || need != ""):
		u.tips = cradle
		why := m.worthOf(u, "tip-cradle").Why
		if need != "" {
			why, need = "with a facet against the fence it would need "+need, ""
		} else if m.named("tip-cradle") {
			why = "the job asks for the cradle"
		}
		m.wantCradle(u, "tip-cradle")
		m.choice(u, "tips", "mitre saw at 0°, segment in the tip cradle", why, need)
	case need == "":
		u.tips = facet
		if needCradle == "" && m.worthOf(u, "tip-cradle").From > 0 {
			needCradle = fmt.Sprintf("%d stars: a cradle pays from then on", m.worthOf(u, "tip-cradle").From)
		}
		m.choice(u, "tips", "mitre saw at "+deg(s)+", a finished facet against the fence", "the facet holds it", needCradle)
	default:
		u.tips.way = route.ByHand
		m.choice(u, "tips", hand, "the saw cannot make this cut", need+", or "+needCradle)
	}
}

// onFenceMethod tries a cut with a finished edge of some length against the
// fence, and says what it would need where it cannot be had.
func (m *maker) onFenceMethod(u *unit, c cutting, edge float64, how func(*unit, bool) held) (method, string) {
	h := how(u, false)
	mirror, ok := m.swings(h.way)
	if !ok {
		return method{}, "a saw that swings to " + deg(geom.Angle(math.Abs(float64(h.way))))
	}
	if edge < leastOnFence {
		return method{}, fmt.Sprintf("an edge of %s to hold it by (this one has %s)", u.Format(u.Ceil(leastOnFence)), u.Format(edge))
	}
	if reach := m.reachOf(u, c, h); !m.reaches(reach) {
		return method{}, m.tooShort(u, reach)
	}
	return method{way: h.method, mirror: mirror}, ""
}

// pairMethod settles how the facets of a star from off-cuts are cut.
func (m *maker) pairMethod(u *unit) {
	hand := "hand saw to the line, then plane to it on a shooting block"
	if !m.Shop.MitreSaw {
		u.facets.way = route.ByHand
		m.choice(u, "facets", hand, "the shop has no mitre saw", "a mitre saw")
		return
	}
	edge, need := m.onFenceMethod(u, u.facetCuts()[0], u.Segment.Edge, m.onTipEdge)
	c, needCradle := m.cradleFor(u, "offcut-cradle")
	wanted := m.pays(u, "offcut-cradle")
	s := 90*geom.Degree - u.Segment.Center/2 - u.Segment.Tip/2
	switch {
	case needCradle == "" && (wanted || need != ""):
		u.facets = method{way: route.Cradled, cradle: c}
		why := m.worthOf(u, "offcut-cradle").Why
		if m.named("offcut-cradle") {
			why = "the job asks for the cradle"
		}
		if need != "" {
			why, need = "with an outer edge against the fence it would need "+need, ""
		}
		m.wantCradle(u, "offcut-cradle")
		m.choice(u, "facets", "mitre saw at 0°, pair in the off-cut cradle", why, need)
	case need == "":
		u.facets = edge
		m.choice(u, "facets", "mitre saw at "+deg(s)+", an outer edge against the fence", "the outer edge holds it", needCradle)
	default:
		u.facets.way = route.ByHand
		m.choice(u, "facets", hand, "the saw cannot make this cut", need+", or "+needCradle)
	}
}
