package choose

import (
	"fmt"
	"math"
	"slices"

	"starwright/geom"
	"starwright/geom/route"
)

// layFacets adds the set-ups for the facets of a unit at a stage.
func (m *maker) layFacets(u *unit, stage route.Stage) {
	n := u.pieces(stage)
	if n == 0 {
		return
	}
	kind, what := route.Facet, "facets"
	if u.From != nil {
		kind, what = route.PairFacet, "facets of the pairs"
	}
	hs, cuts, err := m.hold(u, u.facets, u.facetCuts(), true)
	if err != nil {
		m.errs = append(m.errs, err)
		return
	}
	if u.From != nil {
		cuts[1].final = points(u.Segment.Outline())
	}
	for i, h := range hs {
		s := m.setup(u, kind, sawOf(h.method), what+", "+nth(i)+" side"+u.stageWords(stage), stage)
		s.Count, s.Of, s.Pieces = n, "cuts", n
		if err := m.sawn(s, u, cuts[i], h); err != nil {
			m.errs = append(m.errs, err)
		}
		m.facetWords(u, s, i, stage)
	}
}

func nth(i int) string {
	if i == 0 {
		return "first"
	}
	return "second"
}

// turned says what is turned before the second of two cuts.
func turned(s *route.Setup) string {
	switch s.Method {
	case route.Cradled:
		return "Nothing is turned: the show face stays up. Change to the other cradle."
	case route.ByHand:
		return ""
	}
	return "Turn each piece over about its length: show face " + upDown(s.Hold) + ", the same end to the blade."
}

// facetWords says how facets are cut.
func (m *maker) facetWords(u *unit, s *route.Setup, i int, stage route.Stage) {
	things := "blanks"
	if u.From != nil {
		things = "pairs"
	}
	if i == 1 {
		s.TurnBefore = turned(s)
	}
	m.sawWords(u, s)
	switch s.Method {
	case route.Direct:
		s.SetUp = append(s.SetUp, "Lay the board's edge against the fence, its far end at the stop.")
	case route.OnBlock:
		s.SetUp = append(s.SetUp,
			"Clamp the block with its long straight edge against the fence, its nose towards the blade.",
			"Screw a batten along its sloping edge and a stop to that, measured along the slope from the nose.")
	case route.OnEdge:
		s.SetUp = append(s.SetUp, "Lay the outer edge that the tip cut made against the fence, the tip at the stop; push it there lightly.")
	case route.Cradled:
		s.SetUp = append(s.SetUp, "Push the tip home in the notch and clamp the pair.")
	case route.ByHand:
		s.SetUp = append(s.SetUp, drawFacet(u, s))
	}
	verb := "Cut"
	if s.Method == route.ByHand {
		verb = "Saw beside the line, and plane to it:"
	}
	s.Steps = append(s.Steps, fmt.Sprintf("%s the %s facet of %s, show face %s.", verb, nth(i), plural(s.Pieces, things[:len(things)-1], things), upDown(s.Hold)))
	if i == 1 {
		s.Readings = append(s.Readings, angle(route.ReadAngle, u.Segment.Center, u.Segment.Facet))
		s.Measure = append(s.Measure, fmt.Sprintf("The two facets meet in a point on the middle line, %s between them.", deg(u.Segment.Center)))
	}
	if stage == route.Rest {
		s.Steps = append([]string{"Try that star now, on the page of the test fit. Then cut the others in the same way, with its correction."}, s.Steps...)
	}
}

// drawFacet says how the line of a facet that is cut by hand is drawn.
func drawFacet(u *unit, s *route.Setup) string {
	along, other := s.Readings[0].Printed, s.Readings[1].Printed
	if u.From != nil {
		return fmt.Sprintf("Mark %s along the outer edge and %s along the joint, both from the tip. Join the two marks with a line on the show face, and square it down both ends.", along, other)
	}
	return fmt.Sprintf("Mark %s along the edge from the squared end, and %s across that end from the same edge. Join the two marks with a line on the show face, and square it down both ends.", along, other)
}

