package mutate

import "fmt"

// aways are ways that are put in, there and back: where nothing should be cut,
// too low, too far, too fast, too slow.
var aways = []struct {
	class, where string
	lines        []string
}{
	{"feeds aside and back", "l", []string{"G1 X{x-60} Y{y-60} F{F}", "G1 X{x} Y{y}"}},
	{"feeds a little aside and back", "l", []string{"G1 Y{y+1} F{F}", "G1 Y{y}"}},
	{"feeds a long way at a feed and back", "l", []string{"G1 X{x+200} F{F}", "G1 X{x}"}},
	{"skims aside and back", "l", []string{"G1 Z0.01 F{P}", "G1 Y{y+5} F{F}", "G1 Y{y}", "G1 Z{z}"}},
	{"rapid close over the work", "l", []string{"G0 X{x+20}", "G0 X{x}"}},
	{"rapid down to the wood", "l", []string{"G0 Z0.0"}},
	{"rapid into the wood", "l", []string{"G0 Z{m-0.5}", "G0 Z{z}"}},
	{"straight down into the wood", "l", []string{"G1 Z{m-0.5} F{P}", "G1 Z{z}"}},
	{"rises at a feed", "l", []string{"G1 Z{Z} F{F}", "G0 Z{A}"}},
	{"waits close over the work", "l", []string{"G4 P1.0"}},
	{"feeds to where it is", "lc", []string{"G1 X{x} Y{y} Z{z} F{P}"}},
	{"500 mm aside and back", "a", []string{"G0 X-500.0", "G0 X{x}"}},
	{"500 mm back and forth", "a", []string{"G0 Y500.0", "G0 Y{y}"}},
	{"500 mm up and back", "a", []string{"G0 Z500.0", "G0 Z{Z}"}},
	{"30 mm up and back", "a", []string{"G0 Z{Z+30}", "G0 Z{Z}"}},
	{"5 mm up and back", "a", []string{"G0 Z{Z+5}", "G0 Z{Z}"}},
	{"to the corner and back", "a", []string{"G0 X0.0 Y0.0", "G0 X{x} Y{y}"}},
	{"down beside and up", "a", []string{"G0 X{x+15}", "G0 Z{A}", "G0 Z{Z}", "G0 X{x}"}},
	{"down far beside and up", "a", []string{"G0 X{x-80} Y{y-80}", "G0 Z{A}", "G0 Z{Z}", "G0 X{x} Y{y}"}},
	{"down in place and up", "a", []string{"G0 Z{A}", "G0 Z{Z}"}},
	{"too far down in place and up", "a", []string{"G0 Z{A*0.5}", "G0 Z{Z}"}},
	{"lower across", "a", []string{"G0 Z{Z-1}", "G0 X{x+5}", "G0 X{x}", "G0 Z{Z}"}},
	{"all axes at once down", "a", []string{"G0 X{x+5} Z{A}", "G0 X{x} Z{Z}"}},
	{"moves at a feed where rapids do", "a", []string{"G1 X{x+5} F{F}", "G1 X{x}"}},
	{"rapid over the limit of the job's feed", "a", []string{"G1 X{x+5} F{F*3}", "G1 X{x} F{F}"}},
	{"out of reach", "a", []string{"G0 X{x+200000}", "G0 X{x}"}},
	{"aside in the cut and back", "c", []string{"G1 X{x+2} F{F}", "G1 X{x}"}},
	{"across in the cut and back", "c", []string{"G1 Y{y+2} F{F}", "G1 Y{y}"}},
	{"a hair aside in the cut and back", "c", []string{"G1 Y{y+0.05} F{F}", "G1 Y{y}"}},
	{"deeper in the cut and back", "c", []string{"G1 Z{z-1} F{P}", "G1 Z{z} F{F}"}},
	{"a hair deeper in the cut and back", "c", []string{"G1 Z{z-0.05} F{P}", "G1 Z{z} F{F}"}},
	{"up in the cut and down again", "c", []string{"G1 Z{A} F{F}", "G1 Z{z} F{P}"}},
	{"up in the cut and fast down again", "c", []string{"G0 Z{Z}", "G0 Z{A}", "G1 Z{z} F{F}"}},
	{"out of the cut by a rapid and down again", "c", []string{"G0 Z{A}", "G1 Z{z} F{P}"}},
	{"a circle in the cut", "c", []string{"G2 X{x} Y{y} I{m+1} J0.0 F{F}"}},
	{"a circle of nothing in the cut", "c", []string{"G2 X{x} Y{y} I0.0 J0.0 F{F}"}},
	{"a rapid in the cut and back", "c", []string{"G0 X{x+1}", "G1 X{x} F{F}"}},
	{"stays in the wood at the end", "f", []string{"G0 Z{m-1}"}},
	{"stays close over the work at the end", "f", []string{"G0 Z{A}"}},
	{"feeds at the end", "f", []string{"G1 Z{Z-1} F{F}"}},
	{"parked high at the end", "f", []string{"G0 Z{Z+20}"}},
	{"parked at zero at the end", "f", []string{"G0 X0.0 Y0.0"}},
	{"parked far at the end", "f", []string{"G0 X-300.0 Y300.0"}},
}

