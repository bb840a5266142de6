package job

import (
	"fmt"
	"slices"
	"strings"

	"starwright/geom/words"
)

// ControllerTable is `[controller]`: what the machine's controller needs, told by
// what it does and not by its name. Left out, programs keep to what every
// controller reads.
type ControllerTable struct {
	Dwell         string  // "seconds", "milliseconds" or "none"
	End           string  // "M2" or "M30"
	Percent       bool    // lines of % round the program
	ProgramNumber int     // 0 for none
	LineNumbers   bool    // N before each block
	ArcCentres    bool    // G91.1 is written
	Path          string  // "", "exact", or "tolerance"
	PathTolerance float64 // mm, with "tolerance"
	Comments      string  // "parentheses", "semicolon" or "none"
	Unknown       []string
	LineEnds      string // "lf" or "crlf"
}

// Unknowable are the words that a program can do without: what they say is in
// force in most controllers when they are switched on, or is set by hand.
var Unknowable = []string{"S", "G17", "G40", "G54", "G80", "G94"}

func (r *reader) controller(j *Job) {
	s := r.section("controller")
	t := &j.Controller
	t.Dwell = s.choice("dwell", "G4 waits in seconds by the standard", "seconds", "milliseconds", "none")
	t.End = s.choice("end", "the end by the standard", "M2", "M30")
	t.Percent = s.truthy("percent", false, "some controllers refuse lines of %")
	if n := s.get("program_number"); n != nil {
		t.ProgramNumber, _ = s.wholeOf("program_number", n, 1, 9999, 1)
	}
	t.LineNumbers = s.truthy("line_numbers", false, "no controller misses them")
	t.ArcCentres = s.truthy("arc_centres", false, "some controllers refuse the word that says so")
	s.path(t)
	t.Comments = s.choice("comments", "as the standard has them", "parentheses", "semicolon", "none")
	t.Unknown = s.unknownWords("unknown")
	t.LineEnds = s.choice("line_ends", "every controller reads them", "lf", "crlf")
}

// path reads how close the controller is to keep to its path: "exact", or a
// length.
func (s section) path(t *ControllerTable) {
	const key = "path"
	n := s.get(key)
	if n == nil {
		return
	}
	if n.kind == text && n.text == "exact" {
		t.Path = n.text
		return
	}
	example := s.r.pick("0.01 mm", "0.0005 in")
	if v, ok := s.lengthOf(key, n, span{lo: 0.001, hi: 0.1, example: example, would: `path = "exact", or a tolerance such as path = ` + quote(example)}); ok {
		t.Path, t.PathTolerance = "tolerance", v
	}
}

// unknownWords reads the words that the controller does not know.
func (s section) unknownWords(key string) []string {
	n := s.get(key)
	if n == nil {
		return nil
	}
	if n.kind != list {
		s.fail(key, n, "write a list of words in brackets", `["`+Unknowable[0]+`"]`)
		return nil
	}
	var out []string
	for _, item := range n.items {
		word := strings.ToUpper(strings.TrimSpace(item.text))
		switch {
		case item.kind == text && slices.Contains(Unknowable, item.text):
			if !slices.Contains(out, item.text) {
				out = append(out, item.text)
			}
		case item.kind == text && slices.Contains(Unknowable, word):
			s.failTry(key, item, "words of programs are in upper case", quote(word))
		default:
			would := "leaving this word out"
			if w := words.Meant(word, Unknowable); w != "" {
				would = quote(w)
			}
			s.failTry(key, item, fmt.Sprintf("a program cannot do without this; it can do without %s", strings.Join(Unknowable, ", ")), would)
		}
	}
	return out
}
