package packet

import (
	"starwright/toolpath"
	"starwright/toolpath/backplot"
)

// relay hands what a program does to its back-plot, in order. Reading a program
// and holding it against the wood take about as long; a long one is read on one
// processor while the other back-plots what was read before, which takes a third
// off the check of a million blocks.
type relay struct {
	plot *backplot.Replay
	step []step      // read, and not handed on yet
	on   chan []step // to the back-plot, nil until a program is long
	free chan []step
	done chan struct{}
}

// step is a move, or where do is given something else that a program does.
type step struct {
	move toolpath.Move
	do   func(*backplot.Replay)
}

const (
	relaySteps = 512 // handed on at once
	relayAhead = 8   // lots of them that may be under way
)

func newRelay(plot *backplot.Replay) *relay {
	return &relay{plot: plot, step: make([]step, 0, relaySteps)}
}

func (r *relay) move(m *toolpath.Move) {
	s := r.next()
	s.move, s.do = *m, nil
	r.filled()
}

func (r *relay) do(f func(*backplot.Replay)) {
	r.next().do = f
	r.filled()
}

// next is the step to be read next. It is filled where it lies, once: a move is 120
// bytes, and copying it about was an eighth of the check of a long program.
func (r *relay) next() *step {
	n := len(r.step)
	r.step = r.step[:n+1]
	return &r.step[n]
}

// filled hands the steps on once they are a lot.
func (r *relay) filled() {
	if len(r.step) < relaySteps {
		return
	}
	if workers() == 1 {
		r.run(r.step)
		r.step = r.step[:0]
		return
	}
	if r.on == nil {
		r.begin()
	}
	r.on <- r.step
	r.step = (<-r.free)[:0]
}

// begin lets the back-plot work beside the reader.
func (r *relay) begin() {
	r.on, r.free, r.done = make(chan []step, relayAhead), make(chan []step, relayAhead+1), make(chan struct{})
	for range relayAhead {
		r.free <- make([]step, 0, relaySteps)
	}
	go func() {
		defer close(r.done)
		for lot := range r.on {
			r.run(lot)
			r.free <- lot
		}
	}()
}

// run back-plots steps.
func (r *relay) run(lot []step) {
	for i := range lot {
		if s := &lot[i]; s.do != nil {
			s.do(r.plot)
		} else {
			r.plot.Move(&s.move)
		}
	}
}

// end waits until all is back-plotted.
func (r *relay) end() {
	if r.on != nil {
		close(r.on)
		<-r.done
	}
	r.run(r.step)
}
