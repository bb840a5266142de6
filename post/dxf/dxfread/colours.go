package dxfread

import "starwright/post/cut"

// Colours of an entity that are none of its own ("Common group codes for
// entities", 62): that of its layer, which also stands for no colour, and that of the block
// it lies in.
const (
	byLayer = 256
	byBlock = 0
)

// look takes the layer or the colour of an entity from the current pair, and
// reports whether it is one of them.
func (r *reader) look(layer *string) bool {
	switch r.code {
	case 8:
		*layer = r.intern()
	case 62:
		r.colour = r.int()
	default:
		return false
	}
	return true
}

// coloured remembers the colour that an entity has instead of its layer's.
func (r *reader) coloured(layer string, line int) {
	if r.colour == byLayer || r.colour == byBlock || !cut.Known(layer) {
		return
	}
	k := ink{layer, r.colour}
	if _, again := r.own[k]; !again && len(r.own) < maxFaults {
		r.own[k] = line
		r.inks = append(r.inks, k)
	}
}

// ink is a colour that is used on a layer.
type ink struct {
	layer  string
	colour int
}

// judgeColours judges whether by colour what is cut can be told from what is not:
// much software for lasers goes by it.
func (r *reader) judgeColours() {
	for _, l := range r.head.layers {
		k := ink{l.name, max(l.colour, -l.colour)}
		if _, again := r.own[k]; cut.Known(l.name) && l.colour != 0 && !again {
			r.own[k] = l.line
			r.inks = append(r.inks, k)
		}
	}
	first := map[int]ink{}
	for _, k := range r.inks {
		o, used := first[k.colour]
		switch {
		case !used:
			first[k.colour] = k
		case cut.Cuts(o.layer) != cut.Cuts(k.layer):
			r.add(r.own[k], "colour", k.layer, "software that goes by colour cuts the guide lines, or leaves a part uncut",
				"%s and %s (line %d) have the same colour %d", k.layer, o.layer, r.own[o], k.colour)
		}
	}
}
