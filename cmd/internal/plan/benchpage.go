package plan

import (
	"fmt"
	"strings"

	"starwright/cmd/internal/benchwork"
	"starwright/cmd/internal/packet"
	"starwright/geom/bench"
	"starwright/geom/bench/feeds"
	"starwright/geom/star"
	"starwright/geom/words"
)

// stock says what the boards on the rack give.
func (p *page) stock(w *packet.Work, s *benchwork.Stock) {
	if s == nil {
		return
	}
	p.group("Stock plan")
	about := "exact: no plan gives more stars or takes less board"
	if !s.Plan.Exact {
		about = fmt.Sprintf("not exact: no plan gives more than %d", s.Plan.StarsBound)
	}
	p.add("stars", fmt.Sprintf("%d of %d", s.Plan.Stars, s.Wanted), about)
	about = fmt.Sprintf("%d of them spare, to cut the first star again", s.Spare)
	if s.Strips.Glued() {
		about = fmt.Sprintf("from %d strips; %s", s.Plan.Pieces[0], about)
	}
	p.add("blanks", fmt.Sprint(s.Blanks()), about)
	name := "boards taken"
	if s.Strips != nil && s.Strips.Across > 1 {
		name = "ripped lengths taken"
	}
	p.add(name, fmt.Sprintf("%d of %d", len(s.Taken()), len(s.Plan.Boards)), fmt.Sprintf("%.1f board feet", s.Plan.BoardFeet))
	about = "kerfs, trims, bad places and rests"
	if s.Strips != nil {
		about = "in length and width, kerfs and trims too"
	}
	p.add("waste", bench.Num(s.WastePercent(), 0)+" %", about)
	p.add("longest rest", w.Say(s.Plan.LongestRest), "")
}

// strips says how the star's boards are made from those on the rack.
func (p *page) strips(w *packet.Work, u *star.Unit, s *benchwork.Strips) {
	if s == nil {
		return
	}
	say := w.Say
	if !s.Glued() {
		p.group("Boards to rip")
		p.add("width", say(s.StripWidth), fmt.Sprintf("%s, each %s wide", words.Count(s.Across, "length from each board", "lengths from each board"), say(s.Ask.BoardWidth)))
		p.add("left of each board", say(s.Offcut), "")
		return
	}
	p.group(strings.TrimSuffix("Blanks to glue up, "+u.Spec.Name, ", "))
	p.add("strips", fmt.Sprint(s.Total()), fmt.Sprintf("%d for each of %d blanks, %d of those to cut the first star again", s.PerBlank, s.Blanks, u.Points))
	if u.TwoWoods() {
		p.add("woods", fmt.Sprintf("%d and %d", s.Total()/2, s.Total()/2), fmt.Sprintf("of %s and of %s", u.Spec.Woods[0], u.Spec.Woods[1]))
	}
	from := fmt.Sprintf("one from each board of %s, %s left", say(s.Ask.BoardWidth), say(s.Offcut))
	if s.Planned {
		from = "as the stock plan shows them"
		if w.Bench.Rack == nil {
			from = "from boards of any width that gives them"
		}
	}
	p.length(w, "rip to", s.StripWidth, from)
	p.length(w, "plane to", s.Planed, say(s.Ask.Jointing)+" off each edge")
	p.length(w, "strip length", s.Ask.Length, "")
	p.add("joints", fmt.Sprintf("%d in each blank", s.Joints), "one on the centre line, through the tip")
	glue, _ := s.Glue(w.Job.Units)
	p.add("glue", s.GlueArea(w.Job.Units), "of joint in all; about "+glue)
	p.add("clamps", fmt.Sprintf("%d for each blank", s.Clamps), "over and under it by turns")
}

// wood says how the star moves between shop and home.
func (p *page) wood(w *packet.Work, x *benchwork.Wood) {
	if x == nil {
		return
	}
	fine := w.Job.Units.FormatFine
	m := x.Movement
	p.group("Wood movement, flatsawn " + x.Name())
	p.add("moisture", fmt.Sprintf("%s to %s %%", bench.Num(x.FromMC, 1), bench.Num(x.ToMC, 1)), "from the shop to where it hangs")
	p.add("board width", fine(m.WidthChange), "of change")
	p.add("each facet", fmt.Sprintf("%.3f°", (m.HalfAfter-m.HalfBefore).Degrees()), fmt.Sprintf("all together %.2f°", m.AllJoints.Degrees()))
	p.add("joints", fine(m.Each.MM), fmt.Sprintf("open at the %s; %s if one takes it all", m.Last.At, fine(m.Last.MM)))
	if x.Second != nil {
		p.add("where both woods meet", fine(m.Step), "one gets thicker than the other, half of it on each face")
	}
	if m.Warning != "" {
		p.line("What helps: " + strings.Join(m.Helps, "; ") + ".")
	}
}

