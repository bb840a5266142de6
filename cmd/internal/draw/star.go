package draw

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/geom/star"
	"starwright/post/picture"
)

// upright turns the model, whose first tip lies on +x, so that this tip points
// up, as a star hangs.
func upright() geom.Place { return geom.Place{Turn: 90 * geom.Degree} }

// Star returns the picture of a whole star with its dimensions: seen from the
// front, one tip up, true to scale.
func Star(u *star.Unit, unit geom.Unit, title string) *picture.Picture {
	w := lengthsIn(unit)
	s := picture.NewPicture(title)
	sub := fmt.Sprintf("%d segments, seen from the front.", u.Points)
	if u.Slot != nil {
		sub += " Slots and splines lie inside the wood and are dashed."
	}
	s.Heading(title, sub)
	body := s.Body(168)
	const factsWidth = 62
	view := body
	view.Max.X -= factsWidth + 4
	s.Draw(starPanel(u, w), view, w.say)
	s.Facts(geom.Pt(body.Max.X-factsWidth, body.Max.Y-2), factsWidth, starFacts(u, w))
	s.Legend(starKeys(u))
	s.Trim()
	return s
}

func starPanel(u *star.Unit, w lengths) picture.Panel {
	p := picture.Panel{Name: "the star", Room: picture.Room{Left: 26, Right: 26, Above: 0, Below: 4}}
	turn := upright()
	if !u.TwoWoods() {
		p.Shapes = append(p.Shapes, picture.Shape{Contour: turn.Contour(u.Outline()), Look: picture.Part})
	} else {
		for k := range u.Points {
			at := turn
			at.Turn += geom.Deg(360 * float64(k) / float64(u.Points))
			p.Shapes = append(p.Shapes, SegmentShapes(u, k, at)...)
		}
	}
	half := u.Segment.Center / 2
	for k := range u.Points {
		joint := turn
		joint.Turn += geom.Deg(360*float64(k)/float64(u.Points)) + half
		p.Lines = append(p.Lines, picture.Straight(geom.Pt(0, 0), joint.Point(geom.Pt(u.Segment.Facet, 0)), picture.Joint))
		p.Shapes = append(p.Shapes, jointShapes(u, joint)...)
	}
	starDims(&p, u, w)
	return p
}

// jointShapes returns slots and spline of a joint that runs from the star's
// centre along +x before it is placed. The cutter stands square to the facet,
// so that both are rectangles seen from the front.
func jointShapes(u *star.Unit, at geom.Place) []picture.Shape {
	if u.Slot == nil {
		return nil
	}
	var out []picture.Shape
	rect := func(lo, hi, half float64) geom.Contour {
		return at.Contour(geom.Rect(geom.Box{Min: geom.Pt(lo, -half), Max: geom.Pt(hi, half)}))
	}
	if sp := u.Spline; sp != nil {
		mid := (u.Slot.Start + u.Slot.End) / 2
		out = append(out, picture.Shape{Contour: rect(mid-sp.Length/2, mid+sp.Length/2, sp.Width/2), Look: picture.Spline})
	}
	return append(out, picture.Shape{Contour: rect(u.Slot.Start, u.Slot.End, u.Slot.Depth), Look: picture.Slot})
}

