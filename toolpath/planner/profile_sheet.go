package planner

import (
	"fmt"
	"slices"

	"starwright/geom"
	"starwright/toolpath"
)

// SheetJob is a sheet of placed parts to be cut through. Lengths are mm, feeds
// mm/min; the sheet's lower left corner is at 0,0 and its top at Z 0.
type SheetJob struct {
	Name   string
	Header []string
	Unit   geom.Unit // of the lengths in problems

	Parts          []toolpath.Part // as they lie on the sheet
	SheetW, SheetH float64
	Thickness      float64
	Breakthrough   float64     // how far the last pass goes into the spoilboard
	ScrewZones     []geom.Box  // kept free of parts and of the cutter
	Travel         geom.Point3 // of the machine; a zero axis is not limited

	Cutting
	CutLength float64 // of the cutter's edge; 0 where it is not known
	Arcs      bool    // G2 and G3; lines within 0.015 mm without it
	Tabs      Tabs
	// FewestTabs allows a part that has no room for all its tabs to be held by
	// as many as fit, down to this number. 0 allows none to be left out.
	FewestTabs int
}

// CutKind says what a cut frees. Cuts of one kind are made before the next.
type CutKind uint8

// The kinds of cut, in the order in which they are made.
const (
	CutHole    CutKind = iota // a round hole, or waste that is milled away
	CutInner                  // another cut-out
	CutOutline                // the outline; the part hangs in its tabs
)

// String returns the kind in the words of the bench.
func (k CutKind) String() string { return [...]string{"hole", "cut-out", "outline"}[k] }

// Cut is one cut as it was planned.
type Cut struct {
	Kind  CutKind
	Part  string         // none where waste is milled away
	Way   []geom.Contour // of the cutter's centre
	Loose bool           // a piece inside comes loose: it is held as the parts are, by no tabs
}

// SheetReport says what a sheet's program does.
type SheetReport struct {
	Passes    int     // of an outline
	PassDepth float64 // mm
	Cuts      []Cut   // in the order in which they are made
	Tabs      []Tab
	CutMM     float64 // length at feed
	TravelMM  float64 // length of travel between the cuts
	// TravelBound is a length that no order of these cuts could undercut: the
	// shortest trees that join the cuts of each kind, and the links between.
	TravelBound float64
	Blocks      int // moves of the program
	// BlocksBound is a number of moves that no program for these cuts could do
	// with less of, at the same depth of pass.
	BlocksBound int
}

// Sheet plans the program of one sheet: round holes first, then other
// cut-outs, then outlines. The error is a [problem.List].
func Sheet(j SheetJob) (toolpath.Program, SheetReport, error) {
	if ps := j.check(); len(ps) > 0 {
		return toolpath.Program{}, SheetReport{}, ps
	}
	p := &sheetPlan{SheetJob: j, r: j.CutterDiameter / 2, slope: j.RampMax.Tan(), depth: j.Thickness + j.Breakthrough, room: newRoom()}
	defer p.room.free()
	for i := range j.Parts {
		p.part(i)
	}
	p.neighbours()
	if len(p.problems.list()) == 0 {
		p.outlines()
		p.slugs()
	}
	if ps := p.problems.list(); len(ps) > 0 {
		return toolpath.Program{}, SheetReport{}, ps
	}
	if ps := p.looseWaste(p.clearWaste()); len(ps) > 0 {
		return toolpath.Program{}, SheetReport{}, ps
	}
	return p.program()
}

// program puts the cuts in order and makes the program.
func (p *sheetPlan) program() (toolpath.Program, SheetReport, error) {
	groups := make([][]stop, len(p.ops))
	for k, ops := range p.ops {
		for _, op := range ops {
			groups[k] = append(groups[k], op.begins)
		}
	}
	order, begin := tour(groups)
	least := p.leastBlocks()
	w := &walk{arc: p.arcFeed, feed: p.Feed, plunge: p.PlungeFeed, slope: p.slope, safe: p.SafeZ, near: p.Approach,
		steps: slices.Grow(p.steps[:0], least+least/4), ahead: p.ahead}
	rep := SheetReport{}
	rep.Passes, rep.PassDepth = Passes(p.depth, p.DepthPerPass)
	legs := make([][]leg, len(order))
	var last *leg
	for k, o := range order {
		for n, i := range o {
			op, b := p.ops[k][i], begin[k][n]
			w.steps = append(w.steps, toolpath.Remark(op.remark()))
			op.run(w, b)
			l := leg{op.begins.from[b], op.begins.to[b]}
			if last != nil {
				rep.TravelMM += last.to.Dist(l.from)
			}
			last = &l
			legs[k] = append(legs[k], l)
			rep.Cuts, rep.Tabs = append(rep.Cuts, op.Cut), append(rep.Tabs, op.tabs...)
		}
	}
	w.at.Z = w.safe
	w.steps = append(w.steps, parked(p.Park, w.at)...)
	p.steps, p.ahead = w.steps, w.ahead
	rep.TravelBound, rep.CutMM = travelBound(legs), w.cutMM
	rep.BlocksBound = least
	for i := range w.steps {
		if w.steps[i].Do == toolpath.StepMove {
			rep.Blocks++
		}
	}
	return toolpath.Program{Name: p.Name, Header: p.Header, RPM: p.RPM, SpinUpS: p.SpinUpS, SafeZ: p.SafeZ, Steps: slices.Clone(w.steps)}, rep, nil
}

func (op operation) remark() string {
	s := op.label
	if n := len(op.tabs); n > 0 {
		s += fmt.Sprintf(", %d tabs", n)
	}
	if op.Loose {
		s += ", the piece inside comes free"
	}
	return s
}
