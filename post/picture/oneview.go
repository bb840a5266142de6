package picture

import "starwright/geom"

// OneView is a picture of one view: a jig with the work seated in it, a part,
// a gauge.
type OneView struct {
	Title string
	Sub   string // a sentence below the title
	Say   Say
	Panel Panel
	Facts []Fact // stand beside the view
	Keys  []Key
	Notes []string // sentences below the view: how it is used
	High  float64  // mm on the page, most for the view; 0 for the usual
}

const usualHigh = 135.0 // mm on the page

// Draw returns the picture of a drawing.
func Draw(d OneView) *Picture {
	s := NewPicture(d.Title)
	s.Heading(d.Title, d.Sub)
	high := d.High
	if high == 0 {
		high = usualHigh
	}
	body := s.Body(high)
	view := body
	if len(d.Facts) > 0 {
		view.Max.X -= factsWide + 4
	}
	s.Draw(d.Panel, view, d.Say)
	if len(d.Facts) > 0 {
		s.Facts(geom.Pt(body.Max.X-factsWide, body.Max.Y-2), factsWide, d.Facts)
	}
	if len(d.Keys) > 0 {
		s.Legend(d.Keys)
	}
	s.Notes(d.Notes...)
	s.Trim()
	return s
}
