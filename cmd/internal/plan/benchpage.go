package plan

import (
	"fmt"
	"math"
	"strings"

	"starwright/cmd/internal/benchwork"
	"starwright/cmd/internal/packet"
	"starwright/geom/bench"
)

// stock says what the boards on the rack give.
func (p *page) stock(w *packet.Work, s *benchwork.Stock) {
	if s == nil {
		return
	}
	p.group("Stock plan")
	about := "no plan gives more stars or takes less board"
	if !s.Plan.Exact {
		about = fmt.Sprintf("no plan gives more than %d", s.Plan.StarsBound)
	}
	p.add("stars", fmt.Sprintf("%d of %d", s.Plan.Stars, s.Wanted), about)
	blanks := 0
	for _, n := range s.Plan.Pieces {
		blanks += n
	}
	p.add("blanks", fmt.Sprint(blanks), fmt.Sprintf("%d of them to try the set-ups with", blanks-s.Plan.Stars*w.Batch.Main.Points))
	p.add("boards taken", fmt.Sprintf("%d of %d", len(s.Taken()), len(s.Plan.Boards)), fmt.Sprintf("%.1f board feet", s.Plan.BoardFeet))
	p.add("waste", bench.Num(s.Plan.WastePercent, 0)+" %", "kerfs, trims, bad places and rests")
	p.add("longest rest", w.Say(s.Plan.LongestRestMM), "")
}

// wood says how the star moves between shop and home.
func (p *page) wood(w *packet.Work, x *benchwork.Wood) {
	if x == nil {
		return
	}
	fine := w.Job.Units.FormatFine
	m := x.Movement
	p.group("Wood movement, flatsawn " + x.Species.Name)
	p.add("moisture", fmt.Sprintf("%s to %s %%", bench.Num(x.FromMC, 1), bench.Num(x.ToMC, 1)), "from the shop to where it hangs")
	p.add("board width", fine(m.WidthChangeMM), "of change")
	p.add("each facet", fmt.Sprintf("%.3f°", (m.HalfAfter-m.HalfBefore).Degrees()), fmt.Sprintf("all together %.2f°", m.AllJoints.Degrees()))
	p.add("joints", fine(m.Each.MM), fmt.Sprintf("open at the %s; %s if one takes it all", m.Last.At, fine(m.Last.MM)))
	if m.Warning != "" {
		p.line("What helps: " + strings.Join(m.Helps, "; ") + ".")
	}
}

// feeds says what the cutter's settings come to.
func (p *page) feeds(list []benchwork.Feed) {
	if len(list) == 0 {
		return
	}
	p.group("Feeds, held against common practice")
	num := func(v float64) string { return bench.Num(math.Round(v*1000)/1000, 3) }
	for _, f := range list {
		r := f.Result
		p.add(f.For+", "+f.Material.String(), num(r.ChipLoadMM)+" mm chip load",
			fmt.Sprintf("common %s to %s; edge %.1f m/s, %.1f cm³/min", num(r.Common.LowMM), num(r.Common.HighMM), r.SurfaceMS, r.RemovalCM3Min))
	}
}
