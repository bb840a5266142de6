package draw

import (
	"starwright/geom"
	"starwright/geom/star"
	"starwright/post/picture"
)

// StarAlone is [Star] without heading, facts and legend: for a page that says
// these itself.
func StarAlone(u star.Unit, unit geom.Unit, title string) *picture.Sheet {
	s := picture.NewPicture(title)
	s.Draw(starPanel(u, wordsIn(unit)), s.Body(190), wordsIn(unit).say)
	s.Trim()
	return s
}
