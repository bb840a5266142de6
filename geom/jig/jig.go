// Package jig makes the shop's helpers for a batch of stars as flat outlines:
// angle blocks for the saw's fence, cradles that hold work a mitre saw cannot
// reach, stands and carriages that bring a facet level or square to a table,
// gauges, and the board on which a star is glued up.
//
// Each jig is cut from sheet. It knows the work it holds and where: the seats
// are the places at which the work's edges lie against the jig, and the proof
// that a jig serves is that the work, laid in its seat, touches no wood and has
// no more play than stated. The package knows geometry and the bench; it knows
// no paths, files or machines.
package jig

import (
	"starwright/geom"
	"starwright/geom/star"
)

// Jig is one helper, cut from sheet.
type Jig struct {
	Key      string       // name in `[jigs] make`: angle-block
	File     string       // name of its drawing, unique in the kit: jig-angle-block-36
	Title    string       // in words: angle block 36°
	Use      string       // one or two sentences: how it is used, with the saw's setting
	Outline  geom.Contour // counter-clockwise, reliefs included
	Holes    []Hole
	Seats    []Seat
	Text     []Label        // never cut
	Marks    []geom.Contour // work that lies on the plate and not in it; scribed at most, never cut
	Quantity int            // how many the job needs
	For      []*star.Unit   // whose work it serves
	Screwed  bool           // to its other plates, to a base or to a fence: two at least go through it
	Hand     string         // left or right; "" for plates that serve both, or have none
	Angle    geom.Angle     // of an angle block
	Build    *Build         // how the jig is put together and used; nil for plates that only carry another
}

// Screws returns the outlines of the holes for screws.
func (j Jig) Screws() []geom.Contour {
	var out []geom.Contour
	for _, h := range j.Holes {
		if h.Kind == "screw" {
			out = append(out, h.Contour)
		}
	}
	return out
}

// Hole is an opening within a jig's outline.
type Hole struct {
	Kind    string       // clamp, screw, pin, window, relief, grip, drill
	Contour geom.Contour // counter-clockwise
}

// Seat is where work lies against a jig.
type Seat struct {
	What  string       // segment, off-cut segment, glued off-cuts, board, facet cut, saw fence
	Work  geom.Contour // the work's outline as it lies, counter-clockwise
	Edges []geom.Curve // the pieces of the jig's outline or windows it lies against; no tab may stand there
	Play  float64      // most play of the work in the seat, mm; 0 where it lies against open edges only
}

// Label is a line of text, left end of its baseline at At.
type Label struct {
	At     geom.Point
	Height float64 // mm
	Turn   geom.Angle
	Text   string
}

// Params are what the kit depends on besides the star.
type Params struct {
	Cutter   float64    // diameter that cuts the jigs, mm; 0 for a laser, which needs no reliefs
	MaxMiter geom.Angle // the saw's reach from a square cut
	// Room for one jig on the job's sheet, mm: sheet less margins. Jigs that can
	// be divided (the glue-up board) are made in sectors that fit it.
	MaxW, MaxH float64
	Corner     float64  // side of the squares in the room's corners that screws keep, mm
	Margin     float64  // of the sheet round the room, mm
	Thickness  float64  // of the sheet, mm
	Named      []string // jigs that the job names; nil where it leaves them open

	angles []geom.Angle // of the angle blocks that are wanted
}

// Keys lists the names of all jigs.
func Keys() []string {
	out := make([]string, len(makers))
	for i, m := range makers {
		out[i] = m.key
	}
	return out
}
