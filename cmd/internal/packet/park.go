package packet

import (
	"fmt"

	"starwright/geom"
	"starwright/toolpath"
)

// parkBeyond is how far off the work the cutter is parked where there is room,
// mm: clear of hands, and no farther than a program may go.
const parkBeyond = 20.0

// park returns where the cutter of a program leaves the work to, at least its
// edge and off beyond it as far as the machine's travel lets it: work is what lies
// under the spindle, moves is where the program goes in any case. It returns nil
// where the job wants the cutter to go up alone.
func (w *Work) park(work, moves geom.Box, off float64) *toolpath.Park {
	rising := func(axis int, edge, low float64) *toolpath.Park {
		to := edge + off
		if t := w.Job.Machine.Travel[axis]; t > 0 {
			to = min(to, low+t)
		}
		return &toolpath.Park{Axis: axis, To: to}
	}
	falling := func(axis int, edge, high float64) *toolpath.Park {
		to := edge - off
		if t := w.Job.Machine.Travel[axis]; t > 0 {
			to = max(to, high-t)
		}
		return &toolpath.Park{Axis: axis, To: to, Back: true}
	}
	switch w.Job.Machine.Park {
	case "back":
		return rising(1, work.Max.Y, moves.Min.Y)
	case "front":
		return falling(1, work.Min.Y, moves.Max.Y)
	case "right":
		return rising(0, work.Max.X, moves.Min.X)
	case "left":
		return falling(0, work.Min.X, moves.Max.X)
	}
	return nil
}

// parkLine says where the cutter is left, at the head of a program.
func (w *Work) parkLine(p *toolpath.Park, unitMM float64, when string) string {
	if p == nil {
		return "Park: up, over the last cut, " + when
	}
	return fmt.Sprintf("Park: up, then to the %s as far as %s%s, %s", w.Job.Machine.Park, string("XY"[p.Axis]), formatNumber(p.To/unitMM, unitMM), when)
}

// parkSays is what that statement has to say.
func (w *Work) parkSays(g *Program) says {
	p := g.Task.Park
	if p == nil {
		return says{"park", "up over", nil}
	}
	return says{"park", "up " + w.Job.Machine.Park + " " + string("xy"[p.Axis]), []figure{at(p.To / g.UnitMM)}}
}