// ways put moves in.
func (p *program) ways() []Change {
	var out []Change
	for _, in := range aways {
		for _, where := range in.where {
			for _, s := range p.spots(where) {
				out = append(out, p.put(in.class, s, in.lines...))
			}
		}
	}
	if p.brief.Sheet != nil {
		for _, s := range p.spots(aboveIt) {
			out = append(out, p.overSheet(s)...)
		}
	}
	return out
}

// overSheet are ways over and through the sheet itself.
func (p *program) overSheet(s spot) []Change {
	w, h, depth, pass := p.brief.Sheet.W, p.brief.Sheet.H, p.brief.Depth, p.brief.Pass
	at := func(x, y float64) string {
		return fmt.Sprintf("X%s Y%s", number(x/p.brief.UnitMM, p.brief.UnitMM), number(y/p.brief.UnitMM, p.brief.UnitMM))
	}
	z := func(v float64) string { return "Z" + number(v/p.brief.UnitMM, p.brief.UnitMM) }
	cut := func(from, to string, down func(string) []string) []string {
		out := []string{"G0 " + from, "G0 Z{A}", "G1 Z0.0 F{P}"}
		for k := 1; float64(k-1)*pass < depth; k++ {
			out = append(out, down(z(-min(depth, float64(k)*pass)))...)
		}
		return append(append(out, "G1 "+to), "G1 Z{A}", "G0 Z{Z}", "G0 X{x} Y{y}")
	}
	disc := func(x, y, r float64) []string {
		i := "I" + number(r/p.brief.UnitMM, p.brief.UnitMM) + " J0.0"
		return cut(at(x-r, y), at(x-r, y), func(z string) []string {
			return []string{"G2 " + at(x-r, y) + " " + z + " " + i + " F{F}", "G2 " + at(x-r, y) + " " + i}
		})
	}
	return []Change{
		p.put("a disc freed from the sheet", s, disc(w-24, h/2, 5+p.brief.Cutter/2)...),
		p.put("a hole in the middle of the sheet", s, disc(w/2, h/2, p.brief.Cutter/2)...),
		p.put("the sheet severed", s, cut(at(w-12, 0), at(w-12, h), func(z string) []string {
			return []string{"G1 " + at(w-12, h) + " " + z + " F{F}", "G1 " + at(w-12, 0)}
		})...),
		p.put("feeds over a screw", s, "G0 "+at(10, 10), "G0 Z{A}", "G1 "+at(12, 12)+" F{F}", "G0 Z{Z}", "G0 X{x} Y{y}"),
		p.put("comes down on a screw", s, "G0 "+at(10, 10), "G0 Z{A}", "G0 Z{Z}", "G0 X{x} Y{y}"),
		p.put("comes down beyond the sheet", s, "G0 "+at(-15, h/2), "G0 Z{A}", "G0 Z{Z}", "G0 X{x} Y{y}"),
		p.put("skims the sheet", s, "G0 "+at(w-12, h-45), "G0 Z{A}", "G1 Z0.01 F{P}", "G1 "+at(w-12, h-60), "G1 Z{A}", "G0 Z{Z}", "G0 X{x} Y{y}"),
		p.put("feeds high over the sheet", s, "G1 "+at(w/2, h/2)+" F{F}", "G1 X{x} Y{y}"),
	}
}
