package packet

import (
	"fmt"
	"strings"

	"starwright/cmd/internal/benchwork"
	"starwright/cmd/internal/costing"
	"starwright/cmd/internal/job"
	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/problem"
	"starwright/geom/route"
	"starwright/geom/star"
	"starwright/geom/words"
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
	Cost     *costing.Cost  // nil until the work is finished
	Warnings []problem.Note // of the sheets; the model's own stand in the order

	wants     []jig.Want // for the kit
	corrector corrector  // of the route's facets, after a test fit
	watch     Progress
}

// Drawing is a drawing of the packet, which stands in it in every format.
type Drawing struct {
	Path     string // of the DXF within the packet: dxf/segment.dxf
	Quantity int    // how often its outlines are cut
	Use      string // one sentence for people
	Want     cut.Drawing
	jig      bool // of a jig by itself
	upright  bool // a star, which is looked at with a tip up
	screwed  bool // of a plate that screws hold, through these holes
	screws   []geom.Contour
}

// Program is a G-code program of the packet.
type Program struct {
	Path     string
	Quantity int // how often it is run
	Use      string
	Brief    string // Use in a few words
	Plan     toolpath.Program
	Task     backplot.Task // what it has to do, for the back-plot
	UnitMM   float64       // unit of the file
	Minutes  float64       // estimated, one run

	says   []says          // what its head has to say
	cutter job.CutterTable // of a sheet's program
	board  bool            // of which the sheet is a piece of board

	Slot  *SlotOf           // of a slot program: which facet
	Sheet *planner.SheetJob // of a sheet's program: what lies where
	Tabs  []planner.Tab     // and its tabs
	// How long the program is: its travel between cuts and what no order of
	// them could undercut (mm), its moves and what no way of cutting could do
	// with less of.
	Travel, TravelBound float64
	Blocks, BlocksBound int
}

// Title returns what people call the job.
func (w *Work) Title() string {
	if w.Job.Title != "" {
		return w.Job.Title
	}
	if boards := w.Order.FromBoards(); w.Job.IsOrder() {
		stars := 0
		for _, u := range boards {
			stars += u.Count()
		}
		return fmt.Sprintf("%s in %s", words.Count(stars, "star", "stars"), words.Count(len(boards), "size", "sizes"))
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