// feeds says what the cutter's settings come to.
func (p *page) feeds(w *packet.Work, list []benchwork.Feed) {
	if len(list) == 0 {
		return
	}
	p.group("Feeds, held against common practice")
	chip := func(mm float64) string { return feeds.FormatChip(w.Job.Units, mm) }
	for _, f := range list {
		r := f.Result
		p.add(f.For+", "+f.Material.String(), chip(r.ChipLoad)+" chip load",
			fmt.Sprintf("common %s to %s; edge %s, %s", chip(r.Common.Low), chip(r.Common.High),
				feeds.FormatSurface(w.Job.Units, r.SurfaceMS), feeds.FormatRemoval(w.Job.Units, r.RemovalCM3Min)))
	}
}

// rack says what the boards on the rack give for an order, and what has to be
// bought.
func (p *page) rack(w *packet.Work, r *benchwork.Rack) {
	if r == nil {
		return
	}
	p.group("Stock plan")
	p.line(r.Words())
	for i := range r.Units {
		wanted := r.Ask.Pieces[i]
		about := fmt.Sprintf("%s x %s x %s; %d of them to try the set-ups with", w.Say(wanted.Length), w.Say(wanted.Width), w.Say(wanted.Thickness), r.Spare(i))
		if n := r.Plan.Bought[i]; n > 0 {
			about = fmt.Sprintf("%d of them from boards to buy; ", n) + about
		}
		if n := r.Plan.Short[i]; n > 0 {
			about = fmt.Sprintf("%d more are wanted; ", n) + about
		}
		p.add(r.Name(i), r.Kind(i, r.Plan.Given[i]+r.Plan.Bought[i]), about)
	}
	p.add("boards taken", fmt.Sprint(r.TakenBoards(false)), fmt.Sprintf("of %d on the rack", r.RackBoards()))
	for _, b := range r.Buy() {
		about := fmt.Sprintf("%s long, %s wide, %s thick", w.Say(b.Length), w.Say(b.Width), w.Say(b.Thickness))
		p.add("buy", words.Count(b.Count, "board", "boards"), strings.TrimSuffix(about+", "+b.Wood, ", "))
	}
	p.add("wood", fmt.Sprintf("%.1f board feet", r.BoardFeet()), fmt.Sprintf("waste %s %%, kerfs, trims and rests counted", bench.Num(r.WastePercent(), 0)))
}

// flat says which boards the segments from the CNC take.
func (p *page) flat(w *packet.Work, x *benchwork.Flat) {
	if x == nil {
		return
	}
	p.group("Boards for the CNC")
	p.line(x.Words())
	for i, one := range x.Pieces {
		p.add(x.Program(i), words.Count(one.Count, "piece", "pieces"),
			strings.TrimSuffix(fmt.Sprintf("%s x %s x %s, %s on each, %s", w.Say(one.Length), w.Say(one.Width), w.Say(one.Thickness), words.Count(len(one.Parts), "segment", "segments"), one.Wood), ", "))
	}
	if len(x.Rack) > 0 {
		p.add("boards taken", fmt.Sprint(x.TakenBoards(false)), "of the rack")
	}
	for _, b := range x.ToBuy() {
		about := fmt.Sprintf("%s long, %s wide, %s thick", w.Say(b.Length), w.Say(b.Width), w.Say(b.Thickness))
		p.add("buy", words.Count(b.Count, "board", "boards"), strings.TrimSuffix(about+", "+b.Wood, ", "))
	}
	p.add("their length", w.Say(x.Length), "no way to lay these segments takes less than "+w.Say(w.Job.Units.Floor(x.Bound))+", by their area")
	p.add("wood", fmt.Sprintf("%.1f board feet", x.BoardFeet()), fmt.Sprintf("waste %s %%, kerfs, trims and rests counted", bench.Num(x.WastePercent(), 0)))
}
