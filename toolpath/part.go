package toolpath

import "starwright/geom"

// Part is one piece to be cut from sheet: an outline, and what is cut out of
// it. Lengths are mm. Direction of turning does not matter.
type Part struct {
	Name    string
	Outline geom.Contour
	Holes   []geom.Contour // round holes and other cut-outs
	// NoTab are pieces of the outline and of the cut-outs that work will lie
	// against: no tab is left there and no cut starts there.
	NoTab []geom.Curve
}

// Placed returns the part as the placement puts it on a sheet.
func (p Part) Placed(at geom.Place) Part {
	out := Part{Name: p.Name, Outline: at.Contour(p.Outline)}
	for _, h := range p.Holes {
		out.Holes = append(out.Holes, at.Contour(h))
	}
	for _, c := range p.NoTab {
		bulge := c.Bulge
		if at.Mirror {
			bulge = -bulge
		}
		out.NoTab = append(out.NoTab, geom.Curve{A: at.Point(c.A), B: at.Point(c.B), Bulge: bulge})
	}
	return out
}
