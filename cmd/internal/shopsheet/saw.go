package shopsheet

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/star"
	"starwright/geom/words"
	"starwright/post/picture"
	"starwright/post/sheet"
)

// viewHigh is the most that a drawing of the saw takes of a page's height, mm.
const viewHigh = 130.0

// room returns how high a drawing may be that leaves so many mm of the page for
// the words below it.
func room(f *sheet.Flow, most, below float64) float64 {
	const least = 60.0
	return math.Max(least, math.Min(most, f.Left()-below))
}

// saws writes a page for each set-up of the saw.
func (m *maker) saws() {
	n := 0
	page := func(what string) *sheet.Flow {
		n++
		return m.doc.Section(fmt.Sprintf("Saw set-up %d: %s", n, what))
	}
	if s := m.strips(); s.Glued() {
		m.stripsToLength(page("strips to length"), s)
		m.gluingPage(s)
	} else {
		m.blanks(page("blanks to length"))
	}
	m.facets(page("facets, at the star's centre"))
	onFacet := m.onFacet()
	if onFacet >= 0 && !m.has("tip-cradle") {
		m.tipsOnFacet(page("the tips"), onFacet)
		return
	}
	m.tipsInCradle(page("the tips, in the cradle"))
	if onFacet >= 0 {
		m.tipsOnFacet(m.doc.Section(fmt.Sprintf("Saw set-up %d, without the cradle: the tips", n)), onFacet)
	}
	if m.small != nil {
		m.offcuts(page("facets of the off-cut stars"))
	}
}

// onFacet returns the saw's setting for tip cuts with a finished facet against
// the fence, from square, or -1 where the saw does not reach it: the board's
// axis then stands at c/2 to the fence and the cut at t/2 to the axis.
func (m *maker) onFacet() geom.Angle {
	s := m.star.Segment
	const slack = 1e-9 // rad, rounding
	a := 90*geom.Degree - s.Center/2 - s.Tip/2
	if a > m.Job.Saw.MaxMiter+slack {
		return -1
	}
	return a
}

func (m *maker) blanks(f *sheet.Flow) {
	b := m.star
	l, w := b.Blank.Length, b.Segment.Width
	facts(f,
		[2]string{"Saw at", "0°, a square cut"},
		[2]string{"Stop", m.say(l) + " from the line of cut, on the same side as the work that stays"},
		[2]string{"To the fence", "either edge; show face up"},
		[2]string{"Cut", fmt.Sprintf("%s, and %d to try the set-ups with", words.Count(b.Blank.Count, "blank", "blanks"), b.Points)})
	f.View(m.blankPanel("blank", w), 78, m.say)
	f.Steps(
		fmt.Sprintf("Plane or rip the boards to %s wide and %s thick, edges straight and parallel: the width sets the size of every star.", m.say(w), m.say(b.Thickness())),
		"Look whether the saw cuts square, both ways: turn the piece over on its edge and cut again; the two cuts must stay parallel.",
		"Square the end of the board, push it against the stop, hold, cut, wait until the blade stands, lift it.",
		"The square end becomes the star's centre. Stack the blanks with that end one way and mark the show face.",
	)
	f.Text(fmt.Sprintf("Blanks that differ by more than %s make stars of which the facets do not meet at one point.", m.u.FormatFine(0.5)))
}

// blankPanel shows a piece as long as a blank and w wide at the stop.
func (m *maker) blankPanel(what string, w float64) picture.Panel {
	l := m.star.Blank.Length
	t := &top{picture.Panel{Name: "seen from above", Room: picture.Room{Above: 1, Below: 1}}}
	span := [2]float64{-0.75 * l, l * 1.12}
	t.saw(0, 0, w*1.25, span)
	kerf := m.Job.Saw.Kerf
	stock := geom.Polygon(geom.Pt(span[0], 0), geom.Pt(-kerf, 0), geom.Pt(-kerf, w), geom.Pt(span[0]*0.97, w))
	blank := geom.Rect(geom.Box{Max: geom.Pt(l, w)})
	t.shape(stock, picture.Facet)
	t.shape(blank, picture.Part)
	t.band(geom.Pt(0, w), geom.Pt(0, 0), -kerf)
	t.stop(geom.Pt(l, 0), 0, w)
	t.within(blank, what+", stays")
	t.within(stock, "board, held")
	t.dim(geom.Pt(0, w), geom.Pt(l, w), picture.Below, "stop "+m.say(l))
	return t.Panel
}

