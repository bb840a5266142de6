package plan

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"starwright/cmd/internal/packet"
	"starwright/geom/problem"
	"starwright/geom/star"
	"starwright/geom/words"
)

// page is the bench page in the making: groups of lines in three columns,
// name, value and remark, aligned over the whole page.
type page struct {
	rows []row
}

type row struct {
	group              string // a heading, where it is not ""
	name, value, about string
	text               string // a line over the whole width
}

func (p *page) group(name string) { p.rows = append(p.rows, row{group: name}) }
func (p *page) add(name, value, about string) {
	p.rows = append(p.rows, row{name: name, value: value, about: about})
}
func (p *page) line(text string) { p.rows = append(p.rows, row{text: text}) }

// String lays the page out.
func (p *page) String() string {
	var names, values int
	for _, r := range p.rows {
		names = max(names, utf8.RuneCountInString(r.name))
		values = max(values, utf8.RuneCountInString(r.value))
	}
	var b strings.Builder
	for i, r := range p.rows {
		switch {
		case r.group != "":
			if i > 0 {
				b.WriteByte('\n')
			}
			b.WriteString(strings.ToUpper(r.group) + "\n")
		case r.text != "":
			for k, l := range words.Wrap(r.text, pageWidth-2) {
				if k > 0 {
					b.WriteString("  ")
				}
				b.WriteString("  " + l + "\n")
			}
		default:
			l := fmt.Sprintf("  %s  %s  %s", pad(r.name, names), pad(r.value, values), r.about)
			b.WriteString(strings.TrimRight(l, " ") + "\n")
		}
	}
	return b.String()
}

// pageWidth is the width of the page in letters; a narrow printer takes it.
const pageWidth = 78

func pad(s string, n int) string {
	return s + strings.Repeat(" ", max(0, n-utf8.RuneCountInString(s)))
}

// Page returns the bench page of a job.
func Page(w *packet.Work) string {
	p := &page{}
	o := w.Order
	p.group(w.Title())
	for _, u := range o.Units {
		if u.IsOffcut() {
			p.add("and from the off-cuts", words.Count(u.Count(), "star", "stars"), "the smaller second stars")
		} else {
			p.add("batch", words.Count(u.Count(), "star", "stars"), words.Count(u.Segments(), "segment", "segments"))
		}
	}
	for _, u := range o.Units {
		p.star(w, u)
		if !u.IsOffcut() {
			p.blank(w, u)
			p.saw(w, u)
		}
		p.slot(w, u)
	}
	warnings := slices.Concat(w.Job.Warnings, o.Warnings, w.Warnings)
	if x := w.Bench; x != nil {
		p.strips(w, x.Strips)
		p.stock(w, x.Stock)
		p.wood(w, x.Wood)
		p.feeds(w, x.Feeds)
		warnings = append(warnings, x.Warnings...)
	}
	p.route(w)
	p.jigs(w)
	p.programs(w)
	p.fromShop(w)
	p.notes("Defaults taken", append(append([]problem.Note{}, w.Job.Defaults...), o.Defaults...))
	p.notes("Warnings", warnings)
	return p.String()
}

// length adds a length with what its rounding changes.
func (p *page) length(w *packet.Work, name string, mm float64, about string) {
	if r := rounding(w.Job.Units, mm); r != "" {
		about = strings.TrimPrefix(about+"; "+r, "; ")
	}
	p.add(name, w.Say(mm), about)
}

func (p *page) star(w *packet.Work, u *star.Unit) {
	s := u.Segment
	p.group(u.Words("star"))
	p.add("points", fmt.Sprint(u.Points), "")
	p.length(w, "width, tip to tip", u.Width(), "widest")
	p.length(w, "centre to tip", s.Length, "segment length")
	p.length(w, "board width", s.Width, "valley to valley across a segment")
	p.length(w, "facet", s.Facet, "centre to valley, one joint face")
	p.length(w, "outer edge", s.Edge, "valley to tip")
	p.add("tip angle", star.FormatAngle(s.Tip), "")
	p.add("centre angle", star.FormatAngle(s.Center), fmt.Sprintf("%d of them close the turn", u.Points))
}

func (p *page) blank(w *packet.Work, u *star.Unit) {
	p.group("Blanks to cut")
	p.add("how many", fmt.Sprint(u.Blank.Count), fmt.Sprintf("%d for each star", u.Points))
	p.length(w, "length", u.Blank.Length, "the segment and its end trim, rounded up")
	p.length(w, "width", u.Segment.Width, "")
	p.add("thickness", w.Say(u.Thickness()), "")
}

func (p *page) saw(w *packet.Work, u *star.Unit) {
	p.group("Saw settings, from a square cut")
	p.blocks(w, u.Segment)
	p.add("kerf", w.Say(w.Job.Saw.Kerf), "on the off-cut's side of the tip cuts")
}

func (p *page) slot(w *packet.Work, u *star.Unit) {
	s, sp := u.Slot, u.Spline
	p.group(u.Words("slots"))
	if s == nil {
		p.line("none: the joints are plain glued")
		return
	}
	p.add("slot width", w.Job.Units.FormatSize(s.Width), "cutter "+w.Job.Units.FormatSize(w.Order.Cutter))
	p.length(w, "slot depth", s.Depth, "from the facet inwards")
	p.length(w, "show face to slot centre", s.FromFace, fmt.Sprintf("walls of %s at least", w.Say(s.Wall)))
	p.length(w, "slot starts", s.Start, "from the star's centre, cutter radius included")
	p.length(w, "slot ends", s.End, fmt.Sprintf("%s before the valley", w.Say(u.Segment.Facet-s.End)))
	p.length(w, "web", s.Web, "wood between the two slots of a segment")
	if sp != nil {
		p.add("splines", fmt.Sprint(sp.Count), "one for each joint")
		p.length(w, "spline length", sp.Length, "square ends; along the joint")
		p.length(w, "spline width", sp.Width, "across the joint; the grain runs this way")
		p.add("spline thickness", w.Job.Units.FormatFine(sp.Thickness), w.Job.Units.FormatFine(s.Width-sp.Thickness)+" of play in the slot")
	}
}

func (p *page) programs(w *packet.Work) {
	p.group("Programs")
	if len(w.Programs) == 0 {
		p.line("none")
	}
	for _, g := range w.Programs {
		p.add(g.Path, words.Count(g.Quantity, "run", "runs"), fmt.Sprintf("about %.1f min each; %s", g.Minutes, g.Use))
	}
}

func (p *page) notes(title string, notes []problem.Note) {
	if len(notes) == 0 {
		return
	}
	p.group(title)
	for _, n := range notes {
		p.line(fmt.Sprintf("%s = %s: %s", n.Key, n.Value, n.Why))
	}
}

// fromShop says which values the shop's file gave, table by table.
func (p *page) fromShop(w *packet.Work) {
	if len(w.Job.FromShop) == 0 {
		return
	}
	p.group("From " + w.Job.ShopFile)
	var tables []string
	keys := map[string][]string{}
	for _, t := range w.Job.FromShop {
		table, key, ok := strings.Cut(t.Key, ".")
		if !ok {
			table, key = "", t.Key
		} else {
			table = "[" + table + "]"
		}
		if keys[table] == nil {
			tables = append(tables, table)
		}
		keys[table] = append(keys[table], key)
	}
	var parts []string
	for _, t := range tables {
		parts = append(parts, strings.TrimSpace(t+" "+strings.Join(keys[t], ", ")))
	}
	p.line(strings.Join(parts, "; "))
}
