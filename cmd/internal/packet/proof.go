package packet

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"sync"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/outline"
	"starwright/post/rs274/ncread"
	"starwright/toolpath"
	"starwright/toolpath/backplot"
	"starwright/toolpath/finding"
)

// Proof is what came of reading one file back.
type Proof struct {
	Path     string
	SHA256   string
	Findings []finding.Finding
	Notes    []finding.Finding // harmless remarks
	Checks   []finding.Check
	Text     []byte          // the file as read
	Moves    []toolpath.Move // of a program, the first of them where it is far longer than planned
	Stops    []int           // lines where a program stops for the operator
	Drawing  *cut.File       // of a drawing

	from  *arriving // where Text comes from; nil where all of it is there
	given [3]int    // lines that gave X, Y and Z of the first move before it
	whole bool      // all moves of the program were kept
	watch *watched  // told how far the proof is; nil where nobody watches
}

// OK reports whether the file may be cut.
func (p *Proof) OK() bool {
	for _, c := range p.Checks {
		if !c.Pass {
			return false
		}
	}
	return len(p.Findings) == 0
}

// Prove reads the named drawings and programs of a packet folder (all of them
// where only is nil) and holds each against the geometry. Findings are part of
// the proofs; an error means that a file could not be read at all.
func (w *Work) Prove(dir string, only map[string]bool) ([]Proof, error) {
	f, err := openFolder(dir)
	if err != nil {
		return nil, err
	}
	defer f.close()
	return w.prove(f, only, nil)
}

// prove is [Work.Prove] of an open folder. released has the SHA-256 of each file
// as it was released, where it was.
func (w *Work) prove(f folder, only map[string]bool, released map[string]string) ([]Proof, error) {
	type task struct {
		path  string
		prove func(*Proof)
		edits func(p *Proof, released string) // of a program that was edited
	}
	var tasks []task
	w.eachDrawing(func(d *Drawing, f format) {
		tasks = append(tasks, task{d.in(f), func(p *Proof) { w.proveDrawing(p, d, f) }, nil})
	})
	for i := range w.Programs {
		g := &w.Programs[i]
		tasks = append(tasks, task{g.Path, func(p *Proof) { proveProgram(p, g) },
			func(p *Proof, released string) { p.edits(g, released) }})
	}
	proofs := make([]Proof, 0, len(tasks))
	var run []task
	for _, t := range tasks {
		if only == nil || only[t.path] {
			proofs = append(proofs, Proof{Path: t.path})
			run = append(run, t)
		}
	}
	errs := make([]error, len(proofs))
	done := w.begin("proving", len(proofs))
	inParallel(len(proofs), func(i int) {
		p := &proofs[i]
		p.watch = done.one()
		defer p.watch.finish()
		from, err := f.arrive(p.Path, maxFileBytes)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			p.Findings = []finding.Finding{{File: p.Path, Rule: "missing", What: "the file is missing from the packet"}}
		case odd(err) != "":
			p.Findings = []finding.Finding{{File: p.Path, Rule: "no-file", What: odd(err)}}
		case err != nil:
			errs[i] = err
		default:
			p.from = from
			run[i].prove(p)
			if p.Text, errs[i] = from.whole(); errs[i] != nil {
				return
			}
			p.SHA256, p.from = from.digest(), nil
			if was := released[p.Path]; run[i].edits != nil && was != "" && was != p.SHA256 {
				run[i].edits(p, was)
			}
		}
	})
	return proofs, errors.Join(errs...)
}

