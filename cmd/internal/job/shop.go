package job

import (
	"fmt"
	"slices"
	"strings"

	"starwright/geom/star"
	"starwright/geom/words"
)

// Machine is what a shop can have, as `[shop] has` names it.
type Machine string

// The machines.
const (
	MitreSaw    Machine = "mitre saw"
	RouterTable Machine = "router table"
	CNC         Machine = "cnc"
	Laser       Machine = "laser"
)

// machines are all of them, in the order in which they are listed.
var machines = []Machine{MitreSaw, RouterTable, CNC, Laser}

// ShopTables are the tables that say what a shop has and how its machines are
// set, and nothing of what is made. They are the ones that may stand in a file
// of the shop's own.
func ShopTables() []string {
	return []string{"shop", "saw", "router_table", "cutter", "tabs", "machine", "controller", "sheet", "output", "laser", "print", "segments", "yard", "cost", "times"}
}

// ShopTable is `[shop]`.
type ShopTable struct {
	Has     []Machine  // without repeats, in the order of the file; empty for hand tools alone
	Cutters []star.Bit // for the CNC, the thickest first; nil where the file does not say
}

// With reports whether the shop has a machine.
func (t ShopTable) With(m Machine) bool { return slices.Contains(t.Has, m) }

// Swing is which way a mitre saw's arm turns from square, as the operator sees
// it.
type Swing string

// The ways.
const (
	SwingBoth  Swing = "both"
	SwingLeft  Swing = "left"
	SwingRight Swing = "right"
)

// RouterTableTable is `[router_table]`.
type RouterTableTable struct {
	FenceHeight *float64  // mm over the table, of the fence or the tallest board that can be screwed to it
	FenceLength *float64  // mm
	Bits        []float64 // mm, diameters of the straight bits that there are; nil where the file does not say
}

func (r *reader) shop(j *Job) {
	s := r.section("shop")
	j.Shop.Has = s.machines("has")
	j.Shop.Cutters = s.cutters("cutters")
	s = r.section("router_table")
	j.RouterTable.FenceHeight = s.open("fence_height", span{lo: 5, hi: 1000, example: r.pick("90 mm", "3 1/2 in")})
	j.RouterTable.FenceLength = s.open("fence_length", span{lo: 50, hi: 5000, example: r.pick("800 mm", "32 in")})
	j.RouterTable.Bits = s.lengths("bits", span{lo: 0.5, hi: 50, example: r.pick("6.35 mm", "1/4 in")},
		r.pick(`["6.35 mm", "3.2 mm"]`, `["1/4 in", "1/8 in"]`))
}

// reach reads how far the saw cuts and which way it turns.
func (s section) reach(t *SawTable) {
	t.Reach = s.open("reach", span{lo: 20, hi: maxPiece, example: s.r.pick("300 mm", "12 in")})
	t.Swing = Swing(s.choice("swing", "most saws turn both ways", string(SwingBoth), string(SwingLeft), string(SwingRight)))
}

// machines reads which machines the shop has.
func (s section) machines(key string) []Machine {
	usual := []Machine{MitreSaw, RouterTable, CNC}
	n := s.get(key)
	if n == nil {
		s.note(key, `["`+strings.Join(names(usual), `", "`)+`"]`, "where two could do a thing the CNC does it")
		return usual
	}
	example := `["mitre saw", "router table"]`
	if n.kind != list {
		if n.kind == text {
			if m := machineNamed(n.text); m != "" {
				example = fmt.Sprintf("[%q]", m)
			}
		}
		s.fail(key, n, "write a list of machines in brackets; [] is hand tools alone", example)
		return usual
	}
	out := []Machine{}
	for _, item := range n.items {
		m := Machine("")
		if item.kind == text {
			m = machineNamed(item.text)
		}
		switch {
		case m == "" || string(m) != item.text:
			would := "leaving this machine out"
			if m != "" {
				would = fmt.Sprintf("%q", m)
			}
			s.failTry(key, item, "there is no such machine here; the machines are "+strings.Join(names(machines), ", "), would)
		case slices.Contains(out, m):
			s.failTry(key, item, "this machine is named twice", "naming it once")
		default:
			out = append(out, m)
		}
	}
	return out
}

// machineNamed returns the machine that a word means, "" for none: other
// spellings and common other names are known, so that they can be offered.
func machineNamed(word string) Machine {
	w := strings.ToLower(strings.Join(strings.FieldsFunc(word, func(r rune) bool { return r == ' ' || r == '-' || r == '_' }), " "))
	also := map[string]Machine{"saw": MitreSaw, "miter saw": MitreSaw, "chop saw": MitreSaw, "mitresaw": MitreSaw, "mitersaw": MitreSaw,
		"router": RouterTable, "cnc router": CNC, "cnc machine": CNC, "laser cutter": Laser}
	if m := also[w]; m != "" {
		return m
	}
	return Machine(words.Meant(w, names(machines)))
}

func names(ms []Machine) []string {
	out := make([]string, len(ms))
	for i, m := range ms {
		out[i] = string(m)
	}
	return out
}

// lengths reads a list of lengths, nil where the file lacks it.
func (s section) lengths(key string, sp span, example string) []float64 {
	const most = 50
	n := s.get(key)
	if n == nil {
		return nil
	}
	if n.kind != list || len(n.items) == 0 || len(n.items) > most {
		s.fail(key, n, fmt.Sprintf("write a list of lengths in brackets, 1 to %d", most), example)
		return nil
	}
	sp.would = key + " = " + example
	var out []float64
	for _, item := range n.items {
		mm, ok := s.lengthOf(key, item, sp)
		if !ok {
			return nil
		}
		out = append(out, mm)
	}
	return out
}

// room reads how much room there is under the spindle.
func (s section) room(t *MachineTable) {
	t.Room = s.open("room", span{lo: 10, hi: 2000, example: s.r.pick("90 mm", "3 1/2 in")})
}
