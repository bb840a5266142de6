package plan

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"starwright/cmd/internal/job"
	"starwright/cmd/internal/packet"
	"starwright/geom/problem"
	"starwright/geom/star"
	"starwright/geom/words"
)

// page is the bench page in the making: groups of lines in three columns,
// name, value and remark, aligned over the whole page.
type page struct {
	rows  []row
	width int // letters; 0 for [Width]
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
	width := p.width
	if width == 0 {
		width = Width
	}
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
			for k, l := range words.Wrap(r.text, width-2) {
				if k > 0 {
					b.WriteString("  ")
				}
				b.WriteString("  " + l + "\n")
			}
		default:
			before := fmt.Sprintf("  %s  %s  ", pad(r.name, names), pad(r.value, values))
			room := max(width-utf8.RuneCountInString(before), 20)
			for k, l := range words.Wrap(r.about, room) {
				if k > 0 {
					before = strings.Repeat(" ", utf8.RuneCountInString(before))
				}
				b.WriteString(strings.TrimRight(before+l, " ") + "\n")
			}
			if r.about == "" {
				b.WriteString(strings.TrimRight(before, " ") + "\n")
			}
		}
	}
	return b.String()
}

// Width is the usual width of the page in letters; a narrow printer takes it.
const Width = 78

func pad(s string, n int) string {
	return s + strings.Repeat(" ", max(0, n-utf8.RuneCountInString(s)))
}

// Page returns the bench page of a job: what to mind, the star, what to buy and
// cut, the way through the shop, sheets and times. With all it also has what is
// looked up rarely: every number of the slots, the cutter's feeds, jigs that do
// not pay, and the defaults that were taken. It is width letters wide.
func Page(w *packet.Work, all bool, width int) string {
	p := &page{width: width}
	o := w.Order
	p.group(w.Title())
	for _, u := range o.Units {
		if w.Job.IsOrder() {
			p.ordered(w, u)
		} else if u.IsOffcut() {
			p.add("and from the off-cuts", words.Count(u.Count(), "star", "stars"), "the smaller second stars")
		} else {
			p.add("batch", words.Count(u.Count(), "star", "stars"), words.Count(u.Segments(), "segment", "segments"))
		}
	}
	p.notes("Mind this first", Warnings(w))
	for _, u := range o.Units {
		if w.Job.IsOrder() && !all {
			continue // stands in the list of stars
		}
		p.star(w, u)
		sawn := !u.IsOffcut() && !w.Job.Segments.CNC
		if sawn {
			p.blank(w, u)
		}
		if all && sawn {
			p.saw(w, u)
		}
		if all {
			p.slot(w, u)
		} else {
			p.slotShort(w, u)
		}
	}
	if x := w.Bench; x != nil {
		for _, u := range o.FromBoards() {
			p.strips(w, u, x.StripsOf(u))
		}
		p.stock(w, x.Stock)
		p.rack(w, x.Rack)
		p.flat(w, x.Flat)
		p.wood(w, x.Wood)
		for _, u := range o.FromBoards() {
			if m := x.WoodOf(u); m != nil && m != x.Wood {
				p.wood(w, m)
			}
		}
		if all {
			p.feeds(w, x.Feeds)
		}
	}
	p.route(w, all)
	if all {
		p.jigs(w)
	}
	p.programs(w, all)
	p.cost(w.Cost, all)
	p.fromShop(w)
	if all {
		p.notes("Defaults taken", append(append([]problem.Note{}, w.Job.Defaults...), o.Defaults...))
	}
	return p.String()
}

