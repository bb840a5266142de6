// Package jobgen makes job files for tests: random ones over the whole space
// of what a bench may ask for, from stars 30 mm wide to two metres, of four to
// twelve points, in inches and millimetres. It is no part of the program.
//
// A job is a function of the choices that the caller makes for it, so that
// tests can replay or shrink it.
package jobgen

import (
	"fmt"
	"strings"
)

// Pick chooses a number from 0 to n-1 for what is named.
type Pick func(what string, n int) int

// draft is a job being written.
type draft struct {
	pick Pick
	b    strings.Builder
	inch bool
}

// Job returns a job that a careful maker may write. Most are sound; a few ask
// for more than their wood holds, which the program has to say. With jigs the
// job has its whole kit cut from sheet.
func Job(pick Pick, jigs bool) string {
	d := &draft{pick: pick, inch: pick("inches", 2) == 1}
	if d.inch {
		d.line(`units = "in"`)
	}
	if pick("title", 3) == 0 {
		d.line(`title = %q`, []string{"Stars", "Fair (2) 100 %!", "Sterne für Oma"}[pick("which title", 3)])
	}
	board := d.star()
	d.slots(board)
	d.tools()
	if d.one("output units", 4) {
		d.line("[output]")
		d.line("gcode_units = %q", []string{"mm", "in"}[pick("program unit", 2)])
		d.line("dxf_units = %q", []string{"mm", "in"}[pick("drawing unit", 2)])
	}
	if !jigs {
		d.line("[jigs]\nmake = []")
	}
	return d.b.String()
}

func (d *draft) line(format string, args ...any) { fmt.Fprintf(&d.b, format+"\n", args...) }

// one is true one time in n.
func (d *draft) one(what string, n int) bool { return d.pick(what, n) == 0 }

// length writes a length of about so many mm the way people do.
func (d *draft) length(what string, mm float64) string {
	switch form := d.pick("form of "+what, 4); {
	case d.inch && form == 0:
		return fmt.Sprintf("%.3f", mm/25.4) // a bare number
	case d.inch:
		n := int(mm/25.4*32 + 0.5)
		whole, part := n/32, n%32
		switch {
		case part == 0 && whole > 0:
			return fmt.Sprintf(`"%d in"`, whole)
		case whole == 0:
			return fmt.Sprintf(`"%d/32 in"`, max(part, 1))
		case form == 1:
			return fmt.Sprintf(`"%d %d/32\""`, whole, part)
		}
		return fmt.Sprintf(`"%d-%d/32in"`, whole, part)
	case form == 0:
		return fmt.Sprintf("%.2f", mm)
	case form == 1:
		return fmt.Sprintf(`"%.3f cm"`, mm/10)
	}
	return fmt.Sprintf(`"%.1f mm"`, mm)
}

// between picks a length from lo to hi mm, in hundredths of the way.
func (d *draft) between(what string, lo, hi float64) float64 {
	return lo + (hi-lo)*float64(d.pick(what, 101))/100
}

// star writes the star and returns about the board's width, mm.
func (d *draft) star() float64 {
	n := 4 + d.pick("points", 9)
	d.line("[star]\npoints = %d", n)
	board, thick := d.size(n)
	d.line("thickness = %s", d.length("thickness", thick))
	if n == 4 || d.one("own tip", 3) {
		lo, hi := 20.0, 60.0
		if n == 4 {
			lo, hi = 30, 80
		}
		d.line(`tip = "%.1f deg"`, d.between("tip", lo, hi))
	}
	d.line("count = %d", 1+d.pick("count", []int{6, 6, 6, 16}[d.pick("batch", 4)]))
	if d.one("second star", 2) {
		d.line("offcut_star = true")
	}
	if d.one("joint", 4) {
		d.line("joint = %q", []string{"plate", "plain", "spline"}[d.pick("which joint", 3)])
	}
	if d.one("two woods", 5) {
		halves := []string{"turning", "mirrored", "whole"}[d.pick("halves", 3)]
		if n%2 == 1 { // which the other two cannot go round
			halves = "turning"
		}
		d.line("woods = [\"walnut\", \"hard maple\"]\nhalves = %q", halves)
	}
	return board
}

// size writes how large the star is, by its board or by its width, and returns
// about the board's width and a thickness that goes with it, mm.
func (d *draft) size(n int) (board, thick float64) {
	// A star is about so many times as wide as its boards, with the usual tip.
	ratio := 0.8 + 0.68*float64(n)
	switch d.pick("size", 8) {
	case 0: // a trinket, a hand
		w := d.between("small star", 30, 260)
		d.line("star_width = %s", d.length("star", w))
		return w / ratio, d.between("thin", max(3, w/ratio/8), max(4, w/ratio/4))
	case 1: // a door
		w := d.between("large star", 700, 2000)
		d.line("star_width = %s", d.length("star", w))
		return w / ratio, d.between("thick", max(9, w/ratio/8), max(14, w/ratio/4))
	case 2:
		board = d.between("narrow board", 16, 60)
	case 3:
		board = d.between("wide board", 200, 420)
	default: // most stars are a forearm wide
		board = d.between("board", 55, 200)
	}
	if n > 8 { // slim segments
		board = min(board, 150)
	}
	d.line("board_width = %s", d.length("board", board))
	return board, d.between("thickness", max(9, board/8), max(14, board/4))
}

