package shopsheet

import (
	"fmt"
	"strconv"
	"time"

	"starwright/cmd/internal/benchwork"
	"starwright/cmd/internal/costing"
	"starwright/cmd/internal/job"
	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/problem"
	"starwright/geom/route"
	"starwright/geom/star"
	"starwright/post/picture"
	"starwright/post/print"
)

// Input is a job that was worked out, with the names of what its packet holds.
type Input struct {
	Job      *job.Job
	Order    *star.Order
	Title    string
	Date     string // as [Date] gives it; "" leaves a line to write on
	Programs []File
	Drawings []File
	Sheets   []Sheet // in the order of their programs
	Jigs     []jig.Jig
	Route    *route.Route    // its pages are written into it
	Shop     []string        // machines, as `[shop] has` names them
	Bench    *benchwork.Work // nil leaves stock, wood and feeds out
	Cost     *costing.Cost   // for [CostSheet]

	// Corrected gives the set-ups that cut the facets of a unit, for each angle by
	// which a test fit asks to turn them.
	Corrected func(unit int, by ...geom.Angle) ([][]route.Setup, error)
}

// File is a program or a drawing of the packet.
type File struct {
	Path     string
	Use      string
	Brief    string  // Use in a few words, of a program
	Quantity int     // runs, or how often the outlines are cut
	Minutes  float64 // one run of a program
}

// jigPath is where the packet has a jig's drawing.
func jigPath(j jig.Jig) string { return "dxf/" + j.File + ".dxf" }

// EpochVariable is the variable of the environment that gives a date where the
// job gives none, in seconds since 1970 (reproducible-builds.org,
// SOURCE_DATE_EPOCH).
const EpochVariable = "SOURCE_DATE_EPOCH"

// Date returns the date to be printed: the job's, or the day of a
// SOURCE_DATE_EPOCH that is not "", or "" where neither is given.
func Date(j *job.Job, epoch string) (string, error) {
	if j.Date != "" || epoch == "" {
		return j.Date, nil
	}
	const last = 253402300799 // the end of the year 9999
	s, err := strconv.ParseInt(epoch, 10, 64)
	if err != nil || s < 0 || s > last {
		return "", fmt.Errorf("%s is %q in the environment, which is no count of seconds; unset it, or give the job a date = \"2026-12-05\"", EpochVariable, epoch)
	}
	return time.Unix(s, 0).UTC().Format(time.DateOnly), nil
}

// maker writes the pages of one input.
type maker struct {
	Input
	doc   *print.PDF
	u     geom.Unit
	say   picture.Say
	star  *star.Unit // that the pages at hand are about, cut from boards
	small *star.Unit // that comes from its off-cuts, nil without one
}

// turnTo makes the next pages those of a star.
func (m *maker) turnTo(u *star.Unit) { m.star, m.small = u, m.Order.FromOffcuts(u) }

// units are the stars of the pages at hand.
func (m *maker) units() []*star.Unit {
	if m.small == nil {
		return []*star.Unit{m.star}
	}
	return []*star.Unit{m.star, m.small}
}

// newMaker checks the paper and starts a document.
func newMaker(in Input) (*maker, error) {
	paper, ok := print.PaperNamed(in.Job.Print.Paper)
	if !ok {
		return nil, problem.List{{Key: "print.paper", Got: in.Job.Print.Paper,
			Why: "there is no such paper here", Would: "A4 or Letter"}}
	}
	m := &maker{Input: in, doc: print.New(paper, in.Title, in.Date), u: in.Job.Units}
	m.say = in.Job.Units.Format
	m.turnTo(in.Order.FromBoards()[0])
	return m, nil
}

// deg prints an angle: "54°".
func deg(a geom.Angle) string { return star.FormatAngle(a) }

// facts is a table of names and values.
func facts(f *print.Flow, rows ...[2]string) {
	cells := make([][]string, 0, len(rows))
	for _, r := range rows {
		if r[1] != "" {
			cells = append(cells, []string{r[0], r[1]})
		}
	}
	f.Table([]print.Column{{}, {Wide: 1}}, cells)
}
