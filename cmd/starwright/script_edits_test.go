package main

import (
	"encoding/json"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"
)

// sheetEdits are the slips of a hand that a sheet's program must not survive.
// Each takes the lines of a program, the diameter of its cutter (in the file's
// unit) and half a millimetre in that unit, and returns the changed lines with
// the lines, from 1, of which one must be named.
var sheetEdits = map[string]func(lines []string, cutter, half float64) (changed []string, from, to int){
	// The lines are those of the cut that now runs through the tab.
	"tab-lift": func(lines []string, _, _ float64) ([]string, int, int) {
		a, b := part(lines, "(the outline of ", 0)
		for i := b - 1; i > a; i-- {
			if lift.MatchString(lines[i]) {
				return cut(lines, i, i+1), i + 1, i + 1
			}
		}
		return nil, 0, 0
	},
	// The lines are those of the next pass, which has to take both.
	"pass": func(lines []string, _, _ float64) ([]string, int, int) {
		a, b := part(lines, "(the outline of ", 0)
		var falls []int // where a pass begins: along, and down
		for i := a; i < b; i++ {
			if fall.MatchString(lines[i]) {
				falls = append(falls, i)
			}
		}
		if len(falls) < 3 {
			return nil, 0, 0
		}
		return cut(lines, falls[1], falls[2]), falls[1] + 1, falls[1] + (b - falls[2])
	},
	// The way inside of the part, as far from its edge as it was outside: of a
	// part whose sides run along X and Y.
	"wrong-side": func(lines []string, cutter, _ float64) ([]string, int, int) {
		a, b := part(lines, "(the outline of tip cradle, base", 0)
		out := append([]string{}, lines...)
		box := map[string][2]float64{"X": span(lines[a:b], "X"), "Y": span(lines[a:b], "Y")}
		for i := a; i < b; i++ {
			out[i] = word.ReplaceAllStringFunc(out[i], func(w string) string {
				v, _ := strconv.ParseFloat(w[1:], 64)
				switch side := box[w[:1]]; v {
				case side[0]:
					v += cutter
				case side[1]:
					v -= cutter
				}
				return w[:1] + number(v)
			})
			out[i] = middle.ReplaceAllString(strings.NewReplacer("G2 ", "G1 ", "G3 ", "G1 ").Replace(out[i]), "")
		}
		return out, a + 1, b
	},
	// The outline of one part and all that is cut out of it.
	"moved": func(lines []string, _, half float64) ([]string, int, int) {
		out := append([]string{}, lines...)
		first, last := 0, 0
		for n := 0; ; n++ {
			a, b := part(lines, " of centre gauge", n)
			if a < 0 {
				return out, first, last
			}
			if n == 0 {
				first = a + 1
			}
			last = b
			for i := a; i < b; i++ {
				out[i] = regexp.MustCompile(`\bX[-.0-9]+`).ReplaceAllStringFunc(out[i], func(w string) string {
					v, _ := strconv.ParseFloat(w[1:], 64)
					return "X" + number(v+half)
				})
			}
		}
	},
	// What is left of the program has no line for the hole; one of the part's
	// outline is named, which is what leaves the part in the sheet.
	"hole": func(lines []string, _, _ float64) ([]string, int, int) {
		a, b := part(lines, "(hole ", 1)
		if a < 0 {
			return nil, 0, 0
		}
		of := strings.TrimSuffix(lines[a][strings.Index(lines[a], " of ")+len(" of "):], ")")
		out := cut(lines, a, b)
		from, to := part(out, "(the outline of "+of, 0)
		return out, from + 1, to
	},
	// A facet of a segment half a millimetre too deep in its middle.
	"into-facet": func(lines []string, _, half float64) ([]string, int, int) {
		f := lastFacet(lines)
		if f.line == 0 {
			return nil, 0, 0
		}
		mid := [2]float64{(f.from[0] + f.to[0]) / 2, (f.from[1] + f.to[1]) / 2}
		in := [2]float64{f.middle[0] - mid[0], f.middle[1] - mid[1]}
		by := half / math.Hypot(in[0], in[1]) / 0.8 // the way inwards is not square to the facet
		return inserted(lines, f.line, to([2]float64{mid[0] + by*in[0], mid[1] + by*in[1]})), f.line + 1, f.line + 2
	},
	// A tab on an edge cut through, and one left on a facet instead: the cutter is
	// lifted there, and comes down behind it by a ramp.
	"tab-on-facet": func(lines []string, cutter, _ float64) ([]string, int, int) {
		f := lastFacet(lines)
		a, b := part(lines, "(the outline of ", 0)
		k := b - 1
		for k > f.line && !lift.MatchString(lines[k]) {
			k--
		}
		if a < 0 || f.line == 0 || k == f.line {
			return nil, 0, 0
		}
		long := math.Hypot(f.to[0]-f.from[0], f.to[1]-f.from[1])
		at := func(mm float64) string {
			return to([2]float64{f.from[0] + (f.to[0]-f.from[0])*mm/long, f.from[1] + (f.to[1]-f.from[1])*mm/long})
		}
		const begin, tab, ramp = 8.0, 6.1, 20.0 // mm
		end := begin + tab + cutter
		out := inserted(lines, f.line, at(begin), lines[k], at(end), at(end+ramp)+" Z"+f.z+" F500.0", at(end), "F2050.0")
		return cut(out, k+6, k+7), f.line, f.line + 6
	},
	// The cutter is not lifted before it goes to the next part.
	"rapid": func(lines []string, _, _ float64) ([]string, int, int) {
		_, b := part(lines, "(the outline of ", 0)
		i := b - 1
		for i > 0 && !strings.HasPrefix(lines[i-1], "G1 X") && !strings.HasPrefix(lines[i-1], "G1 Y") {
			i--
		}
		for b < len(lines) && !strings.HasPrefix(lines[b], "G0 X") {
			b++
		}
		return cut(lines, i, b), i + 1, i + 1
	},
}

