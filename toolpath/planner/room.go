package planner

import (
	"sync"

	"starwright/geom"
	"starwright/toolpath"
)

// room is what a sheet is planned in. It goes from one sheet to the next: memory that
// is touched for the first time takes longer than most of what is done in it.
type room struct {
	wastes [2]waste // by what holds them
	steps  []toolpath.Step
	ahead  []geom.Curve
}

var rooms = sync.Pool{New: func() any { return new(room) }}

// newRoom is a room for one sheet, to be given back by [room.free].
func newRoom() *room { return rooms.Get().(*room) }

func (r *room) free() {
	for i := range r.wastes {
		r.wastes[i].laid = false
	}
	clear(r.steps) // their notes
	rooms.Put(r)
}
