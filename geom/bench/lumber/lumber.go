// Package lumber turns the trade's names of softwood boards ("1x6", "5/4x6")
// into the sizes that are delivered, and counts wood in board feet.
//
// The sizes are the dry, minimum dressed ones of the American Softwood Lumber
// Standard, Voluntary Product Standard PS 20. They are sizes at the mill: the
// board on the bench is measured before a cut depends on it. Hardwood is sold
// in other sizes and does not come through here.
package lumber

import (
	"strconv"
	"strings"

	"starwright/geom"
)

// MM3PerBoardFoot is one board foot, 144 cubic inches, in mm3; exact.
const MM3PerBoardFoot = 144 * geom.MMPerInch * geom.MMPerInch * geom.MMPerInch

// BoardFeet returns the content of a board in board feet. Softwood yards count
// with the nominal sizes, see [Size].
func BoardFeet(length, width, thickness float64) float64 {
	return length * width * thickness / MM3PerBoardFoot
}

// Size is one nominal board.
type Size struct {
	Width, Thickness               float64 // dressed, dry
	NominalWidth, NominalThickness float64 // what the yard counts board feet with
}

// dressed pairs a nominal size with the dressed one, both in sixteenths of an
// inch, so that every entry is exact.
type dressed struct{ nominal, size16 int }

// boardThickness is PS 20, table of boards, dry. 2 is the first row of the
// table of dimension lumber (from memory: 1 1/2 in, a common stud).
func boardThickness() []dressed {
	return []dressed{
		{6, 5}, {8, 7}, {10, 9}, {12, 10}, // 3/8, 1/2, 5/8, 3/4
		{16, 12}, {20, 16}, {24, 20}, // 1, 1-1/4 (5/4), 1-1/2 (6/4)
		{32, 24}, // 2
	}
}

// boardWidth is PS 20, table of boards, dry: half an inch off up to nominal 7,
// three quarters from 8.
func boardWidth() []dressed {
	in := func(n int) int { return 16 * n }
	return []dressed{
		{in(2), 24}, {in(3), 40}, {in(4), 56}, {in(5), 72}, {in(6), 88}, {in(7), 104},
		{in(8), 116}, {in(9), 132}, {in(10), 148}, {in(11), 164}, {in(12), 180}, {in(14), 212}, {in(16), 244},
	}
}

// Lookup returns the size of a board named by thickness and width in nominal
// inches: "1x6" is dressed 5 1/2 in by 3/4 in. It returns false for anything that
// is no such name, lengths with units among them.
func Lookup(s string) (Size, bool) {
	const longest = 24 // bytes; "1-1/4 x 16" and a few spaces
	if len(s) > longest {
		return Size{}, false
	}
	s = strings.ReplaceAll(s, "×", "x")
	thick, width, found := strings.Cut(strings.ToLower(s), "x")
	if !found {
		return Size{}, false
	}
	t16, ok1 := sixteenths(thick)
	w16, ok2 := sixteenths(width)
	if !ok1 || !ok2 {
		return Size{}, false
	}
	t, ok1 := find(boardThickness(), t16)
	w, ok2 := find(boardWidth(), w16)
	if !ok1 || !ok2 {
		return Size{}, false
	}
	return Size{mm16(w), mm16(t), mm16(w16), mm16(t16)}, true
}

// Names returns common names for an error to list.
func Names() []string {
	return []string{"1x2", "1x3", "1x4", "1x5", "1x6", "1x7", "1x8", "1x10", "1x12", "5/4x4", "5/4x6", "2x4", "2x6", "2x8"}
}

func mm16(sixteenth int) float64 { return float64(sixteenth) * geom.MMPerInch / 16 }

func find(table []dressed, nominal int) (size16 int, ok bool) {
	for _, r := range table {
		if r.nominal == nominal {
			return r.size16, true
		}
	}
	return 0, false
}

// sixteenths reads "6", "5/4", "3/4", "1-1/4" or "1 1/4" as sixteenths.
func sixteenths(s string) (int, bool) {
	s = strings.TrimSpace(s)
	if whole, frac, mixed := cutMixed(s); mixed {
		w, ok1 := digits(whole)
		f, ok2 := fraction(frac)
		return 16*w + f, ok1 && ok2 && f < 16
	}
	if strings.Contains(s, "/") {
		return fraction(s)
	}
	n, ok := digits(s)
	return 16 * n, ok
}

func cutMixed(s string) (whole, frac string, ok bool) {
	i := strings.IndexAny(s, " -")
	if i < 0 {
		return "", "", false
	}
	return s[:i], strings.TrimSpace(s[i+1:]), true
}

func fraction(s string) (int, bool) {
	num, den, found := strings.Cut(s, "/")
	n, ok1 := digits(num)
	d, ok2 := digits(den)
	if !found || !ok1 || !ok2 || d == 0 || n*16%d != 0 {
		return 0, false
	}
	return n * 16 / d, true
}

// digits reads a plain whole number of at most two digits; no board is longer
// in the name.
func digits(s string) (int, bool) {
	if s == "" || len(s) > 2 {
		return 0, false
	}
	for _, c := range s {
		if c < '0' || c > '9' {
			return 0, false
		}
	}
	n, err := strconv.Atoi(s)
	return n, err == nil
}
