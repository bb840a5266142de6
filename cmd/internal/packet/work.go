package packet

import (
	"fmt"
	"strings"

	"starwright/cmd/internal/benchwork"
	"starwright/cmd/internal/job"
	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/problem"
	"starwright/geom/route"
	"starwright/geom/star"
	"starwright/post/cut"
	"starwright/toolpath"
	"starwright/toolpath/backplot"
	"starwright/toolpath/planner"
)

// Work is a job worked out: all that its packet is to hold.
type Work struct {
	Job      *job.Job
	Source   []byte // the job file, byte for byte
	Shop     []byte // the shop's file, byte for byte; nil where there is none
	Order    *star.Order
	Drawings []Drawing
	Programs []Program
	Route    route.Route // from board to star, in this shop
	Jigs     []jig.Jig
	Bench    *benchwork.Work
	Warnings []problem.Note // of the sheets; the model's own stand in the order

	wants []jig.Want // for the kit
	watch Progress
}

// Drawing is a drawing of the packet, which stands in it in every format.
type Drawing struct {
	Path     string // of the DXF within the packet: dxf/segment.dxf
	Quantity int    // how often its outlines are to be cut
	Use      string // one sentence for people
	Want     cut.Drawing
	jig      bool // of a jig by itself
	screwed  bool // of a plate that screws hold, through these holes
	screws   []geom.Contour
}

// Program is a G-code program of the packet.
type Program struct {
	Path     string
	Quantity int // how often it is to be run
	Use      string
	Plan     toolpath.Program
	Task     backplot.Task // what it has to do, for the back-plot
	UnitMM   float64       // unit of the file
	Minutes  float64       // estimated, one run

	says []says // what its head has to say

	Slot  *SlotOf           // of a slot program: which facet
	Sheet *planner.SheetJob // of a sheet's program: what lies where
	Tabs  []planner.Tab     // and its tabs
	// How long the program is: its travel between cuts and what no order of
	// them could undercut (mm), its moves and what no way of cutting could do
	// with less of.
	Travel, TravelBound float64
	Blocks, BlocksBound int
}

// Load reads a job file and works it out, or says all that is wrong with it.
func Load(name string, source []byte) (*Work, []job.Error) {
	return LoadWatched(job.Input{Job: job.File{Name: name, Data: source}}, nil)
}

// LoadWatched is [Load] with the shop's file, and reports how far it is, here and
// in all that is done with the work afterwards.
func LoadWatched(in job.Input, watch Progress) (*Work, []job.Error) {
	w, errs := loadStar(in, watch)
	if len(errs) == 0 {
		errs = w.loadRest()
	}
	if len(errs) > 0 {
		return nil, errs
	}
	return w, nil
}

// loadRest works out the jigs, the splines' sheets and the bench.
func (w *Work) loadRest() []job.Error {
	bench, problems := benchwork.New(w.Job, w.Order.FromBoards()[0], w.Order.Cutter)
	w.Bench = bench
	problems = append(problems, w.findRoute()...)
	if len(problems) == 0 {
		problems = append(jigSheets(w), splineSheets(w)...)
	}
	if len(problems) > 0 {
		return asErrors(w.Job, problems)
	}
	w.laserDrawings()
	return nil
}

// loadStar is Load without [Work.loadRest]: the star's own drawings and its slot
// programs, which a hundredth of the time is enough for.
func loadStar(in job.Input, watch Progress) (*Work, []job.Error) {
	j, order, errs := job.LoadInput(in)
	if len(errs) > 0 {
		return nil, errs
	}
	w := &Work{Job: j, Source: in.Job.Data, Order: order, watch: watch}
	if in.Shop != nil {
		w.Shop = in.Shop.Data
	}
	w.Drawings = starDrawings(w)
	if !w.cnc() {
		return w, nil
	}
	programs, problems := slotPrograms(w)
	if len(problems) > 0 {
		return nil, asErrors(j, problems)
	}
	w.Programs = programs
	return w, nil
}

func asErrors(j *job.Job, ps problem.List) []job.Error {
	out := make([]job.Error, len(ps))
	for i, p := range ps {
		out[i] = j.Error(p)
	}
	return out
}

// Title returns what people call the job.
func (w *Work) Title() string {
	if w.Job.Title != "" {
		return w.Job.Title
	}
	var kinds []string
	for _, u := range w.Order.FromBoards() {
		if u.Count() == 1 {
			kinds = append(kinds, fmt.Sprintf("one star of %d points", u.Points))
		} else {
			kinds = append(kinds, fmt.Sprintf("%d stars of %d points", u.Count(), u.Points))
		}
	}
	return strings.Join(kinds, ", ")
}

// Say prints a length in the job's unit.
func (w *Work) Say(mm float64) string { return w.Job.Units.Format(mm) }
