package packet

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"starwright/geom"
	"starwright/toolpath/planner"
)

// How a sheet is screwed down, in mm. Common practice, no source.
const (
	// screwZone is the side of the square kept free for a screw: a washer and
	// the drill's chuck.
	screwZone = 25.0

	// screwApart is how far screws may be apart: thin plywood lifts between.
	screwApart = 500.0

	// screwOffCut is what is left between a screw's square and a cut.
	screwOffCut = 2.0

	// screwSearch is how far from where a screw should be a place is looked for,
	// and screwTry how finely.
	screwSearch, screwTry = 150.0, 10.0

	// clampLeast is what a clamp needs of the sheet's edge.
	clampLeast = 8.0

	// screwsListed is how many places a head lists; more are only drawn.
	screwsListed = 16
)

// moreScrews returns squares for screws besides those in the corners, along the
// edges and within the sheet, where it is so large that they are needed: each as
// near to its even place as the parts leave room. Where that is one place for two of
// them, one screw holds it.
func moreScrews(job planner.SheetJob) []geom.Box {
	var out []geom.Box
	parts := cutRound(job)
	nx, ny := int(math.Ceil(job.SheetW/screwApart)), int(math.Ceil(job.SheetH/screwApart))
	for k := range (nx + 1) * (ny + 1) {
		i, j := k%(nx+1), k/(nx+1)
		if (i == 0 || i == nx) && (j == 0 || j == ny) {
			continue
		}
		half := screwZone / 2
		at := geom.Pt(clampTo(float64(i)*job.SheetW/float64(nx), half, job.SheetW-half), clampTo(float64(j)*job.SheetH/float64(ny), half, job.SheetH-half))
		if z, ok := freeSquare(job, parts, at); ok && !slices.ContainsFunc(out, func(o geom.Box) bool { return o.Center().Dist(z.Center()) < half }) {
			out = append(out, z)
		}
	}
	return out
}

func clampTo(v, lo, hi float64) float64 { return math.Max(lo, math.Min(hi, v)) }

// screwTries are the places round the one where a screw should be, the nearest
// first.
var screwTries = sync.OnceValue(func() []geom.Point {
	const n = int(screwSearch / screwTry)
	var tries []geom.Point
	for i := -n; i <= n; i++ {
		for j := -n; j <= n; j++ {
			tries = append(tries, geom.Pt(float64(i), float64(j)).Mul(screwTry))
		}
	}
	slices.SortStableFunc(tries, func(a, b geom.Point) int { return cmp.Compare(a.Len(), b.Len()) })
	return tries
})

// freeSquare returns the square nearest to a place that no cut comes near.
func freeSquare(job planner.SheetJob, parts []keptOff, want geom.Point) (geom.Box, bool) {
	half := geom.Pt(screwZone/2, screwZone/2)
	sheet := geom.Box{Max: geom.Pt(job.SheetW, job.SheetH)}.Grow(geom.Touch)
	for _, d := range screwTries() {
		at := want.Add(d)
		square := geom.Box{Min: at.Sub(half), Max: at.Add(half)}
		if sheet.Holds(square) && free(parts, square) {
			return square, true
		}
	}
	return geom.Box{}, false
}

// keptOff is a part that screws keep off by a distance, and the box within which
// they might not.
type keptOff struct {
	outline geom.Contour
	sides   []geom.Curve
	off     float64
	box     geom.Box
}

// cutRound returns the parts of a sheet with the cuts round them.
func cutRound(job planner.SheetJob) []keptOff {
	off := job.CutterDiameter + screwOffCut
	out := make([]keptOff, 0, len(job.Parts))
	for _, p := range job.Parts {
		out = append(out, keptOff{p.Outline, p.Outline.Curves(), off, p.Outline.Bounds().Grow(off)})
	}
	return out
}

// free reports whether a square lies off all parts and the cuts round them.
func free(parts []keptOff, square geom.Box) bool {
	var sides []geom.Curve
	for _, p := range parts {
		if !p.box.Overlaps(square) {
			continue
		}
		if p.outline.Contains(square.Center()) {
			return false
		}
		if sides == nil {
			sides = geom.Rect(square).Curves()
		}
		for _, e := range p.sides {
			for _, s := range sides {
				if geom.CurveDist(e, s) < p.off {
					return false
				}
			}
		}
	}
	return true
}

// clampRoom is how far a clamp may reach onto the sheet: what the cuts leave of
// its edges.
func clampRoom(job planner.SheetJob) float64 {
	room := math.Inf(1)
	for _, p := range job.Parts {
		b := p.Outline.Bounds()
		room = min(room, b.Min.X, b.Min.Y, job.SheetW-b.Max.X, job.SheetH-b.Max.Y)
	}
	return room - job.CutterDiameter
}

// corners is how many screw squares a sheet with any has in its corners; the
// others stand behind them.
const corners = 4

// holdLines says how a sheet is held, at the head of its program and on its page.
func (w *Work) holdLines(job planner.SheetJob, unitMM float64) []string {
	var lines []string
	if n := len(job.ScrewZones); n == 0 {
		lines = append(lines, "Hold: no place is kept free for screws, use tape or a vacuum under the whole sheet")
	} else {
		lines = append(lines, fmt.Sprintf("Screws: in the four corners, within %s of both edges", w.Say(screwZone)))
		var more []string
		for _, z := range job.ScrewZones[corners:] {
			at := z.Center()
			more = append(more, fmt.Sprintf("X%s Y%s", formatNumber(at.X/unitMM, unitMM), formatNumber(at.Y/unitMM, unitMM)))
		}
		if len(more) > screwsListed {
			lines = append(lines, fmt.Sprintf("More screws: %d squares, as the drawing of the sheet shows them", len(more)))
		} else if len(more) > 0 {
			lines = append(lines, "More screws: at "+strings.Join(more, ", "))
		}
	}
	clamps := fmt.Sprintf("Clamps: lower than %s over the sheet's top, ", w.exact(job.SafeZ))
	if room := w.Job.Units.Floor(clampRoom(job)); room >= clampLeast {
		return append(lines, clamps+"no more than "+w.Say(room)+" onto its edges")
	}
	return append(lines, clamps+"none reaches onto the sheet")
}

// holdSays is what these statements have to say.
func (w *Work) holdSays(job planner.SheetJob, unitMM float64) []says {
	out := []says{{"screws", "corner", []figure{w.rule(screwZone)}}}
	if len(job.ScrewZones) == 0 {
		out = []says{{"hold", "screws under", nil}}
	}
	if len(job.ScrewZones) > corners {
		more := says{label: "more screws"}
		if n := len(job.ScrewZones) - corners; n > screwsListed {
			more.figures = []figure{count(n)}
		} else {
			for _, z := range job.ScrewZones[corners:] {
				more.terms += "x y "
				more.figures = append(more.figures, at(z.Center().X/unitMM), at(z.Center().Y/unitMM))
			}
		}
		out = append(out, more)
	}
	clamps := says{"clamps", "lower over top", []figure{exactly(job.SafeZ)}}
	if room := w.Job.Units.Floor(clampRoom(job)); room >= clampLeast {
		clamps.figures = append(clamps.figures, w.rule(room))
	}
	return append(out, clamps)
}