// slots writes the slots, or leaves them to the program.
func (d *draft) slots(board float64) {
	switch d.pick("slots", 8) {
	case 0:
		d.line("[slot]\nmake = false")
		return
	case 1, 2, 3:
		return
	}
	d.line("[slot]")
	if d.one("slot depth", 2) {
		d.line("depth = %s", d.length("depth", d.between("depth", board/25, board/10)))
	}
	if d.one("web", 3) {
		d.line("web = %s", d.length("web", d.between("web", 3, 8)))
	}
	if d.one("stations", 3) {
		d.line("stations = %d\nloads = %d", 1+d.pick("number of stations", 4), 1+d.pick("loads", 3))
	}
}

// tools writes cutter, saw, tabs and machine.
func (d *draft) tools() {
	if d.one("cutter", 2) {
		size := []float64{3, 3.175, 4, 6, 6.35, 8}[d.pick("diameter", 6)]
		d.line("[cutter]")
		if d.one("cutter given", 2) {
			d.line(`diameter = "%g mm"`, size)
		}
		d.line("depth_per_pass = %s", d.length("pass", d.between("pass", 0.8, 4)))
		feed := 300 + 20*d.pick("feed", 100)
		d.line(`feed = "%d mm/min"`, feed)
		d.line(`plunge_feed = "%d mm/min"`, feed/(1+d.pick("plunge", 6)))
		d.line("spindle_rpm = %d", 6000+500*d.pick("speed", 37))
		d.line(`ramp = "%d deg"`, 1+d.pick("ramp", 20))
		d.line("side = %q\narcs = %t", []string{"conventional", "climb"}[d.pick("side", 2)], d.one("arcs", 2))
	}
	if d.one("saw", 3) {
		d.line(`[saw]`)
		d.line(`kerf = "%.1f mm"`, d.between("kerf", 1.2, 4))
		d.line(`max_miter = "%d deg"`, 35+d.pick("mitre", 30))
	}
	if d.one("tabs", 3) {
		d.line(`[tabs]`)
		d.line("count = %d", d.pick("tabs", 7))
		d.line(`width = "%.1f mm"`, d.between("tab width", 3, 10))
		d.line(`height = "%.1f mm"`, d.between("tab height", 0.5, 2.5))
	}
	if d.one("machine", 3) {
		d.line(`[machine]`)
		d.line("safe_z = %s", d.length("safe height", d.between("safe height", 5, 20)))
		d.line("spin_up = %d", d.pick("spin up", 8))
	}
	if d.one("sheet", 3) {
		side := 400 + 100*d.pick("sheet", 9)
		d.line(`[sheet]`)
		d.line(`width = "%d mm"`, side)
		d.line(`height = "%d mm"`, 300+side/2)
		d.line(`thickness = "%d mm"`, 6+d.pick("sheet thickness", 13))
	}
}

// Slipped returns a job into which a slip of the pen has come: a line gone,
// doubled, moved or cut short, a digit too many or another one, a quote lost, a
// value of another kind. What comes may be sound all the same.
func Slipped(pick Pick) string {
	lines := strings.Split(strings.TrimSpace(Job(pick, false)), "\n")
	for range 1 + pick("slips", 3) {
		i := pick("line", len(lines))
		l := lines[i]
		at := pick("where", len(l)+1)
		switch pick("slip", 9) {
		case 0:
			lines[i] = ""
		case 1:
			lines[i] = l + "\n" + l
		case 2:
			j := pick("other line", len(lines))
			lines[i], lines[j] = lines[j], lines[i]
		case 3:
			lines[i] = l[:at]
		case 4:
			lines[i] = l[:at] + string("0123456789"[pick("digit", 10)]) + l[at:]
		case 5:
			lines[i] = strings.Replace(l, `"`, "", 1)
		case 6:
			lines[i] = strings.NewReplacer("mm", "cm", "in", "ft", "true", "no").Replace(l)
		case 7:
			lines[i] = strings.Replace(l, "= ", "= -", 1)
		case 8:
			key, _, _ := strings.Cut(l, "=")
			lines[i] = key + "= " + []string{"0", "[]", "{}", "1e9", "nan", `""`, "2026-01-01", `"99999 mm"`, "true", `"1/3 in"`}[pick("value", 10)]
		}
	}
	return strings.Join(lines, "\n") + "\n"
}

// Broken returns a job with one thing in it that is wrong.
func Broken(pick Pick) string {
	return Job(pick, false) + "\n" + []string{
		"[star]\npoints = 5",
		"[sawe]\nkerf = 2",
		"[wood]\nspecis = \"oak\"",
		"[stock]\nboards = [\"-4 in\"]",
		"[stock]\nboards = [\"1 1/0 in\"]",
		"[stock]\nboards = [1e3]",
		"[stock]\nboards = [nan]",
		"[stock]\nboards = [\"4 inchs\"]",
		"[stock]\ntrim = \"1e400 mm\"",
		"[print]\npaper = \"A5\"",
		"[wood]\nspecies = \"\\u001b[2J\"",
		"[laser]\nkerf = \"3 ft\"",
		"[blank",
		"[blank]\nround_to = \"0x10 mm\"",
		"[blank]\nend_trim = \"1 mm\"\nend_trim = \"2 mm\"",
		"[offcut_slot]\nweb = \"0 mm\"",
		"\x00",
		"\xff\xfe",
	}[pick("what is wrong", 18)]
}