// inParallel calls f for 0 to n-1 on as many goroutines as the machine has
// processors for. What f does must not depend on the order.
func inParallel(n int, f func(int)) {
	var wg sync.WaitGroup
	next := make(chan int)
	for range min(n, workers()) {
		wg.Go(func() {
			for i := range next {
				f(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wg.Wait()
}

// proveDrawing holds a drawing as it stands on disk in a format against the one
// that was wanted, and against the work that lies in it.
func (w *Work) proveDrawing(p *Proof, d *Drawing, in format) {
	w.proveOutlines(p, d, in)
	w.proveSeats(p, d)
	w.proveScrews(p, d)
	w.proveWords(p, d)
}

// proveOutlines holds what is drawn against the outlines that were wanted.
func (w *Work) proveOutlines(p *Proof, d *Drawing, in format) {
	if p.from != nil {
		p.Text, _ = p.from.whole() // an error is for the one who asked for the file
	}
	f, err := in.read(p.Text, p.Path, w.Job.Units)
	if err != nil {
		p.Findings = []finding.Finding{{File: p.Path, Rule: "unreadable", What: err.Error()}}
		return
	}
	p.Drawing = f
	p.Findings = append(p.Findings, outline.Judge(f)...)
	c := outline.Compare(f, d.Want, drawingTol)
	p.Findings = append(p.Findings, c.Findings...)
	consequencesLast(p.Findings)
	p.Checks = []finding.Check{
		finding.AtMost("off the outline", c.MaxDeviationMM, drawingTol, "mm"),
		{Name: "contours", Value: float64(len(f.Contours)), Limit: float64(len(d.Want.Contours)), Unit: "contours", Pass: len(f.Contours) == len(d.Want.Contours)},
		finding.AtMost("faults", float64(len(p.Findings)), 0, "faults"),
	}
}

// in is a length (mm) as findings print it.
func (w *Work) in(mm float64) geom.Measure { return geom.Measure{MM: mm, Unit: w.Job.Units} }

// consequencesLast puts what follows from other faults behind them: where an
// outline is displaced, the stated extents are no longer those of what is drawn.
func consequencesLast(fs []finding.Finding) {
	follows := func(f finding.Finding) int {
		if f.Rule == "extents" {
			return 1
		}
		return 0
	}
	slices.SortStableFunc(fs, func(a, b finding.Finding) int { return follows(a) - follows(b) })
}

// How many moves of a program are kept for the pictures and to compare it with
// the one that was released: so many times its steps and some more. All are
// judged.
const (
	movesPerStep = 4 // a block split, or an arc written as a few lines
	movesMore    = 1000

	usualLine = 20 // bytes; room for the moves is made by it at first
)

// drawingTol is how far an outline on disk may lie from the model's, mm.
const drawingTol = 0.002

// proveProgram replays a program and back-plots it against its task.
func proveProgram(p *Proof, g *Program) {
	task := g.Task
	task.File = p.Path
	from := p.from
	if from == nil {
		from = arrived(p.Text)
	}
	task.Block = (&blocks{text: from.soFar}).at
	plot, head := backplot.New(task), &header{}
	usual := from.size / usualLine
	to := newRelay(plot, usual)
	keep := movesPerStep*len(g.Plan.Steps) + movesMore
	p.Moves = make([]toolpath.Move, 0, min(usual, keep))
	rep, err := ncread.ReadFor(g.Plan.For, p.watch.over(from.reader(), from.size), p.Path, ncread.Events{
		Move: func(m *toolpath.Move) error {
			to.move(m)
			if len(p.Moves) < keep {
				p.Moves = append(p.Moves, *m)
			}
			return nil
		},
		Comment: func(line int, text string) { head.comment(line, text) },
		Given: func(line, axis int) error {
			p.given[axis] = line
			to.do(func(r *backplot.Replay) { r.Given(line, axis) })
			return nil
		},
		Stop: func(line int) error { to.do(func(r *backplot.Replay) { r.Stop(line) }); return nil },
		Spindle: func(line int, on bool, rpm float64) error {
			to.do(func(r *backplot.Replay) { r.Spindle(line, on, rpm) })
			return nil
		},
		Dwell: func(line int, s float64) error {
			to.do(func(r *backplot.Replay) { r.Dwell(line, s) })
			return nil
		},
	})
	to.end()
	if err != nil {
		p.Findings = []finding.Finding{{File: p.Path, Rule: "unreadable", What: err.Error()}}
		return
	}
	p.whole = rep.Moves == len(p.Moves)
	p.Findings, p.Notes, p.Stops = rep.Findings, rep.Notes, rep.Stops
	r := plot.Finish()
	faults := rep.FindingCount
	if rep.LastKnown && rep.Last.Z < task.Limits.SafeZ-endSlack {
		line := plot.HeightLine()
		r.Findings = append(r.Findings, finding.Finding{File: p.Path, Line: line, Block: task.Block(line), Rule: "end-low",
			What:   fmt.Sprintf("ends with the cutter at Z %.3f, below the safe height of %.3f", geom.Measure{MM: rep.Last.Z, Unit: task.Unit}, geom.Measure{MM: task.Limits.SafeZ, Unit: task.Unit}),
			ByMM:   task.Limits.SafeZ - rep.Last.Z,
			InWood: "the work cannot be lifted off without touching the cutter"})
	}
	p.Findings = append(p.Findings, r.Findings...)
	p.proveHead(head, g)
	if task.Loads > 1 {
		p.stopsMatter()
	}
	p.stepsFirst()
	p.Checks = append(r.Checks, finding.AtMost("faults of language", float64(faults), 0, "faults"))
}

// stepsFirst puts the remark on steps before the faults of a program: where it
// counts in steps from some line on, all that follows comes of that.
func (p *Proof) stepsFirst() {
	i := slices.IndexFunc(p.Notes, func(f finding.Finding) bool { return f.Rule == "sub-incremental" })
	if i >= 0 && len(p.Findings) > 0 {
		f := p.Notes[i]
		f.InWood = "each number from here on is a step from where the cutter is, not a place"
		p.Findings, p.Notes = append([]finding.Finding{f}, p.Findings...), slices.Delete(p.Notes, i, i+1)
	}
}

// stopsMatter makes a fault of the remark that a program goes on from where the
// cutter was before a stop: where the work is changed, hands move the machine.
func (p *Proof) stopsMatter() {
	i := slices.IndexFunc(p.Notes, func(f finding.Finding) bool { return f.Rule == "sub-stop-place" })
	if i >= 0 {
		f := p.Notes[i]
		f.InWood = "the cutter goes through work or clamps on its way from where it was left"
		p.Findings, p.Notes = append(p.Findings, f), slices.Delete(p.Notes, i, i+1)
	}
}

// endSlack is by how much the end height may miss the safe height through
// rounding in the file, mm.
const endSlack = 0.002