// stop draws a stop whose face meets the work's end at p, for work that lies
// turned by a, w wide.
func (t *top) stop(p geom.Point, a geom.Angle, w float64) {
	deep := w * 0.16
	c := geom.Place{Turn: a, Move: p}.Contour(geom.Rect(geom.Box{Max: geom.Pt(deep, w*0.45)}))
	t.shape(c, picture.Waste)
	t.label(c.Bounds().Center(), "stop", picture.Dot, geom.Pt(-1, -0.3))
}

// facetSetup is how the facets are cut: a block, or none where its angle is 0.
type facetSetup struct {
	block, setting geom.Angle
	outline        geom.Contour // of the block, fence on the X axis
	holes          []geom.Contour
	nose           float64 // height of the block's nose, mm
	title          string
}

// facetSetup takes the block from the jigs.
func (m *maker) facetSetup() facetSetup {
	s := facetSetup{setting: m.star.Segment.CenterMiter()}
	for _, b := range jig.Blocks(m.star.Segment, m.Job.Saw.MaxMiter) {
		if b.Cut != "facet" {
			continue
		}
		s.block, s.setting = b.Angle, b.Setting
		for _, j := range m.blockJigs() {
			for _, seat := range j.Seats {
				if seat.What == "saw fence" || math.Abs(float64(turnOf(seat.Work)-b.Angle)) > 1e-6 {
					continue
				}
				s.outline, s.nose, s.title = j.Outline, seat.Work[0].Y, j.Title
				for _, h := range j.Holes {
					s.holes = append(s.holes, h.Contour)
				}
				return s
			}
		}
	}
	return s
}

// turnOf is the direction of a work's first edge.
func turnOf(c geom.Contour) geom.Angle { return c[1].Point.Sub(c[0].Point).Angle() }

// blockJigs returns the angle blocks of the job, none where it needs none.
func (m *maker) blockJigs() []jig.Jig {
	if len(jig.Blocks(m.star.Segment, m.Job.Saw.MaxMiter)) == 0 {
		return nil
	}
	return m.kit("angle-block")
}

// kit returns the packet's jigs of one kind, or makes them for drawing where
// it has none.
func (m *maker) kit(key string) []jig.Jig {
	var out []jig.Jig
	for _, j := range m.Jigs {
		if j.Key == key {
			out = append(out, j)
		}
	}
	if len(out) > 0 {
		return out
	}
	sh := m.Job.Sheet
	kit, problems := jig.Kit(m.Order, jig.Params{Cutter: m.Order.Cutter, MaxMiter: m.Job.Saw.MaxMiter,
		MaxW: sh.Width - 2*sh.Margin, MaxH: sh.Height - 2*sh.Margin, Thickness: sh.Thickness}, jig.Named([]string{key}))
	if len(problems) > 0 {
		return nil // the packet has said so
	}
	return kit
}

func (m *maker) facets(f *sheet.Flow) {
	b, s := m.star, m.facetSetup()
	seg := b.Segment
	lay := geom.Place{Turn: s.block, Move: geom.Pt(0, s.nose)}
	centre := lay.Point(geom.Pt(0, seg.Width/2))
	foot := centre.X - centre.Y*s.setting.Tan() // of the line of cut, on the fence
	rows := [][2]string{
		{"Saw at", fmt.Sprintf("%s from square (%s in all)", deg(s.setting), deg(seg.CenterMiter()))},
		{"Block", "none: the board's edge lies against the fence"},
		{"Stop", fmt.Sprintf("at the tip end, %s along the fence from where the line of cut meets it", m.say(b.Blank.Length-foot))},
		{"To the fence", "first one edge, then the other"},
		{"Turn over", "yes, along its length, between the two cuts; the same end stays at the blade"},
		{"Cut", fmt.Sprintf("2 facets on each blank, %d cuts", 2*b.Blank.Count)},
	}
	if s.block > 0 {
		rows[1][1] = fmt.Sprintf("%s, its nose %s from the line of cut, measured along the fence", blockName(s), m.say(-foot))
		rows[2][1] = fmt.Sprintf("at the tip end, %s from the block's nose along its sloping face: a batten screwed onto the block carries it", m.say(b.Blank.Length))
		rows[3][1] = "none: first one edge against the block, then the other"
	}
	facts(f, rows...)
	f.View(m.facetPanel(s, lay, foot), room(f, viewHigh, 64), m.say)
	f.Steps(
		"Set up with a try blank: the cut must run through the middle of its square end and leave the end's other half as it is.",
		"Cut the first facet of every blank, show face up. Then turn each over along its length, show face down, and cut the second.",
		fmt.Sprintf("The two facets must meet in a point on the middle of the board, %s between them.", deg(seg.Center)),
	)
	f.Text("Why the blank is turned over: a blade that leans by a hair then leans one way in one facet and the other way in the next, and the joint closes flat all the same.")
}