func upDown(h *route.Hold) string {
	if h != nil && h.ShowFaceDown {
		return "down"
	}
	return "up"
}

// sawWords adds what holds for every cut on the saw.
func (m *maker) sawWords(u *unit, s *route.Setup) {
	if s.Machine != route.MitreSaw {
		s.Cautions = append(s.Cautions, "Hold the work in a vice or against a bench hook; keep both hands behind the edge.")
		return
	}
	if m.Shop.Reach <= 0 {
		s.SetUp = append(s.SetUp, "Look whether your saw reaches that far from the fence.")
	}
	s.Cautions = append(s.Cautions,
		"Clamp the work; hands stay out of the path of the blade.",
		"Let the blade stop before you lift it or reach for the off-cut.")
	far := 0.0
	for _, p := range s.Piece.Before {
		for _, q := range s.Piece.Before {
			far = max(far, p.Dist(q))
		}
	}
	const longest = 600.0 // mm; common practice, no source
	if far > longest {
		s.Support = fmt.Sprintf("Under the far end, at the height of the saw's table: the piece is %s long.", u.Format(far))
	}
}

// layTips adds the set-ups for the tips of a unit.
func (m *maker) layTips(u *unit) {
	hs, cuts, err := m.hold(u, u.tips, u.tipCuts(), false)
	if err != nil {
		m.errs = append(m.errs, err)
		return
	}
	cuts[1].final = points(u.Segment.Outline())
	for i, h := range hs {
		if u.small != nil {
			cuts[i].falls = []string{route.PieceFirstOffcut, route.PieceSecondOffcut}[i]
		}
		s := m.setup(u, route.Tip, sawOf(h.method), "tips, "+nth(i)+" side", route.All)
		s.Count, s.Of, s.Pieces = u.Segments(), "cuts", u.Segments()
		if err := m.sawn(s, u, cuts[i], h); err != nil {
			m.errs = append(m.errs, err)
		}
		m.tipWords(u, s, i)
	}
}

// tipWords says how tips are cut.
func (m *maker) tipWords(u *unit, s *route.Setup, i int) {
	if i == 1 {
		s.TurnBefore = turned(s)
	}
	m.sawWords(u, s)
	switch s.Method {
	case route.OnFacet:
		s.SetUp = append(s.SetUp, "Lay a finished facet against the fence, the star's centre at the stop, and clamp the segment.")
	case route.Cradled:
		s.SetUp = append(s.SetUp, "Push both facets home in the notch and clamp the segment.")
		if u.tips.cradle.carries != "" {
			s.Support = "The " + u.tips.cradle.carries + " carries the off-cut."
		}
	case route.ByHand:
		s.SetUp = append(s.SetUp, fmt.Sprintf("Mark the tip on the middle line, %s from the star's centre, and draw a line from the valley to it.", s.Readings[0].Printed))
	}
	verb := "Cut"
	if s.Method == route.ByHand {
		verb = "Saw beside the line, and plane to it:"
	}
	s.Steps = append(s.Steps, fmt.Sprintf("%s the %s edge of the tip of %s, show face %s.", verb, nth(i), plural(s.Pieces, "segment", "segments"), upDown(s.Hold)))
	if u.small != nil {
		s.Steps = append(s.Steps, "Mark the off-cuts' show faces and keep the two of each segment together: they become the second star.")
	}
	if i == 1 {
		s.Readings = append(s.Readings, u.plain(route.ReadLength, u.Segment.Length))
		s.Measure = append(s.Measure, "The tip comes out on the middle line.")
	}
}

