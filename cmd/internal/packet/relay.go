package packet

import (
	"math"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/backplot"
)

// relay hands what a program does to its back-plot, in order. Reading a program
// and holding it against the wood take about as long; a long one is read on one
// processor while the other back-plots what was read before, which takes a third
// off the check of a million blocks. Of a sheet the reader has time left: the
// back-plot's scout looks at the moves there, which takes another quarter off a sheet
// in short lines.
//
// Nearly every move goes on straight from where the one before ended. Of those only
// what is new is handed over, 40 bytes and not 128: what one processor has written,
// the other one fetches slowly.
type relay struct {
	plot  *backplot.Replay
	lot   *lot            // read, and not handed on yet
	at    geom.Point3     // where the last move that was read ends
	rpm   float64         // of that
	scout *backplot.Scout // looks at lots before they are handed on, nil where there is none
	seen  toolpath.Move   // the last one that it looked at
	told  *toolpath.Move  // the last one that was back-plotted; apart, since that is another processor's
	on    chan *lot       // to the back-plot, nil until a program is long
	free  chan *lot
	done  chan struct{}
}

// step is one thing that a program does.
type step struct {
	to   geom.Point3
	feed float64
	line int32
	kind toolpath.Kind
	odd  bool // none of this counts, but the next of the odd ones of its lot
}

// oddStep is a step that is not told by what is new: any other move, or where do is given
// something else.
type oddStep struct {
	move toolpath.Move
	do   func(*backplot.Replay)
}

// lot is what is handed on at once.
type lot struct {
	steps []step
	n     int               // of them, from the first on
	seen  []backplot.Glance // of each step what the scout says, where there is one
	odd   []oddStep
}

// A lot is many steps, since the processor that waits for one has to be woken: with an eighth of
// them the check of a slot cut over and over took a tenth more of the processors' time.
const (
	relaySteps = 4096
	relayAhead = 3 // lots that may be under way
)

// newRelay returns a relay to a back-plot, with room for so many steps at first.
func newRelay(plot *backplot.Replay, room int) *relay {
	return &relay{plot: plot, lot: newLot(min(room, relaySteps)), told: new(toolpath.Move)}
}

func newLot(room int) *lot { return &lot{steps: make([]step, room)} }

func (r *relay) move(m *toolpath.Move) {
	goesOn := m.From == r.at && m.RPM == r.rpm
	r.at, r.rpm = m.To, m.RPM
	if !goesOn || m.Kind > toolpath.Linear || m.Line > math.MaxInt32 {
		r.other(oddStep{move: *m})
		return
	}
	s := r.next()
	s.to, s.feed, s.line, s.kind, s.odd = m.To, m.Feed, int32(m.Line), m.Kind, false
	r.filled()
}

func (r *relay) do(f func(*backplot.Replay)) { r.other(oddStep{do: f}) }

// other takes in a step that is not told by what is new.
func (r *relay) other(o oddStep) {
	r.lot.odd = append(r.lot.odd, o)
	r.next().odd = true
	r.filled()
}

// next is the step to be read next, which is filled where it lies.
func (r *relay) next() *step {
	l := r.lot
	if l.n == len(l.steps) { // there are more than were expected
		l.steps = append(l.steps, make([]step, l.n+1)...)
	}
	l.n++
	return &l.steps[l.n-1]
}

// filled hands the steps on once they are a lot.
func (r *relay) filled() {
	if r.lot.n < relaySteps {
		return
	}
	if workers() == 1 {
		r.run(r.lot)
		return
	}
	if r.on == nil {
		r.begin()
	}
	r.look(r.lot)
	r.on <- r.lot
	r.lot = <-r.free
}

// next makes the move before a step the one that the step is.
func (s *step) next(m *toolpath.Move) {
	m.From, m.To, m.Feed, m.Line, m.Kind = m.To, s.to, s.feed, int(s.line), s.kind
}

// straight is an odd move as what those after it go on from.
func (o *oddStep) straight() toolpath.Move {
	m := o.move
	m.Center, m.Sweep = geom.Point{}, 0
	return m
}

// look has the scout look at the steps of a lot.
func (r *relay) look(l *lot) {
	if r.scout == nil {
		return
	}
	if l.seen == nil {
		l.seen = make([]backplot.Glance, relaySteps)
	}
	m, others := &r.seen, l.odd
	for i := range l.steps[:l.n] {
		s := &l.steps[i]
		if !s.odd {
			s.next(m)
			l.seen[i] = r.scout.Look(m)
			continue
		}
		if o := &others[0]; o.do == nil {
			r.scout.Look(&o.move)
			*m = o.straight()
		}
		others = others[1:]
	}
}

// begin lets the back-plot work beside the reader.
func (r *relay) begin() {
	r.on, r.free, r.done = make(chan *lot, relayAhead), make(chan *lot, relayAhead+1), make(chan struct{})
	for range relayAhead {
		r.free <- newLot(relaySteps)
	}
	r.scout = r.plot.Scout()
	go func() {
		defer close(r.done)
		for l := range r.on {
			r.run(l)
			r.free <- l
		}
	}()
}

// run back-plots the steps of a lot, and empties it.
func (r *relay) run(l *lot) {
	plot, m, seen, others := r.plot, r.told, l.seen, l.odd
	for i := range l.steps[:l.n] {
		s := &l.steps[i]
		if !s.odd {
			s.next(m)
			if seen != nil {
				plot.MoveSeen(m, seen[i])
			} else {
				plot.Move(m)
			}
			continue
		}
		if o := &others[0]; o.do != nil {
			o.do(plot)
		} else {
			plot.Move(&o.move)
			*m = o.straight()
		}
		others = others[1:]
	}
	clear(l.odd)
	l.n, l.odd = 0, l.odd[:0]
}

// end waits until all is back-plotted.
func (r *relay) end() {
	if r.on != nil {
		r.look(r.lot)
		close(r.on)
		<-r.done
	}
	r.run(r.lot)
}