// Warnings returns what the maker should mind, each once.
func Warnings(w *packet.Work) []problem.Note {
	list := slices.Concat(w.Job.Warnings, w.Order.Warnings, w.Warnings)
	if w.Bench != nil {
		list = append(list, w.Bench.Warnings...)
	}
	var out []problem.Note
	for _, n := range list {
		if !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}

// WarningLines are the warnings as the page prints them, for where there is no
// page.
func WarningLines(w *packet.Work, width int) string {
	p := &page{width: width}
	p.notes("Mind this first", Warnings(w))
	return p.String()
}

// plain says that a star has no slots, and why where nobody asked for that.
func plain(w *packet.Work, u *star.Unit) string {
	key := "slot.make"
	if u.IsOffcut() {
		key = "offcut_slot.make"
	}
	for _, n := range slices.Concat(w.Job.Defaults, w.Order.Defaults) {
		if n.Key == key && n.Value == "false" {
			return "none: " + n.Why
		}
	}
	return "none: the joints are plain glued"
}

// plate says the back plate of a star.
func (p *page) plate(w *packet.Work, u *star.Unit) {
	t := u.Plate
	if t == nil {
		return
	}
	b := t.Outline().Bounds()
	p.group(u.Words("back plate"))
	p.add("plates", fmt.Sprint(u.Count()), fmt.Sprintf("%s x %s, of sheet %s thick", w.Say(b.W()), w.Say(b.H()), w.Say(w.Job.Sheet.Thickness)))
	p.add("screws", fmt.Sprint(2*u.Points), fmt.Sprintf("two a segment, %s and %s from the centre; holes of %s", w.Say(t.Inner), w.Say(t.Outer), w.Job.Units.FormatSize(t.Bore)))
	p.add("keyhole", w.Job.Units.FormatSize(t.Neck)+" wide", fmt.Sprintf("for a screw's head of up to %s; its round end %s from the centre", w.Say(w.Job.Units.Floor(t.KeyHead-1)), w.Say(t.KeyAt)))
}

// slotShort says the slots in a few lines.
func (p *page) slotShort(w *packet.Work, u *star.Unit) {
	s, sp := u.Slot, u.Spline
	p.group(u.Words("slots"))
	if s == nil {
		p.line(plain(w, u))
		p.plate(w, u)
		return
	}
	p.add("slot", w.Job.Units.FormatSize(s.Width)+" wide", w.Say(s.Depth)+" deep")
	p.add("show face to slot centre", w.Say(s.FromFace), "")
	p.add("along the facet", w.Say(s.Start), "to "+w.Say(s.End)+" from the star's centre")
	if sp != nil {
		p.add("splines", fmt.Sprint(sp.Count), fmt.Sprintf("%s x %s x %s", w.Say(sp.Length), w.Say(sp.Width), w.Job.Units.FormatSize(sp.Thickness)))
	}
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
	p.length(w, "width, tip to tip", u.Width(), "widest")
	p.length(w, "centre to tip", s.Length, "segment length")
	p.length(w, "facet", s.Facet, "centre to valley, one joint face")
	p.length(w, "outer edge", s.Edge, "valley to tip")
	if h := u.Hang; h != nil {
		p.length(w, "hanging hole", h.At, fmt.Sprintf("from the centre, %s wide, %s of wood round it", w.Job.Units.FormatSize(h.Diameter), w.Say(h.Wood)))
	}
	if u.TwoWoods() {
		p.add("woods", string(u.Spec.Halves), twoWoods(u))
	}
	p.add("angles", star.FormatAngle(s.Tip)+" at the tip", star.FormatAngle(s.Center)+" at the centre")
}

// twoWoods says how a star is of two woods.
func twoWoods(u *star.Unit) string {
	w := u.Spec.Woods
	if u.Halved() {
		return fmt.Sprintf("each point half %s and half %s, %s", w[0], w[1], u.Spec.Halves)
	}
	return fmt.Sprintf("points of %s and %s by turns", w[0], w[1])
}

// ordered says a star of an order in one line.
func (p *page) ordered(w *packet.Work, u *star.Unit) {
	about := fmt.Sprintf("%d points, %s from tip to tip", u.Points, w.Say(u.Width()))
	if w.Job.Segments.CNC {
		about += fmt.Sprintf("; %s from the CNC, %s thick", words.Count(u.Segments(), "segment", "segments"), w.Say(u.Thickness()))
	} else if b := u.Blank; b != nil {
		about += fmt.Sprintf("; %s %s x %s x %s", words.Count(b.Count, "blank", "blanks"), w.Say(b.Length), w.Say(u.Segment.Width), w.Say(u.Thickness()))
	} else {
		about += "; from the tip off-cuts"
	}
	if u.TwoWoods() {
		about += "; " + twoWoods(u)
	}
	if s := u.Spline; s != nil {
		about += fmt.Sprintf("; %s %s x %s", words.Count(s.Count, "spline", "splines"), w.Say(s.Length), w.Say(s.Width))
	} else {
		about += "; joints plain glued"
		if u.Plate != nil {
			about += ", a plate on the back"
		}
	}
	p.add(u.Words(""), words.Count(u.Count(), "star", "stars"), about)
}

func (p *page) blank(w *packet.Work, u *star.Unit) {
	p.group(strings.TrimSuffix("Blanks to cut, "+u.Spec.Name, ", "))
	p.add("how many", fmt.Sprint(u.Blank.Count), fmt.Sprintf("%d for each star", u.Points))
	p.length(w, "length", u.Blank.Length, "the segment and its end trim")
	p.length(w, "board width", u.Segment.Width, "valley to valley across a segment")
	p.add("thickness", w.Say(u.Thickness()), "")
}

func (p *page) saw(w *packet.Work, u *star.Unit) {
	p.group(strings.TrimSuffix("Saw settings, from a square cut, "+u.Spec.Name, ", "))
	p.blocks(w, u.Segment)
	p.add("kerf", w.Say(w.Job.Saw.Kerf), "on the off-cut's side of the tip cuts")
}

func (p *page) slot(w *packet.Work, u *star.Unit) {
	s, sp := u.Slot, u.Spline
	p.group(u.Words("slots"))
	if s == nil {
		p.line(plain(w, u))
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
		p.add("spline thickness", w.Job.Units.FormatSize(sp.Thickness), w.Job.Units.FormatFine(s.Width-sp.Thickness)+" of play in the slot")
	}
}

func (p *page) programs(w *packet.Work, all bool) {
	p.group("Programs")
	if len(w.Programs) == 0 {
		p.line("none")
	}
	if !w.Job.OneCutter(w.Order) {
		p.bit(w, "bit for the slots", w.Job.Cutter, w.Order.Cutter)
		p.bit(w, "bit for the sheets", w.Job.Sheets, *w.Job.Sheets.Diameter)
	}
	if c := w.Job.Segments.Cutter; w.Job.OwnSegmentCutter(w.Order) {
		p.bit(w, "bit for the segments", c, *c.Diameter)
	}
	for _, g := range w.Programs {
		about := fmt.Sprintf("about %.1f min each", g.Minutes)
		if all {
			about += "; " + g.Use
		}
		p.add(g.Path, words.Count(g.Quantity, "run", "runs"), about)
	}
}

// bit says which cutter something is cut with, and its settings.
func (p *page) bit(w *packet.Work, name string, c job.CutterTable, diameter float64) {
	u := w.Job.Units
	p.add(name, u.FormatSize(diameter), fmt.Sprintf("%.0f rev/min, feed %s, down %s, %s a pass",
		c.SpindleRPM, u.FormatFeed(c.Feed), u.FormatFeed(c.PlungeFeed), u.FormatSize(c.DepthPerPass)))
}

func (p *page) notes(title string, notes []problem.Note) {
	if len(notes) == 0 {
		return
	}
	p.group(title)
	for _, n := range notes {
		key := n.Key
		if n.Star != "" {
			key = n.Star + ": " + key
		}
		if n.Value != "" {
			key += " = " + n.Value
		}
		p.line(key + ": " + n.Why)
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
