package backplot

import "starwright/geom"

// bridge is a stretch of an outline along which the sheet is not cut through
// to the depth that the job asks for.
type bridge struct {
	spans  []bridgeSpan
	length float64
	mid    geom.Point
}

type bridgeSpan struct {
	edge geom.Curve
	span
}

// holds reports whether the middle of another bridge of the same contour lies in
// the bridge.
func (b bridge) holds(o bridge) bool {
	for _, s := range b.spans {
		for _, q := range o.spans {
			if s.edge == q.edge && s.From < q.To && q.From < s.To {
				return true
			}
		}
	}
	return false
}

// without returns what is left of a bridge beside another of the same contour;
// its middle is that of its longest stretch.
func (b bridge) without(o bridge) bridge {
	var out bridge
	longest := 0.0
	for _, s := range b.spans {
		left := []span{s.span}
		for _, q := range o.spans {
			if s.edge == q.edge {
				left = cutOut(left, q.span)
			}
		}
		for _, l := range left {
			length := (l.To - l.From) * s.edge.Length()
			if length < tabMore {
				continue // the end of a tab's foot
			}
			out.spans, out.length = append(out.spans, bridgeSpan{s.edge, l}), out.length+length
			if length > longest {
				longest, out.mid = length, s.edge.At((l.From+l.To)/2)
			}
		}
	}
	return out
}

// cutOut removes a span from spans.
func cutOut(from []span, cut span) (out []span) {
	for _, s := range from {
		if a := (span{s.From, min(s.To, cut.From)}); a.To > a.From {
			out = append(out, a)
		}
		if b := (span{max(s.From, cut.To), s.To}); b.To > b.From {
			out = append(out, b)
		}
	}
	return out
}

// bridges returns the stretches of a contour that no cut at or below a height
// comes within the cutter's radius of. Stretches that meet at a corner are one.
func (r *Replay) bridges(c geom.Contour, z float64) []bridge {
	edges := c.Curves()
	var out []bridge
	open := false // the last bridge reaches the end of the edge before
	for _, e := range edges {
		reached := false
		for _, s := range r.field.open(e, r.field.r+PartTol, z) {
			if !longEnough(e, s) {
				continue
			}
			length := (s.To - s.From) * e.Length()
			if open && s.From == 0 {
				b := &out[len(out)-1]
				b.spans, b.length = append(b.spans, bridgeSpan{e, s}), b.length+length
			} else {
				out = append(out, bridge{[]bridgeSpan{{e, s}}, length, e.At((s.From + s.To) / 2)})
			}
			open = false
			reached = s.To == 1
		}
		open = reached
	}
	if n := len(out); open && n > 1 && out[0].spans[0].From == 0 && out[0].spans[0].edge == edges[0] {
		out[0].spans = append(out[n-1].spans, out[0].spans...)
		out[0].length += out[n-1].length
		out = out[:n-1]
	}
	return out
}

// neck returns the width of a bridge at a height: how much of the cutter's
// middle line beside the outline is out of the cutter's reach there.
func (r *Replay) neck(b bridge, z float64) float64 {
	sum, best := 0.0, 0.0
	for _, bs := range b.spans {
		line, ok := beside(bs.edge, r.field.r)
		if !ok {
			continue
		}
		for _, s := range r.field.open(line, r.field.r-coverSlack, z) {
			if s.From >= bs.To || s.To <= bs.From {
				continue
			}
			if s.From > 0 {
				sum = 0
			}
			sum += (s.To - s.From) * line.Length()
			best = max(best, sum)
		}
	}
	return best
}

// beside returns the curve r to the right of e, where a cutter outside a
// counter-clockwise outline runs.
func beside(e geom.Curve, r float64) (geom.Curve, bool) {
	if !e.IsArc() {
		n := e.B.Sub(e.A).Unit().Left().Mul(-r)
		return geom.Curve{A: e.A.Add(n), B: e.B.Add(n)}, true
	}
	o, ra := e.Center(), e.Radius()
	rr := ra + r
	if e.Bulge < 0 {
		rr = ra - r
	}
	if rr <= 0 {
		return geom.Curve{}, false
	}
	k := rr / ra
	return geom.Curve{A: o.Add(e.A.Sub(o).Mul(k)), B: o.Add(e.B.Sub(o).Mul(k)), Bulge: e.Bulge}, true
}
