package draw

import (
	"fmt"

	"starwright/geom"
	"starwright/geom/star"
	"starwright/post/picture"
)

// StarAlone is [Star] for a screen: without heading, facts, legend and scale,
// which a page says itself, its words large beside the star. view is the
// viewBox (W3C, Scalable Vector Graphics 1.1, 7.7) that shows it and no rim.
func StarAlone(u *star.Unit, unit geom.Unit, title string) (s *picture.Picture, view string) {
	const wide, high, rim = 132, 118, 1.5 // mm
	s = picture.NewPage(wide, high, title)
	p := starPanel(u, lengthsIn(unit))
	p.Bare = true
	s.Draw(p, s.Page(), lengthsIn(unit).say)
	b := s.Extent().Grow(rim)
	return s, fmt.Sprintf("%.2f %.2f %.2f %.2f", b.Min.X, high-b.Max.Y, b.W(), b.H())
}
