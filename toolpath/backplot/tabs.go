package backplot

import (
	"fmt"
	"math"
	"slices"

	"starwright/geom"
	"starwright/toolpath/finding"
)

// tabMore is by how much a tab may be wider or higher than asked, in mm: what
// a stroke of the saw does not notice. Beyond it wood is left standing.
const tabMore = 0.5

// holdLeast is the least width, in mm, of a bridge that counts as holding a
// part. What is narrower is wood that the cutter missed.
const holdLeast = 0.2

// sheetRest looks at what still holds each part once all is cut.
func (r *Replay) sheetRest() {
	narrowest, tabs, want := math.Inf(1), 0, 0
	rows := make(chan looseRows, 1)
	go func() { rows <- r.looseRows() }() // beside the rims: either only looks at the cuts
	for i := range r.parts {
		p := &r.parts[i]
		for _, e := range r.rims(p) {
			if e.hole && e.tabs == 0 {
				for _, b := range r.bridges(e.contour, r.floor()+Tol) {
					r.uncut(p, e.of, b)
				}
				continue
			}
			stand, least := r.held(p, e)
			held := len(stand)
			narrowest, tabs, want = min(narrowest, least), tabs+held, want+e.tabs
			if held != e.tabs {
				line, at := r.lostTab(e, stand)
				r.find(line, "tab-count", fmt.Sprintf("%s%s is held by %d tabs, the job asks for %d", e.piece, p.Name, held, e.tabs),
					0, geom.Point3{X: at.X, Y: at.Y}, "a piece with too few tabs breaks loose, with too many is hard to free")
			}
		}
	}
	r.loose(<-rows)
	if len(r.parts) > 0 && r.Sheet.Tabs.Count > 0 {
		if math.IsInf(narrowest, 1) {
			narrowest = 0
		}
		r.more = append(r.more,
			finding.AtLeast("narrowest tab", narrowest, r.Sheet.Tabs.Width-PartTol, "mm"),
			finding.AtLeast("tabs", float64(tabs), float64(want), "tabs"))
	}
}

// partEdge is an edge of a part along which tabs may stand: its outline, or that of a
// cut-out, whose slug they hold. The cutter runs on its right.
type partEdge struct {
	contour geom.Contour
	hole    bool
	of      string // words before the part's name, of the edge and of what it frees
	piece   string
	tabs    int
	tabsAt  []geom.Point
}

// rims returns the edges of a part, its outline last.
func (r *Replay) rims(p *part) []partEdge {
	var out []partEdge
	for k, h := range p.Holes {
		e := partEdge{contour: h.Reversed(), hole: true, of: "a hole of ", piece: "a slug of "}
		if k < len(p.Slugs) {
			e.tabs, e.tabsAt = p.Slugs[k].Tabs, p.Slugs[k].TabsAt
		}
		out = append(out, e)
	}
	return append(out, partEdge{contour: p.Outline, tabs: r.tabsOf(p), tabsAt: p.TabsAt})
}

// held looks at what stands along an edge of a part and returns where its tabs
// are, and the width of the narrowest. Tabs are told from wood that a cut has
// missed by what stands up to their top: a pass that does not go deep enough
// joins the tabs beside it at their foot, and is a fault of its own.
func (r *Replay) held(p *part, e partEdge) (stand []geom.Point, narrowest float64) {
	narrowest = math.Inf(1)
	through, top := r.floor()+Tol, -r.Sheet.Thickness+r.Sheet.Tabs.Height-Tol
	tab := func(b bridge) {
		stand = append(stand, b.mid)
		narrowest = min(narrowest, r.tab(p, b))
	}
	wide := r.Sheet.Tabs.Width + tabMore
	high := slices.DeleteFunc(r.bridges(e.contour, top), func(b bridge) bool { return r.neck(b, top) < holdLeast })
	for _, low := range r.bridges(e.contour, through) {
		neck := r.neck(low, through)
		within := slices.DeleteFunc(slices.Clone(high), func(b bridge) bool { return !low.holds(b) })
		switch {
		case neck < holdLeast || len(within) == 0 && neck > wide:
			r.uncut(p, e.of, low)
		case len(within) == 0 || len(within) == 1 && neck <= wide:
			tab(low)
		default:
			for _, b := range within {
				if r.neck(b, top) > wide {
					r.uncut(p, e.of, b)
				} else {
					tab(b)
				}
				low = low.without(b)
			}
			if len(low.spans) > 0 {
				r.uncut(p, e.of, low)
			}
		}
	}
	return stand, narrowest
}

// lostTab returns where a tab of an edge should stand and does not, and the line
// of the cut that went through there; line 0 and the edge's middle where that
// is not known.
func (r *Replay) lostTab(e partEdge, stand []geom.Point) (line int, at geom.Point) {
	near := 2 * (r.Sheet.Tabs.Width + r.Cutter)
	for _, want := range e.tabsAt {
		if !slices.ContainsFunc(stand, func(q geom.Point) bool { return q.Dist(want) < near }) {
			return r.lineNear(want), want
		}
	}
	return 0, e.contour.Bounds().Center()
}

