package geom

// Place is a rigid placement in the plane: mirror across the X axis first
// where Mirror is set, then turn, then move. The zero Place changes nothing.
type Place struct {
	Mirror bool
	Turn   Angle
	Move   Point
}

// Point returns where the placement puts p.
func (t Place) Point(p Point) Point {
	if t.Mirror {
		p.Y = -p.Y
	}
	if t.Turn != 0 {
		s, c := t.Turn.Sin(), t.Turn.Cos()
		p = Point{p.X*c - p.Y*s, p.X*s + p.Y*c}
	}
	return p.Add(t.Move)
}

// Contour returns the contour placed. A mirrored contour keeps its vertices'
// order, so that its direction of turning is reversed.
func (t Place) Contour(c Contour) Contour {
	out := make(Contour, len(c))
	for i, v := range c {
		out[i] = Vertex{t.Point(v.Point), v.Bulge}
		if t.Mirror {
			out[i].Bulge = -v.Bulge
		}
	}
	return out
}