var (
	lift   = regexp.MustCompile(`^G1 Z-[.0-9]+$`)
	fall   = regexp.MustCompile(`^G1 [XY][-.0-9 XY]* Z-[.0-9]+( F[.0-9]+)?$`)
	word   = regexp.MustCompile(`\b[XY][-.0-9]+`)
	middle = regexp.MustCompile(` [IJ][-.0-9]+`)
)

func number(v float64) string { return strconv.FormatFloat(v, 'f', 4, 64) }

// facet is the last line of a segment's outline that cuts along a facet: of the
// straights of a kite those two that are steeper to X.
type facet struct {
	line             int // in front of it, from 0
	from, to, middle [2]float64
	z                string
}

func lastFacet(lines []string) (f facet) {
	const steep = 0.5 // facets of a star of five points rise by 0.73, edges by 0.32
	a, b := part(lines, "(the outline of ", 0)
	at, z, n := [2]float64{}, "", 0.0
	for i := a; i < b; i++ {
		was := at
		for _, w := range regexp.MustCompile(`\b[XYZ][-.0-9]+`).FindAllString(lines[i], -1) {
			v, _ := strconv.ParseFloat(w[1:], 64)
			switch w[0] {
			case 'X':
				at[0] = v
			case 'Y':
				at[1] = v
			case 'Z':
				z = w[1:]
			}
		}
		f.middle[0], f.middle[1], n = f.middle[0]+at[0], f.middle[1]+at[1], n+1
		dx, dy := math.Abs(at[0]-was[0]), math.Abs(at[1]-was[1])
		if strings.HasPrefix(lines[i], "G1 X") && dx > 20 && dy > steep*dx && strings.HasPrefix(z, "-19") {
			f.line, f.from, f.to, f.z = i, was, at, z
		}
	}
	f.middle[0], f.middle[1] = f.middle[0]/n, f.middle[1]/n
	return f
}

