package toolpath

import "slices"

// Controller says what the controller of a machine needs of a program, besides
// the subset that every one reads. The zero value is that subset: waits in
// seconds, M2 at the end, comments in parentheses, no % lines, no numbers, lines
// that end with LF.
type Controller struct {
	Dwell       Dwell
	EndM30      bool    // M30 ends the program instead of M2
	Percent     bool    // a line of % before and behind the program
	Number      int     // of the program, written after O; 0 for none
	LineNumbers bool    // N before each block
	Centres     bool    // G91.1: centres of arcs are steps from the start
	ExactPath   bool    // G61: stop at each corner
	PathMM      float64 // G64 with P: how far it may leave its path; 0 leaves it to the controller
	Comments    Comments
	Unknown     []string // words that it does not know: S, or a code of the modes
	CRLF        bool     // lines end with CR and LF
}

// Dwell is in what a controller counts the wait of G4.
type Dwell uint8

// The ways.
const (
	DwellSeconds Dwell = iota
	DwellMilliseconds
	DwellNone // it has no G4
)

// Comments is how a controller wants its comments.
type Comments uint8

// The ways.
const (
	Parentheses Comments = iota
	Semicolon
	NoComments
)

// Knows reports whether the controller knows a word.
func (c *Controller) Knows(word string) bool { return !slices.Contains(c.Unknown, word) }
