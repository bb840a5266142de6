package shopsheet

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/words"
	"starwright/post/picture"
	"starwright/post/sheet"
)

// tipReach is how far a tip cut runs from the valley to where it leaves the
// blank, mm.
func (m *maker) tipReach() float64 {
	s := m.star.Segment
	h := s.Tip / 2
	return math.Min((m.star.Blank.Length-s.Valley().X)/h.Cos(), s.Width/h.Sin())
}

func (m *maker) tipsOnFacet(f *sheet.Flow, setting geom.Angle) {
	b := m.star
	seg := b.Segment
	facts(f,
		[2]string{"Saw at", deg(setting) + " from square"},
		[2]string{"Block", "none: the finished facet is the stop for the angle"},
		[2]string{"Stop", fmt.Sprintf("at the star's centre, %s along the fence from the line of cut", m.say(seg.Facet))},
		[2]string{"To the fence", "a finished facet; the cut starts at its valley"},
		[2]string{"Turn over", "yes, for the second tip cut: the other facet then lies against the fence"},
		[2]string{"The saw must reach", fmt.Sprintf("%s along the cut, else finish it with a hand saw", m.say(m.tipReach()))},
		[2]string{"Cut", fmt.Sprintf("2 cuts on each blank, %d cuts", 2*b.Blank.Count)})
	f.View(m.tipFacetPanel(setting), room(f, viewHigh, 62), m.say)
	f.Steps(
		fmt.Sprintf("Lay the facet against the fence with the star's centre at the stop. Clamp the board: only %s of it touch the fence.", m.say(seg.Facet)),
		"Make the first tip cut of every blank, show face up, then turn each over and make the second.",
		fmt.Sprintf("The tip must come out on the middle of the board, %s long from the star's centre.", m.say(seg.Length)),
	)
	if m.small != nil {
		f.Strong("Keep both tip off-cuts of each blank together and mark their show faces: they become the second star.")
	}
}

func (m *maker) tipFacetPanel(setting geom.Angle) picture.Panel {
	b := m.star
	seg := b.Segment
	v, c := seg.Valley(), seg.Center/2
	half, end := seg.Width/2, b.Blank.Length
	// The segment's upper facet comes to lie on the X axis, its valley at the
	// origin and the star's centre at +X.
	lay := geom.Place{Turn: 180*geom.Degree - c, Move: geom.Pt(seg.Facet, 0)}
	t := &top{picture.Panel{Name: "seen from above, first tip cut", Room: picture.Room{Left: 3, Right: 14}}}
	first, _ := b.Offcuts()
	body := geom.Polygon(geom.Pt(0, 0), geom.Pt(v.X, -half), geom.Pt(end, -half), geom.Pt(end, half), geom.Pt(v.X, half))
	kept := m.keptAfterTip()
	all := lay.Contour(body).Bounds()
	reach := m.tipReach()
	t.saw(0, -setting, reach*1.1, [2]float64{all.Min.X*0.8 - 10, seg.Facet + 40})
	t.shape(lay.Contour(body), picture.Kerf)
	t.shape(lay.Contour(first.Wood), picture.Waste)
	t.shape(lay.Contour(kept), picture.Part)
	stop := geom.Rect(geom.Box{Min: geom.Pt(seg.Facet, 0), Max: geom.Pt(seg.Facet+16, 30)})
	t.shape(stop, picture.Waste)
	t.label(stop.Bounds().Center(), "stop", picture.Dot, geom.Pt(-1, -0.3))
	t.within(lay.Contour(kept), "segment, show face up")
	t.label(lay.Contour(first.Wood).Bounds().Center(), "tip off-cut 1", picture.Dot, geom.Pt(1, 0.2))
	t.dim(geom.Pt(0, 0), geom.Pt(seg.Facet, 0), picture.Above, "facet "+m.say(seg.Facet))
	t.angle(geom.Pt(0, 0), 90*geom.Degree, 90*geom.Degree+setting, 30, deg(setting))
	return t.Panel
}

// keptAfterTip is the blank after both facets and the first tip cut, in the
// segment's coordinates.
func (m *maker) keptAfterTip() geom.Contour {
	seg, end := m.star.Segment, m.star.Blank.Length
	v, h, half := seg.Valley(), seg.Tip/2, seg.Width/2
	y := half - (end-v.X)*h.Tan()
	c := []geom.Point{{}, geom.Pt(v.X, -half)}
	if y > -half {
		c = append(c, geom.Pt(end, -half), geom.Pt(end, y))
	} else {
		c = append(c, geom.Pt(v.X+seg.Width/h.Tan(), -half))
	}
	return geom.Polygon(append(c, geom.Pt(v.X, half))...)
}

