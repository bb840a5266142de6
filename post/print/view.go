package print

import (
	"starwright/geom"
	"starwright/post/picture"
)

// viewZoom enlarges drawings so that their dimensions have the size of the
// text.
const viewZoom = 1.4

// View draws a panel over the whole width, in a strip that is so many mm high
// at most.
func (f *Flow) View(p picture.Panel, high float64, say picture.Say) {
	high = highEnough(high, p)
	f.Need(high)
	f.y -= f.draw(p, geom.Box{Min: geom.Pt(marginLeft, f.y-high), Max: geom.Pt(f.right(), f.y)}, say)
	f.y -= afterText
}

// Beside draws two panels side by side; the left one takes the part share of
// the width.
func (f *Flow) Beside(left, right picture.Panel, share, high float64, say picture.Say) {
	high = highEnough(high, left, right)
	f.Need(high)
	mid := marginLeft + f.width()*share
	a := f.draw(left, geom.Box{Min: geom.Pt(marginLeft, f.y-high), Max: geom.Pt(mid-3, f.y)}, say)
	b := f.draw(right, geom.Box{Min: geom.Pt(mid+3, f.y-high), Max: geom.Pt(f.right(), f.y)}, say)
	f.y -= max(a, b) + afterText
}

// leastDrawn is the height that the model itself has in a panel, mm on the page:
// what is smaller cannot be told apart.
const leastDrawn = 15

// highEnough returns a height in which each of the panels finds room.
func highEnough(high float64, panels ...picture.Panel) float64 {
	for _, p := range panels {
		high = max(high, p.Around()*viewZoom+leastDrawn)
	}
	return high
}

// draw draws a panel into a box of the page and returns how high it came out.
func (f *Flow) draw(p picture.Panel, into geom.Box, say picture.Say) float64 {
	v := view{picture.NewPage(into.W()/viewZoom, into.H()/viewZoom, ""), into.Min, viewZoom}
	p.Zoom = viewZoom
	got := v.sheet.Draw(p, v.sheet.Page(), say)
	f.page.views = append(f.page.views, v)
	return (v.sheet.Page().Max.Y - got.Used.Min.Y) * viewZoom
}