// starDims adds the dimensions and labels of a star.
func starDims(p *picture.Panel, u *star.Unit, w lengths) {
	turn, seg := upright(), u.Segment
	tip := func(k int) geom.Point {
		return turn.Point(geom.Polar(seg.Length, geom.Deg(360*float64(k)/float64(u.Points))))
	}
	v := seg.Valley()
	right, left := turn.Point(geom.Pt(v.X, -v.Y)), turn.Point(v)
	p.Dims = append(p.Dims, widthDim(u, tip), picture.Dim{A: left, B: right, Side: picture.Above})
	p.Dims = append(p.Dims, picture.Dim{A: geom.Point{}, B: tip(sideways(u.Points)), Side: picture.Aligned})
	clear := seg.Facet / 2 // no slot up to here
	if u.Slot != nil {
		clear = u.Slot.Start * 0.9
	}
	p.Angles = append(p.Angles,
		picture.AngleDim{At: geom.Point{}, From: 90*geom.Degree - seg.Center/2, To: 90*geom.Degree + seg.Center/2, Within: clear, Text: star.FormatAngle(seg.Center)},
		picture.AngleDim{At: tip(0), From: 270*geom.Degree - seg.Tip/2, To: 270*geom.Degree + seg.Tip/2, R: 11, Text: star.FormatAngle(seg.Tip)})

	// The joint below the sideways tip on the left takes the words.
	k := u.Points - sideways(u.Points)
	along := func(j int, r float64) (at, away geom.Point) {
		a := turn.Turn + geom.Deg(360*float64(j)/float64(u.Points)) + seg.Center/2
		return geom.Polar(r, a), geom.Polar(1, a)
	}
	end := seg.Facet * 0.97
	if u.Slot != nil {
		end = (seg.Facet + u.Slot.End) / 2
	}
	at, away := along(k, end)
	p.Labels = append(p.Labels, picture.Label{At: at, Text: "facet " + w.say(seg.Facet), Mark: picture.Arrow, Away: away})
	if u.Slot == nil {
		return
	}
	at, away = along((k+1)%u.Points, u.Slot.End-(u.Slot.End-u.Slot.Start)*0.1)
	at = at.Add(away.Left().Mul(-u.Slot.Depth / 2)) // beside the joint's line
	p.Labels = append(p.Labels, picture.Label{At: at, Text: "slots and spline", Mark: picture.Dot, Away: away})
}

// widthDim returns the dimension of the widest distance from tip to tip: level
// where two such tips lie level, else upright (6 and 10 points).
func widthDim(u *star.Unit, tip func(int) geom.Point) picture.Dim {
	n := u.Points
	switch {
	case n%4 == 2:
		return picture.Dim{A: tip(0), B: tip(n / 2), Side: picture.Left}
	case n%2 == 0:
		return picture.Dim{A: tip(n / 4), B: tip(n - n/4), Side: picture.Above}
	}
	// Tips k and n-k lie level; they are n/2 apart, rounded down, for one k.
	k := (n - n/2) / 2
	if (n/2)%2 == 0 {
		k = n / 4
	}
	d := picture.Dim{A: tip(k), B: tip(n - k), Side: picture.Above}
	if d.A.Y < 0 {
		d.Side = picture.Below
	}
	return d
}

// sideways returns the tip that points most to the right; turning clockwise
// from the top it is counted from the end.
func sideways(n int) int { return n - int(math.Round(float64(n)/4)) }

func starFacts(u *star.Unit, w lengths) []picture.Fact {
	s := u.Segment
	facts := []picture.Fact{
		picture.Head("The star"),
		{Name: "width, widest tip to tip", Value: w.say(u.Width())},
		{Name: "centre to tip", Value: w.say(s.Length)},
		{Name: "centre to valley (facet)", Value: w.say(s.Facet)},
		{Name: "tip angle", Value: star.FormatAngle(s.Tip)},
		{Name: "centre angle", Value: star.FormatAngle(s.Center)},
		picture.Head("Each segment"),
		{Name: "board width, valley to valley", Value: w.say(s.Width)},
		{Name: "length, centre to tip", Value: w.say(s.Length)},
		{Name: "outer edge, valley to tip", Value: w.say(s.Edge)},
	}
	if t := u.Slot; t != nil {
		facts = append(facts, picture.Head("Each slot"),
			picture.Fact{Name: "from the star's centre", Value: w.say(t.Start)},
			picture.Fact{Name: "to", Value: w.say(t.End)},
			picture.Fact{Name: "depth from the facet", Value: w.say(t.Depth)},
			picture.Fact{Name: "width", Value: w.exact(t.Width)})
	}
	if t := u.Spline; t != nil {
		facts = append(facts, picture.Head("Each spline, square-edged"),
			picture.Fact{Name: "length along the joint", Value: w.say(t.Length)},
			picture.Fact{Name: "width across the joint", Value: w.say(t.Width)},
			picture.Fact{Name: "thickness", Value: w.exact(t.Thickness)})
	}
	return facts
}

func starKeys(u *star.Unit) []picture.Key {
	keys := append(woodKeys(u), picture.Key{Text: "joint", Look: picture.Joint})
	if u.Slot != nil {
		keys = append(keys, picture.Key{Text: "slot, inside the wood", Look: picture.Slot})
	}
	if u.Spline != nil {
		keys = append(keys, picture.Key{Text: "spline, inside the wood", Look: picture.Spline})
	}
	return keys
}
