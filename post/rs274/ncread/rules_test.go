package ncread

import (
	"slices"
	"strings"
	"testing"

	"starwright/toolpath"
	"starwright/toolpath/finding"
)

// prelude says all that a program has to say and takes the cutter to
// X0 Y0 Z10; its 11 lines stand before the block under test.
const prelude = "G17\nG21\nG40\nG54\nG80\nG90\nG94\nG0 Z10.0\nG0 X0.0 Y0.0\nS18000 M3\nG4 P2.0\n"

// closing ends a program as the contract asks.
const closing = "M5\nM2\n"

const preludeLines = 11

// replay reads a program and returns its report and the moves handed out.
func replay(t testing.TB, text string) (Report, []toolpath.Move) {
	t.Helper()
	var moves []toolpath.Move
	rep, err := Read(strings.NewReader(text), "t.nc", Events{Move: func(m *toolpath.Move) error {
		moves = append(moves, *m)
		return nil
	}})
	if err != nil {
		t.Fatalf("Read: %v", err)
	}
	if rep.Moves != len(moves) {
		t.Errorf("Moves = %d, handed out %d", rep.Moves, len(moves))
	}
	return rep, moves
}

// broken returns the rules of the findings, sorted and each once.
func broken(r Report) []string {
	var out []string
	for _, f := range r.Findings {
		out = append(out, f.Rule)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// row is one rule broken by a block and kept by another that is nearly the
// same. A block that begins with "!" is a whole program.
type row struct {
	name   string
	source string // where the rule stands
	rule   string
	bad    string
	good   string
	also   string // a second rule that the block cannot help but break
}

// The error rules of NISTIR 6556, by clause.
var standardRows = []row{
	{name: "257 characters", source: "§3.3", rule: "std-line-length",
		bad: "G1 X1.0 F100.0" + strings.Repeat(" ", 243), good: "G1 X1.0 F100.0" + strings.Repeat(" ", 242)},
	{name: "5000 characters", source: "§3.3, not read at all", rule: "std-line-length", also: "sub-start-unknown",
		bad: "G1 X1.0 F100.0" + strings.Repeat(" ", 5000) + "\nG1 X2.0 Y0.0 Z1.0 F100.0", good: "G1 X1.0 F100.0"},
	{name: "question mark", source: "§3.3", rule: "std-character", bad: "G1 X1.0 F100.0 ?", good: "G1 X1.0 F100.0"},
	{name: "byte order mark", source: "§3.3", rule: "std-character", bad: "\xef\xbb\xbfG1 X1.0 F100.0", good: "G1 X1.0 F100.0"},
	{name: "slash not first", source: "§3.3, order of items", rule: "std-character", bad: "G1 / X1.0 F100.0", good: "G1 X1.0 F100.0"},
	{name: "O word", source: "Table 3, App. E.3", rule: "std-letter", bad: "O1000", good: "N1000"},
	{name: "U word", source: "Table 3, App. E.3", rule: "std-letter", bad: "G1 X1.0 U2.0 F100.0", good: "G1 X1.0 F100.0"},
	{name: "exponent", source: "§3.3.2.1, App. E real_number", rule: "std-letter", bad: "G1 X1e1 F100.0", good: "G1 X10 F100.0"},
	{name: "no number", source: "§3.3.2.1", rule: "std-number", bad: "G1 X Y1.0 F100.0", good: "G1 X0 Y1.0 F100.0"},
	{name: "point without digit", source: "§3.3.2.1", rule: "std-number", bad: "G1 X. Y1.0 F100.0", good: "G1 X.0 Y1. F100.0"},
	{name: "two points", source: "§3.3.2.1", rule: "std-number", bad: "G1 X1.0.5 F100.0", good: "G1 X1.05 F100.0"},
	{name: "two signs", source: "§3.3.2.1", rule: "std-number", bad: "G1 X--1.0 F100.0", good: "G1 X-1.0 F100.0"},
	{name: "number alone", source: "§3.3.2", rule: "std-number", bad: "12.5", good: "F12.5"},
	{name: "endless number", source: "our bound, 1e9", rule: "std-number", bad: "G1 X" + strings.Repeat("9", 60) + " Y1.0 F100.0", good: "G1 X" + strings.Repeat("0", 60) + "9 Y1.0 F100.0"},
	{name: "comment within a word", source: "§3.3.2", rule: "std-number", bad: "G1 X(to)1.0 Y1.0 F100.0", good: "G1 (to) X1.0 Y1.0 F100.0"},
	{name: "line number with a point", source: "§3.3.1", rule: "std-line-number", bad: "N1.5 G1 X1.0 F100.0", good: "N15 G1 X1.0 F100.0"},
	{name: "line number not first", source: "§3.3.1", rule: "std-line-number", bad: "G1 N10 X1.0 F100.0", good: "N10 G1 X1.0 F100.0"},
	{name: "comment not closed", source: "§3.3.4", rule: "std-comment-open", bad: "G1 X1.0 F100.0 (left open", good: "G1 X1.0 F100.0 (closed)"},
	{name: "comment over two lines", source: "§3.3.4", rule: "std-comment-open", bad: "(left open\n)", also: "std-character", good: "(closed)"},
	{name: "comment in a comment", source: "§3.3.4", rule: "std-comment-nested", bad: "(slot (left)", good: "(slot left)"},
	{name: "G0 with G1", source: "§3.3.5, Table 4 group 1", rule: "std-group", bad: "G0 G1 X1.0 F100.0", good: "G94 G1 X1.0 F100.0"},
	{name: "G17 with G18", source: "§3.3.5, Table 4 group 2", rule: "std-group", bad: "G18 G17", good: "G17 G90"},
	{name: "G90 with G91", source: "§3.3.5, Table 4 group 3", rule: "std-group", bad: "G91 G90", good: "G90 G94"},
	{name: "G93 with G94", source: "§3.3.5, Table 4 group 5", rule: "std-group", bad: "G93 G94", good: "G94 G21"},
	{name: "G20 with G21", source: "§3.3.5, Table 4 group 6", rule: "std-group", bad: "G20 G21", good: "G21 G40"},
	{name: "G40 with G41", source: "§3.3.5, Table 4 group 7", rule: "std-group", bad: "G41 G40", good: "G40 G54"},
	{name: "G43 with G49", source: "§3.3.5, Table 4 group 8", rule: "std-group", bad: "G43 G49", good: "G49"},
	{name: "G98 with G99", source: "§3.3.5, Table 4 group 10", rule: "std-group", bad: "G98 G99", good: "G98"},
	{name: "G54 with G55", source: "§3.3.5, Table 4 group 12", rule: "std-group", bad: "G55 G54", good: "G54 G80"},
	{name: "G61 with G64", source: "§3.3.5, Table 4 group 13", rule: "std-group", bad: "G64 G61", good: "G61"},
	{name: "two non-modal codes", source: "§3.3.5, Table 4 group 0", rule: "std-group", bad: "G53 G4 P1.0", good: "G4 P1.0"},
	{name: "M3 with M5", source: "§3.3.5, Table 4 group M 7", rule: "std-group", bad: "M5 M3 S18000", good: "M3 S18000"},
	{name: "M0 with M2", source: "§3.3.5, Table 4 group M 4", rule: "std-group", also: "std-after-end", bad: "M5\nM0 M2", good: "M5\nM0"},
	{name: "M8 with M9", source: "§3.3.5, Table 4 group M 8", rule: "std-group", bad: "M8 M9", good: "M9"},
	{name: "M48 with M49", source: "§3.3.5, Table 4 group M 9", rule: "std-group", bad: "M49 M48", good: "M48"},
	{name: "X twice", source: "§3.3.5", rule: "std-repeat", bad: "G1 X1.0 X2.0 F100.0", good: "G1 X1.0 Y2.0 F100.0"},
	{name: "F twice", source: "§3.3.5", rule: "std-repeat", bad: "G1 X1.0 F100.0 F100.0", good: "G1 X1.0 F100.0"},
	{name: "five M words", source: "§3.3.5", rule: "std-m-count", also: "sub-tool", bad: "M3 M9 M48 M6 M2\n!", good: "M3 M9 M48"},
	{name: "no such G code", source: "Table 4", rule: "std-code", bad: "G5 X1.0 Y1.0", good: "G1 X1.0 Y1.0 F100.0"},
	{name: "G between codes", source: "§3.3.2.1, closeness 0.0001", rule: "std-code", bad: "G1.001 X1.0 F100.0", good: "G1.00005 X1.0 F100.0"},
	{name: "no such M code", source: "Table 4", rule: "std-code", bad: "M98 P1000", also: "std-word-unused", good: "M48"},
	{name: "negative G", source: "Table 4", rule: "std-code", bad: "G-1 X1.0 F100.0", good: "G01 X1.0 F100.0"},
	{name: "percent in the middle", source: "§3.1", rule: "std-percent", bad: "G0 X1.0\nM5\n%", good: "G0 X1.0"},
	{name: "percent with words", source: "§3.1", rule: "std-percent", bad: "% G1 X1.0 F100.0", good: "G1 X1.0 F100.0"},
	{name: "G92 with G1", source: "§3.4", rule: "std-axis-shared", also: "sub-coordinates", bad: "G92 G1 X1.0 F100.0", good: "G1 X1.0 F100.0"},
	{name: "G28 with G0", source: "§3.4", rule: "std-axis-shared", also: "sub-coordinates", bad: "G28 G0 X1.0", good: "G0 X1.0"},
	{name: "G0 alone", source: "§3.5.1", rule: "std-axis-missing", bad: "G0", good: "G0 X0"},
	{name: "G1 alone", source: "§3.5.2", rule: "std-axis-missing", bad: "G1 F100.0", good: "G1 X0 F100.0"},
	{name: "G4 without P", source: "§3.5.4", rule: "std-dwell", bad: "G4", good: "G4 P0.0"},
	{name: "negative dwell", source: "§3.5.4", rule: "std-dwell", bad: "G4 P-1.0", good: "G4 P1.0"},
	{name: "arc without X and Y", source: "§3.5.3.2", rule: "std-arc-words", bad: "G2 I5.0 F100.0", good: "G2 X0.0 I5.0 F100.0"},
	{name: "arc without I and J", source: "§3.5.3.2", rule: "std-arc-words", bad: "G2 X10.0 F100.0", good: "G2 X10.0 I5.0 F100.0"},
	{name: "arc with R and I", source: "§3.5.3", rule: "std-arc-words", bad: "G2 X10.0 I5.0 R5.0 F100.0", good: "G2 X10.0 R5.0 F100.0"},
	{name: "radii differ by 0.003 mm", source: "§3.5.3.2, 0.002 mm", rule: "std-arc-radius", bad: "G2 X10.003 I5.0 F100.0", good: "G2 X10.002 I5.0 F100.0"},
	{name: "radii differ by 0.0003 in", source: "§3.5.3.2, 0.0002 in", rule: "std-arc-radius",
		bad: "!" + inch("G2 X1.0003 I0.5 F10.0"), good: "!" + inch("G2 X1.0002 I0.5 F10.0")},
	{name: "arc of radius zero", source: "§3.5.3.2", rule: "std-arc-radius", bad: "G2 X0.0 I0.0 F100.0", good: "G2 X0.0 I1.0 F100.0"},
	{name: "arc by radius to its start", source: "§3.5.3.1", rule: "std-arc-by-radius", bad: "G2 X0.0 R5.0 F100.0", good: "G2 X5.0 R5.0 F100.0"},
	{name: "arc by radius too far", source: "§3.5.3.1", rule: "std-arc-by-radius", bad: "G2 X10.1 R5.0 F100.0", good: "G2 X10.0 R5.0 F100.0"},
	{name: "axis words under G80", source: "§3.5.15", rule: "std-motion-mode", bad: "G80\nX1.0", good: "G80\nG0 X1.0"},
	{name: "axis words with no motion yet", source: "§3.5.15, start state G80", rule: "std-motion-mode",
		bad: "!G17 G21 G40 G54 G90 G94\nX1.0\nM2\n", good: "!G17 G21 G40 G54 G90 G94\nG0 Z1.0\nM2\n"},
	{name: "feed of zero", source: "§3.7.1 (from memory)", rule: "std-feed", bad: "F0", good: "F1"},
	{name: "negative feed", source: "§3.7.1 (from memory)", rule: "std-feed", bad: "F-100.0", good: "F100.0"},
	{name: "negative speed", source: "§3.7.2", rule: "std-speed", bad: "S-1", good: "S0"},
	{name: "I without an arc", source: "§3.3", rule: "std-word-unused", bad: "G1 X1.0 I1.0 F100.0", good: "G2 X2.0 I1.0 F100.0"},
	{name: "P without a dwell", source: "§3.3", rule: "std-word-unused", bad: "P2.0", good: "G4 P2.0"},
	{name: "K in the XY plane", source: "§3.5.3.2", rule: "std-word-unused", bad: "G2 X2.0 I1.0 K1.0 F100.0", good: "G2 X2.0 I1.0 F100.0"},
	{name: "text after M2", source: "§3.6.1", rule: "std-after-end", bad: "!" + prelude + closing + "G0 X1.0\n", good: "!" + prelude + closing + "\n \n(the end)\nN50\n; so it is\n%\n"},
	{name: "a second program", source: "§3.6.1", rule: "std-after-end", bad: "!" + prelude + closing + prelude + closing, good: ""},
	{name: "signs after M2", source: "§3.6.1", rule: "std-after-end", bad: "!" + prelude + closing + "=\n", good: ""},
	{name: "percent instead of M2", source: "§3.1", rule: "std-end-missing", bad: "!%\n" + prelude + "M5\n%\n", good: ""},
	{name: "no end", source: "§3.1, §3.6.1", rule: "std-end-missing", bad: "!" + prelude + "M5\n", good: ""},
	{name: "empty file", source: "§3.1", rule: "std-end-missing", bad: "!", good: ""},
	{name: "comments only", source: "§3.1", rule: "std-end-missing", bad: "!(nothing here)\n\n", good: ""},
}

// What is valid RS-274 and refused, REFERENCES of small controllers' ways:
// common practice and the published listings of their parsers.
var subsetRows = []row{
	{name: "block delete", rule: "sub-block-delete", bad: "/G1 X1.0 F100.0", good: "G1 X1.0 F100.0"},
	{name: "parameter setting", rule: "sub-parameter", bad: "#3=15 G1 X1.0 F100.0", good: "G1 X1.0 F100.0"},
	{name: "parameter setting by an expression", rule: "sub-parameter", bad: "# [1+[2]] = atan[1]/[2] G1 X1.0 F100.0", good: "G1 X1.0 F100.0"},
	{name: "bracket left open", rule: "sub-expression", bad: "G1 Y1.0 F100.0 X[1+[2]", good: "G1 Y1.0 F100.0 X3"},
	{name: "parameter value", rule: "sub-parameter", bad: "G1 X#3 Y1.0 F100.0", good: "G1 X3 Y1.0 F100.0"},
	{name: "expression", rule: "sub-expression", bad: "G1 X[1+[2*3]] Y1.0 F100.0", good: "G1 X7 Y1.0 F100.0"},
	{name: "function", rule: "sub-expression", bad: "G1 X-sin[30] Yatan[1]/[2] F100.0", good: "G1 X.5 F100.0"},
	{name: "A word", rule: "sub-axis", bad: "G1 X1.0 A90.0 F100.0", good: "G1 X1.0 F100.0"},
	{name: "T word", rule: "sub-tool", bad: "T1", good: "(T1)"},
	{name: "M6", rule: "sub-tool", bad: "M6\nM3", good: "M3"},
	{name: "G41", rule: "sub-cutter-comp", bad: "G41 D1", good: "G40"},
	{name: "G42", rule: "sub-cutter-comp", bad: "G42", good: "G40"},
	{name: "G43", rule: "sub-tool-length", bad: "G43 H1", good: "G49"},
	{name: "G81", rule: "sub-cycle", bad: "G81 X1.0 Y1.0 Z-1.0 R1.0", good: "G1 X1.0 F100.0"},
	{name: "G83", rule: "sub-cycle", bad: "G83 X1.0 Z-9.0 R1.0 Q1.0", good: "G1 X1.0 F100.0"},
	{name: "G38.2", rule: "sub-probe", bad: "G38.2 Z-9.0", good: "G1 Z9.0 F100.0"},
	{name: "arc in G18", rule: "sub-plane", bad: "G18 G2 X1.0 Z10.0 K1.0 I0.5 F100.0", good: "G17 G2 X1.0 I0.5 F100.0"},
	{name: "G55", rule: "sub-work-offset", bad: "G55", good: "G54"},
	{name: "G59.3", rule: "sub-work-offset", bad: "G59.3", good: "G54"},
	{name: "G10", rule: "sub-coordinates", bad: "G10 L2 P1 X0.0", good: "G0 X0.0"},
	{name: "G28", rule: "sub-coordinates", bad: "G28", good: "G0 Z10.0"},
	{name: "G30", rule: "sub-coordinates", bad: "G30", good: "G0 Z10.0"},
	{name: "G53", rule: "sub-coordinates", bad: "G53 G0 Z0.0", good: "G0 Z10.0"},
	{name: "G92", rule: "sub-coordinates", bad: "G92 X0.0", good: "G0 X0.0"},
	{name: "G92.1 after G92", rule: "sub-coordinates", bad: "G92 X0.0\nG92.1", good: "G92.1"},
	{name: "G93", rule: "sub-inverse-time", bad: "G93", good: "G94"},
	{name: "G64", rule: "sub-path-control", bad: "G64", good: "G61"},
	{name: "M1", rule: "sub-optional-stop", bad: "M5\nM1", good: "M5\nM0"},
	{name: "M4", rule: "sub-reverse", bad: "M4", good: "M3"},
	{name: "M7", rule: "sub-coolant", bad: "M7", good: "M9"},
	{name: "M8", rule: "sub-coolant", bad: "M8", good: "M9"},
	{name: "M49", rule: "sub-override", bad: "M49", good: "M48"},
	{name: "M60", rule: "sub-pallet", bad: "M5\nM60", good: "M5\nM0"},
	{name: "whole P", rule: "sub-dwell-integer", bad: "G4 P2", good: "G4 P2."},
	{name: "comment outside ASCII", rule: "sub-comment-ascii", bad: "(6.35 mm Ø)", good: "(6.35 mm dia)"},
	{name: "NUL in a comment", rule: "sub-comment-ascii", bad: "(a\x00b)", good: "(a\tb)"},

	{name: "lines that end with CR", source: "§3.3; a strict interpreter drops CR as a blank", rule: "sub-line-end",
		bad: "!" + strings.ReplaceAll(prelude+closing, "\n", "\r"), good: "!" + strings.ReplaceAll(prelude+closing, "\n", "\r\r\n")},
	{name: "CR within a line", source: "§3.3; a strict interpreter drops CR as a blank", rule: "sub-line-end", bad: "G1 X1.0\rF100.0", also: "sub-feed-unset", good: "G1 X1.0 F100.0\r"},
	{name: "centres as places", rule: "sub-centres", bad: "G90.1", good: "G91.1"},
	{name: "G94 after the feed", source: "a strict interpreter says: zero feed rate", rule: "sub-feed-forgotten", bad: "G1 X1.0 F100.0\nG94\nG1 X2.0", good: "G1 X1.0 F100.0\nG94\nG1 X2.0 F100.0"},
	{name: "G94 on the line of the cut", source: "Table 8: G94 is step 2, motion step 20", rule: "sub-feed-forgotten", bad: "F100.0\nG94 G1 X1.0", good: "F50.0\nG94 G1 X1.0 F100.0"},

	{name: "no unit", rule: "sub-units-unset", bad: without("G21"), good: ""},
	{name: "F before the unit", source: "Table 8: F is step 3, units step 12", rule: "sub-units-unset",
		bad: "!F100.0 G21\n" + prelude + closing, good: "!G21\nF100.0\n" + prelude + closing},
	{name: "unit after motion", rule: "sub-units-changed", bad: "G20", good: "G21"},
	{name: "unit changed before motion", rule: "sub-units-changed", bad: "!G20\n" + prelude + closing, good: "!G21\n" + prelude + closing},
	{name: "no distance mode", rule: "sub-distance-unset", bad: without("G90"), good: ""},
	{name: "no work offset", rule: "sub-offset-unset", bad: without("G54"), good: ""},
	{name: "arc without a plane", rule: "sub-plane-unset", bad: without("G17"), good: ""},
	{name: "no feed", rule: "sub-feed-unset", bad: "G1 X1.0", good: "G1 X1.0 F100.0"},
	{name: "no speed", rule: "sub-speed-unset", bad: "!" + strings.Replace(prelude, "S18000 M3", "M3", 1) + closing, good: ""},
	{name: "spindle never started", rule: "sub-spindle-off", bad: without("S18000 M3"), good: ""},
	{name: "spindle stopped", rule: "sub-spindle-off", bad: "M5\nG1 X1.0 F100.0\nM3", good: "M5\nM3\nG1 X1.0 F100.0"},
	{name: "speed zero", rule: "sub-spindle-off", bad: "S0\nG1 X1.0 F100.0", good: "S1\nG1 X1.0 F100.0"},
	{name: "M5 on the line of the cut", source: "Table 8: M5 is step 7, motion step 20", rule: "sub-spindle-off", bad: "G1 X1.0 F100.0 M5\nM3", good: "G1 X1.0 F100.0 M3"},
	{name: "cut from an unknown place", rule: "sub-start-unknown", bad: without("G0 X0.0 Y0.0"), good: ""},
	{name: "step from an unknown place", rule: "sub-start-unknown", bad: "!" + strings.Replace(prelude, "G0 Z10.0", "G91 G0 Z10.0\nG90 G0 Z10.0", 1) + closing, good: ""},
	{name: "travel at an unknown height", rule: "sub-height-unknown",
		bad: "!" + strings.Replace(prelude, "G0 Z10.0\nG0 X0.0 Y0.0", "G0 X0.0 Y0.0\nG0 Z10.0", 1) + closing, good: ""},
	{name: "all three axes at once", rule: "sub-height-unknown",
		bad: "!" + strings.Replace(prelude, "G0 Z10.0\nG0 X0.0 Y0.0", "G0 X0.0 Y0.0 Z10.0", 1) + closing, good: ""},
	{name: "beyond 100 m", rule: "sub-size", bad: "G0 X100001.0", good: "G0 X100000.0"},
	{name: "feed of 2 km a minute", rule: "sub-size", bad: "G1 X1.0 F2000000.0", good: "G1 X1.0 F20000.0"},
	{name: "speed of 2 million", rule: "sub-size", bad: "S2000000", good: "S24000"},
	{name: "M0 with the spindle on", rule: "sub-spindle-at-stop", bad: "M0", good: "M5\nM0"},
	{name: "M2 with the spindle on", rule: "sub-spindle-at-end", bad: "!" + prelude + "M2\n", good: "!" + prelude + "M5 M2\n"},
}

// Harmless: read properly, remarked on at most.
var noteRows = []row{
	{name: "steps", rule: "sub-incremental", bad: "G91\nG1 X1.0 F100.0", good: "G90\nG1 X1.0 F100.0"},
	{name: "arc by radius", rule: "sub-radius-arc", bad: "G2 X5.0 R5.0 F100.0", good: "G2 X10.0 I5.0 F100.0"},
	{name: "71 characters", rule: "sub-line-length", bad: "(" + strings.Repeat("x", 69) + ")", good: "(" + strings.Repeat("x", 68) + ")"},
	{name: "no G94", rule: "sub-feed-mode-unset", bad: without("G94"), good: "G1 X1.0 F100.0"},
	{name: "no G40", rule: "sub-comp-unset", bad: without("G40"), good: "G1 X1.0 F100.0"},
	{name: "live character", rule: "sub-live-character", bad: "(careful!)", good: "(careful)"},
	{name: "G49", rule: "sub-idle-word", bad: "G49", good: "G40"},
	{name: "M30", rule: "sub-idle-word", bad: "!" + prelude + "M5\nM30\n", good: ""},
	{name: "long dwell", rule: "sub-dwell-long", bad: "G4 P2000.0", good: "G4 P2.0"},
	{name: "on from where a stop was", source: "§3.6.1: the operator may do anything", rule: "sub-stop-place", bad: "M5\nM0\nS18000 M3\nG0 X1.0", good: "M5\nM0\nG0 Z10.0\nS18000 M3\nG0 X1.0"},
	{name: "down before X and Y", rule: "sub-stop-place", bad: "M5\nM0\nS18000 M3\nG0 Z10.0\nG1 Z5.0 F100.0", good: "M5\nM0\nS18000 M3\nG0 Z10.0\nG0 X1.0 Y0.0\nG1 Z5.0 F100.0"},
	{name: "up and over at once", rule: "sub-stop-place", bad: "M5\nM0\nS18000 M3\nG0 X0.0 Y0.0 Z10.0", good: "M5\nM0\nS18000 M3\nG0 Z10.0\nG0 X0.0 Y0.0"},
	{name: "percent lines", rule: "sub-percent", bad: "!%\n" + prelude + closing + "%\n", good: ""},
	{name: "percent line never closed", rule: "sub-percent", bad: "!%\n" + prelude + closing, good: ""},
	{name: "semicolon", source: "App. E.2, E.3 (absence)", rule: "sub-semicolon", bad: "G1 X1.0 F100.0 ; there (so", good: "G1 X1.0 F100.0 (there)"},
	{name: "six digits", source: "§3.3.1, 000009 not allowed", rule: "sub-line-number", bad: "N000009 G1 X1.0 F100.0", good: "N00009 G1 X1.0 F100.0"},
	{name: "comment of 5000 characters", source: "§3.3", rule: "sub-comment-long", bad: "G1 X1.0 F100.0 (" + strings.Repeat("x", 5000) + ")", good: "G1 X1.0 F100.0 (" + strings.Repeat("x", 50) + ")"},
	{name: "long comment after a semicolon", source: "§3.3", rule: "sub-comment-long", bad: "G1 X1.0 F100.0 ;" + strings.Repeat("x", 5000), good: "G1 X1.0 F100.0"},
	{name: "G18 and no arc", source: "§3.5.2", rule: "sub-plane-idle", bad: "G18\nG1 X1.0 F100.0\nG17", good: "G17\nG17"},
	{name: "G19 and no arc to the end", source: "§3.5.2", rule: "sub-plane-idle", bad: "G19", good: "G17"},
	{name: "G91.1", source: "not in Table 4", rule: "sub-centres-idle", bad: "G91.1", good: "G91"},
	{name: "G92.1 with nothing set", source: "§3.5.18", rule: "sub-offset-idle", bad: "G92.1\nG92.2 G0 X1.0", good: "G0 X1.0"},
}

// without is a program that cuts, and lacks one line of the prelude.
func without(line string) string {
	return "!" + strings.Replace(prelude, line+"\n", "", 1) + "G2 X2.0 Y0.0 Z10.0 I1.0 F100.0\n" + closing
}

// inch is a program in inches around one block.
func inch(block string) string {
	return strings.Replace(prelude, "G21", "G20", 1) + block + "\n" + closing
}

// program builds the program of a row's block.
func program(block string) string {
	if whole, ok := strings.CutPrefix(block, "!"); ok {
		return whole
	}
	if cut, ok := strings.CutSuffix(block, "\n!"); ok {
		return prelude + cut
	}
	return prelude + block + "\n" + closing
}

func TestRules(t *testing.T) {
	covered := map[string]bool{}
	names := map[string]bool{}
	for _, rows := range [][]row{standardRows, subsetRows, noteRows} {
		for _, r := range rows {
			if names[r.name] {
				t.Errorf("two rows are called %q", r.name)
			}
			names[r.name], covered[r.rule] = true, true
			t.Run(r.name, func(t *testing.T) { checkRow(t, r) })
		}
	}
	for _, r := range rules {
		if !covered[r.Name] {
			t.Errorf("rule %s has no row", r.Name)
		}
		if strings.HasPrefix(r.Name, "std-") != (r.Clause != "") {
			t.Errorf("rule %s has clause %q", r.Name, r.Clause)
		}
		if r.Why == "" {
			t.Errorf("rule %s gives no reason", r.Name)
		}
	}
}

func checkRow(t *testing.T, r row) {
	bad, _ := replay(t, program(r.bad))
	note := false
	for _, rule := range rules {
		note = note || (rule.Name == r.rule && rule.Note)
	}
	want := []string{r.rule}
	if note {
		want = nil
		if !bad.Has(r.rule) {
			t.Errorf("no note %s", r.rule)
		}
	}
	if r.also != "" {
		want = append(want, r.also)
		slices.Sort(want)
	}
	// A row of a rule may break further rules of the other layer only.
	for _, rule := range broken(bad) {
		if !slices.Contains(want, rule) && (strings.HasPrefix(rule, "std-") || !strings.HasPrefix(r.rule, "std-")) {
			t.Errorf("unexpected %s in %v", rule, bad.Findings)
		}
	}
	for _, rule := range want {
		if !slices.Contains(broken(bad), rule) {
			t.Errorf("%s was not found; found %v", rule, bad.Findings)
		}
	}
	if len(bad.Findings) > 0 && !strings.HasPrefix(r.bad, "!") {
		f := bad.Findings[0]
		if f.Line <= preludeLines || f.Line > preludeLines+1+strings.Count(r.bad, "\n") {
			t.Errorf("finding is in line %d, not in the block: %v", f.Line, f)
		}
		if want := Block([]byte(program(r.bad)), f.Line); f.Block != want {
			t.Errorf("finding repeats block %q, the line is %q", f.Block, want)
		}
	}
	if r.good == "" {
		return
	}
	good, _ := replay(t, program(r.good))
	if !good.OK() {
		t.Errorf("the near miss is faulted: %v", good.Findings)
	}
	if note && good.Has(r.rule) {
		t.Errorf("the near miss is remarked on: %v", good.Notes)
	}
}

// Has reports whether a rule is among the findings or notes kept.
func (r Report) Has(rule string) bool {
	for _, list := range [][]finding.Finding{r.Findings, r.Notes} {
		for _, f := range list {
			if f.Rule == rule {
				return true
			}
		}
	}
	return false
}

// OK reports whether the file is free of faults.
func (r Report) OK() bool { return r.FindingCount == 0 }