// layPairs adds the set-up that glues the off-cuts to pairs.
func (m *maker) layPairs(u *unit) {
	s := m.setup(u, route.GluePairs, route.Hand, "glue the tip off-cuts to pairs", route.All)
	s.Count, s.Of, s.Pieces = u.Segments(), "pairs", u.Segments()
	a, b := pairPlaces(u.Unit)
	s.Join = &route.Join{Makes: route.PiecePair, After: tidy(u.before()), Parts: []route.JoinPart{
		{Kind: route.PieceFirstOffcut, At: a}, {Kind: route.PieceSecondOffcut, At: b}}}
	t := u.Segment.Tip
	s.Readings = []route.Reading{angle(route.ReadAngle, t, u.Segment.Edge), u.plain(route.ReadLength, u.Segment.Length)}
	s.SetUp = []string{
		"Lay the two off-cuts of one blank board edge to board edge, show faces up, sharp ends together.",
		u.lossWords(),
	}
	switch w := u.Spec.Woods; {
	case u.Halved():
		s.SetUp[0] = fmt.Sprintf("Lay the two off-cuts of one blank board edge to board edge, show faces up, sharp ends together: one is %s and the other %s, and the off-cut star is of two woods like the one it comes from.", w[0], w[1])
	case u.TwoWoods():
		s.SetUp = append(s.SetUp, fmt.Sprintf("Keep pairs of %s and pairs of %s apart: the off-cut star takes them by turns.", w[0], w[1]))
	}
	s.Steps = []string{
		"Stretch tape across the joint on the show face, turn the pair over, open it like a hinge, glue, close it, and tape the other face. Lay it flat under a weight.",
		"Clamps slide off the taper: where tape is not enough, clamp the pair between two waste wedges of the facet cuts, thick end against thin.",
	}
	s.Measure = []string{
		fmt.Sprintf("The outer edges stand at %s, and the sharp ends are level.", deg(t)),
		m.shortPair(u),
	}
}

// shortPair says what to do with pairs that have lost length: the cuts are set
// so much nearer to their tips. A parallel line moves along an outer edge as the
// edge's length to the whole length, and work in a notch as the papers on both
// sides to the sine of half its angle.
func (m *maker) shortPair(u *unit) string {
	s := u.Segment
	const lost = 1.0 // mm, or a line of the rule
	by := lost
	if u.Spec.Unit == geom.Inch {
		by = geom.MMPerInch / 32
	}
	how := ""
	switch u.facets.way {
	case route.Cradled:
		how = fmt.Sprintf("lay %s of paper along both sides of the notch", u.FormatFine(by*(s.Tip/2).Sin()))
	case route.ByHand:
		how = fmt.Sprintf("mark %s less along the outer edge and %s less along the joint", u.FormatFine(by*s.Edge/s.Length), u.Format(by))
	default:
		how = fmt.Sprintf("set the stop %s nearer to the line of cut", u.FormatFine(by*s.Edge/s.Length))
	}
	return fmt.Sprintf("The shortest joint is %s or longer. For each %s that it is shorter %s, for all pairs: the star comes out smaller, and closes.",
		u.Format(s.Length), u.Format(by), how)
}

// lossWords says what may be planed off the edges that are glued. An edge that
// loses a shaving moves the pair's tip along it by the shaving over the tangent
// of half the tip's angle.
func (u *unit) lossWords() string {
	long := 0.0
	for _, p := range u.before() {
		long = math.Max(long, u.Segment.Length-p.X)
	}
	spare := long - u.Segment.Length
	const worth = 0.2 // mm of spare that are worth a word
	if spare < worth {
		return "Plane no more than a shaving off an edge that does not close: it shortens the pair."
	}
	return fmt.Sprintf("Plane no more than %s off an edge that does not close: the pairs are %s longer than the off-cut star takes.", u.FormatFine(spare*(u.Segment.Tip/2).Tan()), u.FormatFine(spare))
}

// layTest adds the test fit of the first star of a unit.
func (m *maker) layTest(u *unit) {
	s := m.setup(u, route.TestFit, route.Hand, "test fit of the first star", route.FirstStar)
	s.Count, s.Of, s.Pieces = 1, "star", u.Points
	s.Steps = []string{
		"Lay the segments of the first star together dry on a flat board, show faces up.",
		"Press all joints shut but one, and look at that: shut all along, it is right.",
		"Open at the valley: the angles are too small. Open at the centre: they are too large. Correct both sides as the page says, for the other stars, and cut this one again where there are spare blanks.",
	}
	if round := u.roundWords(); round != "" {
		s.Steps = slices.Insert(s.Steps, 1, round)
	}
}
