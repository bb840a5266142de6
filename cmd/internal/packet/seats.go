package packet

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/geom/jig"
	"starwright/post/cut"
	"starwright/toolpath/finding"
)

// What work must find in a seat as it is drawn on disk and cut. Each is well
// above what a drawing may be off by, see drawingTol.
const (
	seatGap     = jig.Contact        // mm, gap beyond the play stated, and interference
	seatContact = 0.02               // mm of contact that may be missing at each edge
	seatTurn    = 0.01 * geom.Degree // between work and wood; see turnLimit
	seatSize    = 2000               // vertices; an outline of more is no jig
)

// proveSeats lays the work in the seats of a jig as its drawing on disk has
// them, in wood that the job's cutter has cut, and adds the figures.
func (w *Work) proveSeats(p *Proof, d *Drawing) {
	for i := range w.Jigs {
		j := &w.Jigs[i]
		if d.Path != "dxf/"+j.File+".dxf" || p.Drawing == nil || len(j.Seats) == 0 {
			continue
		}
		s := seatsProof{proof: p, jig: j, unit: w.Job.Units}
		if s.read(p.Drawing, w.sheetBit()) {
			for _, one := range j.Seats {
				s.lay(one)
			}
		}
		p.Checks = append(p.Checks, s.checks()...)
	}
}

// seatsProof is the work on one jig.
type seatsProof struct {
	proof *Proof
	jig   *jig.Jig
	unit  geom.Unit    // in which findings give lengths
	wood  geom.Contour // as cut
	holes []geom.Contour

	edges           int
	contact, wanted float64 // mm, all seats
	interference    float64 // mm, the deepest
	gap, turn       worst   // mm, degrees
}

// worst is the figure that comes nearest to its limit or exceeds it most.
type worst struct{ value, limit float64 }

func (w *worst) add(value, limit float64) {
	if w.limit == 0 || value/limit > w.value/w.limit {
		*w = worst{value, limit}
	}
}

// turnLimit is by how much wood may run at another angle than the work, in
// degrees: a hundredth, and on a short edge what the drawing may be off by at
// its ends.
func turnLimit(length float64) float64 {
	return (seatTurn + geom.Angle(math.Atan(2*drawingTol/length))).Degrees()
}

// read takes outline and holes from the drawing, as the cutter leaves them.
func (s *seatsProof) read(f *cut.File, cutter float64) bool {
	vertices := 0
	for i := range f.Contours {
		c := &f.Contours[i]
		vertices += len(c.Contour)
		if vertices > seatSize {
			return false
		}
		switch {
		case len(c.Contour) < 2 || !c.Closed:
		case c.Layer == cut.Outline && (len(s.wood) == 0 || math.Abs(c.Area()) > math.Abs(s.wood.Area())):
			s.wood = jig.AsCut(c.CCW(), cutter)
		case c.Layer == cut.Hole:
			s.holes = append(s.holes, jig.AsCut(c.CCW().Reversed(), cutter).Reversed())
		}
	}
	return len(s.wood) > 0
}

// lay lays the work in one seat.
func (s *seatsProof) lay(seat jig.Seat) {
	fit, edges := jig.SeatFit(s.wood, s.holes, seat)
	s.edges += len(edges)
	s.contact += fit.Contact
	s.wanted += fit.Wanted
	s.interference = math.Max(s.interference, fit.Interference)
	gapLimit := seat.Play/2 + seatGap
	var bad *jig.EdgeFit
	for i := range edges {
		e := &edges[i]
		s.gap.add(e.Gap, gapLimit)
		s.turn.add(e.Turn.Degrees(), turnLimit(e.Edge.Length()))
		off := e.Gap > gapLimit || e.Turn.Degrees() > turnLimit(e.Edge.Length()) || e.Contact < e.Edge.Length()-seatContact
		if off && (bad == nil || e.Gap > bad.Gap) {
			bad = e
		}
	}
	if bad != nil {
		s.find("seat-gap", s.lineNear(bad.Edge), fmt.Sprintf("the %s lies against %.2m of the %.2m of edge from %s to %s: a gap of %.3m (limit %.3f), %.3f° off (limit %.3f)",
			seat.What, s.in(bad.Contact), s.in(bad.Edge.Length()), s.place(bad.Edge.A), s.place(bad.Edge.B), s.in(bad.Gap), s.in(gapLimit), bad.Turn.Degrees(), turnLimit(bad.Edge.Length())),
			bad.Gap, bad.Edge.At(0.5), "the "+seat.What+" finds no firm hold in this jig, or stands at a wrong angle")
	}
	if fit.Interference > seatGap {
		at := seat.Edges[0].At(0.5)
		s.find("seat-interference", 0, fmt.Sprintf("wood and %s reach %.3m into each other (limit %.3f), as a cutter leaves the corners", seat.What, s.in(fit.Interference), s.in(seatGap)),
			fit.Interference, at, "the "+seat.What+" does not go home in this jig")
	}
}

func (s *seatsProof) find(rule string, line int, what string, by float64, at geom.Point, inWood string) {
	s.proof.Findings = append(s.proof.Findings, finding.Finding{File: s.proof.Path, Line: line, Rule: rule, What: what, ByMM: by,
		At: &geom.Point3{X: at.X, Y: at.Y}, InWood: inWood})
}

// lineNear returns the line of the vertex on disk that lies nearest to an end
// of an edge without lying on it: most likely the one at fault. It is 0 where
// both ends are where they should be.
func (s *seatsProof) lineNear(e geom.Curve) int {
	const far = 2.0 // mm
	line, best := 0, 0.0
	for _, end := range [2]geom.Point{e.A, e.B} {
		found, d := 0, far
		for i := range s.proof.Drawing.Contours {
			c := &s.proof.Drawing.Contours[i]
			for k, v := range c.Contour {
				if x := v.Dist(end); x < d && k < len(c.VertexLines) {
					found, d = int(c.VertexLines[k]), x
				}
			}
		}
		if found > 0 && d > drawingTol && d > best {
			line, best = found, d
		}
	}
	return line
}

// in is a length (mm) as findings print it.
func (s *seatsProof) in(mm float64) geom.Measure { return geom.Measure{MM: mm, Unit: s.unit} }

func (s *seatsProof) place(p geom.Point) string {
	return fmt.Sprintf("X %.2f Y %.2f", s.in(p.X), s.in(p.Y))
}

// checks returns the figures of all seats together.
func (s *seatsProof) checks() []finding.Check {
	if s.edges == 0 {
		return []finding.Check{finding.AtLeast("seat-contact", 0, 1, "mm")}
	}
	return []finding.Check{
		finding.AtLeast("seat-contact", s.contact, s.wanted-seatContact*float64(s.edges), "mm"),
		finding.AtMost("seat-interference", s.interference, seatGap, "mm"),
		finding.AtMost("seat-gap", s.gap.value, s.gap.limit, "mm"),
		finding.AtMost("seat-angle", s.turn.value, s.turn.limit, "deg"),
	}
}