func to(p [2]float64) string { return "G1 X" + number(p[0]) + " Y" + number(p[1]) }

// inserted is the program with lines put in before a line.
func inserted(lines []string, at int, more ...string) []string {
	return slices.Concat(lines[:at], more, lines[at:])
}

// part returns the lines of the nth section, from 0, whose comment has a text;
// -1 where there is none.
func part(lines []string, text string, n int) (from, to int) {
	for i, l := range lines {
		if !strings.HasPrefix(l, "(") || !strings.Contains(l, text) || i+1 < len(lines) && strings.HasPrefix(lines[i+1], "(") {
			continue
		}
		if n--; n >= 0 {
			continue
		}
		for k := i + 1; k < len(lines); k++ {
			if strings.HasPrefix(lines[k], "(") || lines[k] == "M5" {
				return i, k
			}
		}
	}
	return -1, -1
}

func cut(lines []string, from, to int) []string {
	return append(append([]string{}, lines[:from]...), lines[to:]...)
}

// span returns the least and the largest value of a word.
func span(lines []string, letter string) [2]float64 {
	s := [2]float64{1e9, -1e9}
	for _, w := range word.FindAllString(strings.Join(lines, "\n"), -1) {
		if v, err := strconv.ParseFloat(w[1:], 64); err == nil && w[:1] == letter {
			s = [2]float64{min(s[0], v), max(s[1], v)}
		}
	}
	return s
}

// editSheet copies a sheet's program and changes it by one of [sheetEdits]:
//
//	editsheet tab-lift packet/gcode/jigs-1.nc 6.35 0.5
//
// The numbers are the cutter's diameter and half a millimetre, in the file's
// unit. A following `named` asks whether one of the lines at fault was named.
func editSheet(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 4 || sheetEdits[args[0]] == nil {
		ts.Fatalf("usage: editsheet KIND FILE CUTTER HALF")
	}
	cutter, err := strconv.ParseFloat(args[2], 64)
	ts.Check(err)
	half, err := strconv.ParseFloat(args[3], 64)
	ts.Check(err)
	lines := strings.Split(ts.ReadFile(args[1]), "\n")
	changed, from, to := sheetEdits[args[0]](lines, cutter, half)
	if from < 1 || strings.Join(changed, "\n") == strings.Join(lines, "\n") {
		ts.Fatalf("%s has nothing for the edit %s", args[1], args[0])
	}
	ts.Setenv("FROM", strconv.Itoa(from))
	ts.Setenv("TO", strconv.Itoa(to))
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), []byte(strings.Join(changed, "\n")), 0o644))
}

// named asks that the document that the last `check --json` printed has a
// finding of a line that the last editsheet touched, with a text:
//
//	named jigs-1.nc 'held by 3 tabs'
func named(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: named FILE TEXT")
	}
	from, err := strconv.Atoi(ts.Getenv("FROM"))
	ts.Check(err)
	to, err := strconv.Atoi(ts.Getenv("TO"))
	ts.Check(err)
	var doc any
	ts.Check(json.Unmarshal([]byte(ts.ReadFile("stdout")), &doc))
	text, found := regexp.MustCompile(args[1]), false
	eachFinding(doc, func(file, what string, line int) {
		found = found || strings.HasSuffix(file, args[0]) && line >= from && line <= to && text.MatchString(what)
	})
	if !found {
		ts.Fatalf("no line from %d to %d of %s is named with %q:\n%s", from, to, args[0], args[1], ts.ReadFile("stdout"))
	}
}

// eachFinding calls f for every finding anywhere in a document.
func eachFinding(doc any, f func(file, what string, line int)) {
	switch v := doc.(type) {
	case []any:
		for _, one := range v {
			eachFinding(one, f)
		}
	case map[string]any:
		what, is := v["what"].(string)
		line, _ := v["line"].(float64)
		if file, _ := v["file"].(string); is {
			f(file, what, int(line))
		}
		for _, one := range v {
			eachFinding(one, f)
		}
	}
}