func blockName(s facetSetup) string {
	if s.title != "" {
		return s.title
	}
	return "angle block " + deg(s.block)
}

func (m *maker) facetPanel(s facetSetup, lay geom.Place, foot float64) picture.Panel {
	b := m.star
	seg, l, w, kerf := b.Segment, b.Blank.Length, b.Segment.Width, m.Job.Saw.Kerf
	v := seg.Valley().X
	t := &top{picture.Panel{Name: "seen from above, first facet", Room: picture.Room{Left: 3, Right: 12}}}
	work := lay.Contour(geom.Polygon(geom.Pt(0, 0), geom.Pt(l, 0), geom.Pt(l, w), geom.Pt(v, w), geom.Pt(0, w/2)))
	out := work.Bounds().Union(s.outline.Bounds())
	far := lay.Point(geom.Pt(v, w))
	t.saw(foot, s.setting, far.Y/s.setting.Cos()*1.5, [2]float64{math.Min(foot-60, out.Min.X-20), out.Max.X + 15})
	if s.block > 0 {
		t.holed(s.outline, s.holes, picture.Facet)
		t.within(s.outline, "block")
	}
	t.shape(work, picture.Part)
	t.shape(lay.Contour(facetOff(v, w, kerf, seg)), picture.Waste)
	t.band(lay.Point(geom.Pt(v, w)), lay.Point(geom.Pt(0, w/2)), -kerf)
	t.stop(lay.Point(geom.Pt(l, 0)), s.block, w)
	t.within(work, "board, show face up")
	if s.block > 0 {
		t.batten(s, lay, l)
		t.dim(geom.Pt(foot, 0), geom.Pt(0, 0), picture.Above, "")
		t.angle(geom.Pt(0, s.nose), 0, s.block, 17, deg(s.block))
		t.aligned(lay.Point(geom.Pt(0, w)), lay.Point(geom.Pt(l, w)), 8, "nose to stop "+m.say(l))
	} else {
		t.dim(geom.Pt(foot, 0), geom.Pt(l, 0), picture.Above, "stop "+m.say(l-foot))
	}
	if s.setting > 0 {
		t.angle(geom.Pt(foot, 0), 90*geom.Degree-s.setting, 90*geom.Degree, 22, deg(s.setting))
	}
	t.label(lay.Point(geom.Pt(0, w/2)), "star's centre", picture.Arrow, geom.Pt(1, 0))
	return t.Panel
}

// facetOff is the corner that falls off beyond the kerf, as the board lies.
func facetOff(v, w, kerf float64, seg star.Segment) geom.Contour {
	h := seg.Center / 2
	x, y := v-kerf/h.Sin(), w/2+kerf/h.Cos()
	if x <= 0 || y >= w {
		return nil
	}
	return geom.Polygon(geom.Pt(0, y), geom.Pt(x, w), geom.Pt(0, w))
}

// batten draws what carries the stop: a strip screwed onto the block, its edge
// in line with the sloping face.
func (t *top) batten(s facetSetup, lay geom.Place, l float64) {
	face := 0.0 // length of the sloping face
	for _, p := range s.outline {
		q := geom.Place{Turn: -s.block}.Point(p.Point.Sub(lay.Move))
		if math.Abs(q.Y) < 1 {
			face = math.Max(face, q.X)
		}
	}
	strip := geom.Rect(geom.Box{Min: geom.Pt(face*0.55, -22), Max: geom.Pt(l+12, 0)})
	t.shape(lay.Contour(strip), picture.Slot)
	t.label(lay.Point(geom.Pt(l*0.92, -22)), "batten", picture.Arrow, geom.Pt(-1, 0.6))
}
