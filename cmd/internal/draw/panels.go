package draw

import (
	"starwright/geom/star"
	"starwright/post/picture"
)

// StarPanel returns the view of a whole star with its dimensions, for pages
// that are laid out elsewhere.
func StarPanel(u *star.Unit, say picture.Say) picture.Panel {
	return starPanel(u, lengths{say, say})
}