func (m *maker) tipsInCradle(f *sheet.Flow) {
	b := m.star
	kit := m.kit("tip-cradle")
	if len(kit) == 0 {
		f.Text("The tip cradle does not fit the job's sheet; the jigs' page says what would do.")
		return
	}
	seg := b.Segment
	facts(f,
		[2]string{"Saw at", "0°, a square cut"},
		[2]string{"Jig", "tip cradle, left; for the second cut the right one"},
		[2]string{"Stop", "the notch itself: both facets are pushed home in it"},
		[2]string{"To the fence", "the cradle's edge opposite the notch; the side that ends at the notch is the line of cut"},
		[2]string{"Turn over", "no: show face up in both cradles"},
		[2]string{"The saw must reach", m.say(m.cradleReach(kit[0])) + " from the fence"},
		[2]string{"Cut", fmt.Sprintf("2 cuts on each blank, %d cuts", 2*b.Blank.Count)})
	f.View(m.cradlePanel(kit[0], "first tip cut", "blank"), room(f, viewHigh, 62), m.say)
	f.Steps(
		"Slide the cradle along the fence until the side that is the line of cut touches the blade, then clamp it. Its own first cut trims it to the line.",
		"Push the two facets into the notch, clamp the board, cut. All blanks in the left cradle first, then all in the right one.",
		fmt.Sprintf("The tip must come out on the middle of the board, %s from the star's centre.", m.say(seg.Length)),
	)
	if m.small != nil {
		f.Strong("Keep both tip off-cuts of each blank together and mark their show faces: they become the second star.")
	}
}

// cradleReach is how far from the fence the cut in a cradle ends, mm.
func (m *maker) cradleReach(j jig.Jig) float64 {
	y := 0.0
	for _, s := range j.Seats {
		if s.What == "saw fence" {
			continue
		}
		for _, p := range s.Work {
			if p.X < 1 {
				y = math.Max(y, p.Y)
			}
		}
	}
	return y
}

// cradlePanel draws a cradle with the work in it, after the cut.
func (m *maker) cradlePanel(j jig.Jig, name, what string) picture.Panel {
	t := &top{picture.Panel{Name: "seen from above, " + name, Room: picture.Room{Left: 3, Right: 16}}}
	box := j.Outline.Bounds()
	var work geom.Contour
	for _, s := range j.Seats {
		if s.What != "saw fence" && len(s.Work) > 0 {
			work = s.Work
			box = box.Union(work.Bounds())
		}
	}
	reach := m.cradleReach(j)
	t.saw(0, 0, reach*1.15, [2]float64{-60, box.Max.X + 30})
	var holes []geom.Contour
	for _, h := range j.Holes {
		holes = append(holes, h.Contour)
	}
	t.holed(j.Outline, holes, picture.Facet)
	t.shape(work, picture.Part)
	t.shape(clipLeft(work), picture.Waste)
	t.within(work, what)
	t.label(j.Outline.Bounds().Center(), "cradle", picture.Dot, geom.Pt(-1, 0))
	t.dim(geom.Pt(0, 0), geom.Pt(0, reach), picture.Right, "reach "+m.say(reach))
	return t.Panel
}

func (m *maker) offcuts(f *sheet.Flow) {
	b := m.star
	o := m.small.Segment
	kit := m.kit("offcut-cradle")
	f.Text(fmt.Sprintf("Glue the two tip off-cuts of each blank together along their board edges, show faces up, tips level: %s. Let the glue harden for a day.",
		words.Count(b.Segments(), "pair", "pairs")))
	f.View(m.pairPanel(), 62, m.say)
	if len(kit) == 0 {
		return
	}
	facts(f,
		[2]string{"Saw at", "0°, a square cut"},
		[2]string{"Jig", "off-cut cradle, left; for the second cut the right one"},
		[2]string{"To the fence", "the cradle's edge opposite the notch, in which the tip sits"},
		[2]string{"Turn over", "no: show face up in both"},
		[2]string{"Comes out", fmt.Sprintf("a segment %s long and %s wide, facets %s", m.say(o.Length), m.say(o.Width), m.say(o.Facet))})
	f.View(m.cradlePanel(kit[0], "first facet", "glued off-cuts"), room(f, viewHigh, 4), m.say)
}

// pairPanel shows a pair of off-cuts glued up with the segment that comes of
// them.
func (m *maker) pairPanel() picture.Panel {
	small := m.small.Segment
	first, second := m.star.Offcuts()
	p := picture.Panel{Name: "a pair of tip off-cuts, glued", Note: "the segment in it dashed", Room: picture.Room{Left: 22, Right: 22}}
	// Each board edge comes to lie on the X axis, the apex at the origin.
	up := geom.Place{Move: second.Apex.Mul(-1)}
	down := geom.Place{Move: first.Apex.Mul(-1)}
	p.Shapes = append(p.Shapes,
		picture.Shape{Contour: down.Contour(first.Wood), Look: picture.Facet},
		picture.Shape{Contour: up.Contour(second.Wood), Look: picture.Facet})
	lie := geom.Place{Turn: 180 * geom.Degree, Move: geom.Pt(small.Length, 0)}
	p.Shapes = append(p.Shapes, picture.Shape{Contour: lie.Contour(small.Outline()), Look: picture.Slot})
	p.Labels = []picture.Label{
		{At: geom.Pt(0, 0), Text: "tip", Away: geom.Pt(-1, 0)},
		{At: geom.Pt(small.Length*0.93, 0), Text: "glue line", Mark: picture.Arrow, Away: geom.Pt(1, 0.4)},
	}
	return p
}
