package packet

import (
	"starwright/geom"
	"starwright/geom/tryout"
	"starwright/post/cut"
	"starwright/toolpath/finding"
)

// sheetPath is the printed sheet.
const sheetPath = "shop-sheet.pdf"

// tryRoute carries the route out on the virtual bench, with its numbers as they
// are printed and the jigs as their drawings were read back, and returns what
// came of it as the proof of the printed sheet.
func (w *Work) tryRoute(proofs []Proof) Proof {
	report := tryout.Try(w.Route, w.tryWant(proofs))
	p := Proof{Path: sheetPath}
	for _, f := range report.Worst() {
		p.Checks = append(p.Checks, finding.Check{Name: "route-" + f.Name, Value: f.Value, Limit: f.Limit, Unit: f.Unit, Pass: f.Pass})
	}
	for _, f := range report.Faults() {
		what := f.Why
		if f.Setup != "" {
			what = f.Setup + ": " + what
		}
		p.Findings = append(p.Findings, finding.Finding{File: sheetPath, Rule: "route-" + f.Name, What: what, ByMM: f.Value})
	}
	return p
}

// tryWant is what the route has to come to.
func (w *Work) tryWant(proofs []Proof) tryout.Want {
	want := tryout.Want{Unit: w.Job.Units, Plates: map[string]tryout.Plate{}, Programs: map[string]tryout.Facet{}, Sheets: map[string]tryout.Sheet{}, SawReach: open(w.Job.Saw.Reach)}
	jigs := map[string]bool{}
	for i := range w.Drawings {
		jigs[w.Drawings[i].Path] = w.Drawings[i].jig
	}
	for i := range proofs {
		if p := &proofs[i]; p.Drawing != nil && jigs[p.Path] {
			want.Plates[p.Path] = plateOf(p.Drawing)
		}
	}
	w.trySheets(&want, proofs)
	for i, u := range w.Order.Units {
		for _, right := range []bool{false, true} {
			want.Programs[slotPath(u, handOf(right))] = tryout.Facet{Unit: i, Right: right}
		}
		s := tryout.Unit{Name: u.Spec.Name, Points: u.Points, Count: u.Count()}
		for _, v := range u.Segment.Outline() {
			s.Segment = append(s.Segment, v.Point)
		}
		if x := u.Slot; x != nil {
			s.Slot = &tryout.Slot{Start: x.Start, End: x.End, Depth: x.Depth, Width: x.Width, FromFace: x.FromFace}
		}
		if x := u.Spline; x != nil {
			s.Spline = &tryout.Spline{Length: x.Length, Width: x.Width, Thickness: x.Thickness, Count: x.Count}
		}
		want.Units = append(want.Units, s)
	}
	for path := range want.Programs {
		if !w.hasProgram(path) {
			delete(want.Programs, path)
		}
	}
	return want
}

// trySheets adds what the programs cut that make segments, as the drawings of their
// pieces of board were read.
func (w *Work) trySheets(want *tryout.Want, proofs []Proof) {
	byPath := proofsByPath(proofs)
	for i := range w.Programs {
		g := &w.Programs[i]
		if !g.board {
			continue
		}
		one := tryout.Sheet{Runs: g.Quantity}
		if p := byPath["dxf/sheet-"+g.Plan.Name+".dxf"]; p != nil && p.Drawing != nil {
			for i := range p.Drawing.Contours {
				if c := &p.Drawing.Contours[i]; c.Layer == cut.Outline {
					one.Parts = append(one.Parts, c.Contour)
				}
			}
		}
		want.Sheets[g.Path] = one
	}
}

func (w *Work) hasProgram(path string) bool {
	for i := range w.Programs {
		if w.Programs[i].Path == path {
			return true
		}
	}
	return false
}

func handOf(right bool) string {
	if right {
		return "right"
	}
	return "left"
}

// plateOf is the outline of a jig with its holes, as read, mm.
func plateOf(f *cut.File) tryout.Plate {
	var p tryout.Plate
	for i := range f.Contours {
		c := f.Contours[i].Contour
		switch f.Contours[i].Layer {
		case cut.Outline:
			if len(p.Outline) == 0 || area(c) > area(p.Outline) {
				p.Outline = c.CCW()
			}
		case cut.Hole:
			p.Holes = append(p.Holes, c.CCW())
		}
	}
	return p
}

func area(c geom.Contour) float64 {
	if a := c.Area(); a > 0 {
		return a
	}
	return -c.Area()
}