// tabsOf is how many tabs should hold a part.
func (r *Replay) tabsOf(p *part) int {
	if p.Tabs > 0 {
		return p.Tabs
	}
	return r.Sheet.Tabs.Count
}

// tab holds one tab against what the job asks for, and returns its width at
// its full height.
func (r *Replay) tab(p *part, b bridge) float64 {
	t := r.Sheet.Tabs
	at := geom.Point3{X: b.mid.X, Y: b.mid.Y, Z: -r.Sheet.Thickness}
	line := func() int { return r.lineNear(b.mid) }
	top := -r.Sheet.Thickness + t.Height
	neck := r.neck(b, top-Tol)
	if neck < t.Width-PartTol {
		r.find(line(), "tab-weak", fmt.Sprintf("a tab of %s is %.2m wide at its full height of %.2f, the job asks for %.2f",
			p.Name, r.in(neck), r.in(t.Height), r.in(t.Width)), t.Width-neck, at, "the part may break loose under the cutter")
	}
	if high := r.neck(b, min(top+tabMore, -Tol)); high > holdLeast && top+tabMore < -Tol {
		r.find(line(), "standing", fmt.Sprintf("a tab of %s stands more than %.2m above the job's %.2f", p.Name, r.in(tabMore), r.in(t.Height)), tabMore, at,
			"the part is hard to free")
	}
	for _, q := range p.Seats {
		for _, s := range b.spans {
			if geom.CurveDist(s.edge.Part(s.From, s.To), q) < PartTol && r.neckAt(s, q) {
				r.find(line(), "tab-on-seat", fmt.Sprintf("a tab of %s stands on a face that other work lies against", p.Name), 0, at, "what is left of the tab keeps the two apart")
			}
		}
	}
	return neck
}

// neckAt reports whether the wood of a tab itself, not only the round ends of
// the cuts beside it, meets a seat.
func (r *Replay) neckAt(s bridgeSpan, seat geom.Curve) bool {
	line, ok := beside(s.edge, r.field.r)
	if !ok {
		return true
	}
	for _, o := range r.field.open(line, r.field.r-coverSlack, r.floor()+Tol) {
		if o.From < s.To && o.To > s.From && geom.CurveDist(s.edge.Part(o.From, o.To), seat) < PartTol {
			return true
		}
	}
	return false
}

// uncut files a stretch of an outline that should have been cut through.
func (r *Replay) uncut(p *part, of string, b bridge) {
	at := geom.Point3{X: b.mid.X, Y: b.mid.Y, Z: -r.Sheet.Thickness}
	through := r.floor() + Tol
	// How far the cut misses it: in place at full depth, or in depth.
	missed := func(grow, z float64) bool {
		for _, s := range b.spans {
			for _, o := range r.field.open(s.edge.Part(s.From, s.To), r.field.r+PartTol+grow, z) {
				if longEnough(s.edge, o) {
					return true
				}
			}
		}
		return false
	}
	const far = 5.0 // mm; a cut that misses by more counts as missing
	side := bisect(far, func(v float64) bool { return !missed(v, through) })
	depth := bisect(-r.floor(), func(v float64) bool { return !missed(0, through+v) })
	r.standing = max(r.standing, PartTol+min(side, depth))
	line := r.lineNear(b.mid)
	switch {
	case side < depth && side < far:
		r.find(line, "standing", fmt.Sprintf("%s%s stands %.3m proud over %.2m at X %.1f Y %.1f (limit %.3f)", of, p.Name, r.in(PartTol+side), r.in(b.length), r.in(b.mid.X), r.in(b.mid.Y), r.in(PartTol)),
			PartTol+side, at, fmt.Sprintf("%.2m of wood is left on %s", r.in(PartTol+side), p.Name))
	case depth <= -r.floor():
		r.find(line, "standing", fmt.Sprintf("%s%s is cut %.3m short of its depth over %.2m at X %.1f Y %.1f", of, p.Name, r.in(depth), r.in(b.length), r.in(b.mid.X), r.in(b.mid.Y)),
			depth, at, "the part may not come free")
	default:
		r.find(line, "standing", fmt.Sprintf("%s%s is not cut over %.2m at X %.1f Y %.1f", of, p.Name, r.in(b.length), r.in(b.mid.X), r.in(b.mid.Y)),
			b.length, at, "the part does not come free")
	}
}

// lineNear returns the line of the cut that passes nearest to a point of an
// outline, the deepest of those.
func (r *Replay) lineNear(p geom.Point) int {
	for _, reach := range [3]float64{2 * r.field.r, 8 * r.field.r, 100 * r.field.r} {
		if s := r.field.nearest(p, reach, 0); s != nil {
			return int(s.line)
		}
	}
	return 0
}
