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
	s, c := 0.0, 1.0
	if t.Turn != 0 {
		s, c = t.Turn.SinCos()
	}
	return t.point(p, s, c)
}

// point is [Place.Point] where sine and cosine of the turn are known.
func (t *Place) point(p Point, sin, cos float64) Point {
	if t.Mirror {
		p.Y = -p.Y
	}
	if t.Turn != 0 {
		p = Point{p.X*cos - p.Y*sin, p.X*sin + p.Y*cos}
	}
	return p.Add(t.Move)
}

// Contour returns the contour placed. A mirrored contour keeps its vertices'
// order, so that its direction of turning is reversed.
func (t Place) Contour(c Contour) Contour {
	out := make(Contour, len(c))
	sin, cos := t.Turn.SinCos()
	for i, v := range c {
		out[i] = Vertex{t.point(v.Point, sin, cos), v.Bulge}
		if t.Mirror {
			out[i].Bulge = -v.Bulge
		}
	}
	return out
}
