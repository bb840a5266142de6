package shopsheet

import (
	"fmt"
	"strings"

	"starwright/cmd/internal/benchwork"
	"starwright/cmd/internal/job"
	"starwright/geom/bench"
	"starwright/geom/bench/feeds"
	"starwright/geom/star"
	"starwright/geom/words"
	"starwright/post/print"
)

// movement tells what the wood does between shop and home.
func (m *maker) movement(f *print.Flow) {
	for _, u := range m.Order.FromBoards() {
		if w := m.Bench.WoodOf(u); w != nil {
			m.moves(f, u, w)
		}
	}
}

// moves tells it of the wood of one star.
func (m *maker) moves(f *print.Flow, u *star.Unit, w *benchwork.Wood) {
	f.Compact()
	f.Head(strings.TrimSuffix("How the wood will move, "+u.Spec.Name, ", "))
	flat, quarter := w.Movement, w.Quartersawn
	air := func(mc float64, from bool, rh float64) string {
		s := bench.Num(mc, 1) + " % moisture"
		if from {
			s += fmt.Sprintf(" (air of %s %% humidity at 21 °C, 70 °F)", bench.Num(rh, 0))
		}
		return s
	}
	f.Text(fmt.Sprintf("%s, from %s in the shop to %s where it hangs; an opening that you would mind: %s.",
		words.Capital(w.Name()), air(w.FromMC, w.FromAir, w.FromRH), air(w.ToMC, w.ToAir, w.ToRH), m.fine(w.Limit)))
	dir := "wider"
	if flat.WidthChange < 0 {
		dir = "narrower"
	}
	if flat.Fraction == 0 {
		f.Text("The moisture stays the same, and so does the star.")
		return
	}
	abs := func(v float64) float64 { return max(v, -v) }
	f.Table([]print.Column{{Wide: 3}, {Head: "flatsawn boards", Wide: 2, Right: true}, {Head: "quartersawn", Wide: 2, Right: true}}, [][]string{
		{fmt.Sprintf("a board of %s gets %s by", m.say(w.Width), dir), m.fine(abs(flat.WidthChange)), m.fine(abs(quarter.WidthChange))},
		{"each facet turns by", fmt.Sprintf("%.3f°", abs((flat.HalfAfter - flat.HalfBefore).Degrees())), fmt.Sprintf("%.3f°", abs((quarter.HalfAfter - quarter.HalfBefore).Degrees()))},
		{"all facets together by", fmt.Sprintf("%.2f°", abs(flat.AllJoints.Degrees())), fmt.Sprintf("%.2f°", abs(quarter.AllJoints.Degrees()))},
		{"each joint would open by", m.fine(flat.Each.MM), m.fine(quarter.Each.MM)},
		{"one joint that takes it all", m.fine(flat.Last.MM), m.fine(quarter.Last.MM)},
	})
	f.Text(fmt.Sprintf("Joints open at the %s when this wood goes from %s to %s %%. Glued joints do not open: they are pulled by as much, and the weakest gives way.",
		flat.Last.At, bench.Num(w.FromMC, 1), bench.Num(w.ToMC, 1)))
	m.twoMove(f, u, w)
	if flat.Warning != "" {
		helps := make([]string, len(flat.Helps))
		for i, h := range flat.Helps {
			helps[i] = words.Capital(h) + "."
		}
		f.Text("Flatsawn boards move more than you want. What helps: " + strings.Join(helps, " "))
	} else {
		f.Text("That is within what you would mind.")
	}
	f.Text(fmt.Sprintf("Source: %s; coefficients of %s. Boards are rarely quite flatsawn, so the first column is the most to expect. Measure the moisture of your own boards.",
		flat.Equation, w.Status()))
}

// twoMove says what two woods do in the joints where they meet.
func (m *maker) twoMove(f *print.Flow, u *star.Unit, w *benchwork.Wood) {
	if w.Second == nil {
		return
	}
	flat, quarter := w.Movement, w.Quartersawn
	where, slide := "Where the two woods meet", ""
	if u.Spec.Halves == star.Mirrored {
		where = "In the middle of each segment, where the two woods meet"
	} else {
		slide = fmt.Sprintf(" At the valleys their facets slide along each other by %s (quartersawn %s): the glue line takes that.", m.fine(flat.Slide), m.fine(quarter.Slide))
	}
	f.Text(fmt.Sprintf("The figures above are those of both woods together: half of the facets are of each. %s, the one gets %s thicker or thinner than the other (quartersawn %s), half of it on either face: a finger feels a step from %s on (common practice, no source). Flush the faces when the boards have come to the moisture of the place where the star hangs.%s",
		where, m.fine(flat.Step), m.fine(quarter.Step), m.fine(felt), slide))
}

// felt is the least step that a finger feels across a joint, mm. Common practice,
// no source.
const felt = 0.05

// feeds tells what the cutter's settings come to.
func (m *maker) feeds(f *print.Flow) {
	if m.Bench == nil || len(m.Bench.Feeds) == 0 {
		return
	}
	f.Head("Feeds and speeds")
	if m.Job.OneCutter(m.Order) {
		m.cutter(f, "Cutter", m.Job.Cutter, m.Order.Cutter)
	} else {
		m.cutter(f, "Cutter for the slots", m.Job.Cutter, m.Order.Cutter)
		m.cutter(f, "Cutter for jigs and splines", m.Job.Sheets, *m.Job.Sheets.Diameter)
	}
	if c := m.Job.Segments.Cutter; m.Job.OwnSegmentCutter(m.Order) {
		m.cutter(f, "Cutter for the segments", c, *c.Diameter)
	}
	var rows [][]string
	for _, x := range m.Bench.Feeds {
		r := x.Result
		rows = append(rows, []string{x.For + ", " + x.Material.String(),
			m.chip(r.ChipLoad), m.chip(r.Common.Low) + " to " + m.chip(r.Common.High),
			feeds.FormatSurface(m.u, r.SurfaceMS), feeds.FormatRemoval(m.u, r.RemovalCM3Min)})
	}
	f.Table([]print.Column{{Head: "Cut", Wide: 2}, {Head: "Chip load", Right: true}, {Head: "common", Right: true}, {Head: "Edge speed", Right: true}, {Head: "Wood removed", Right: true}}, rows)
	common := "What is common: "
	var warnings []string
	for _, x := range m.Bench.Feeds {
		for _, w := range x.Result.Warnings {
			warnings = append(warnings, words.Capital(x.For)+": "+w.String())
		}
	}
	if len(warnings) == 0 {
		common = "All of it lies within what is common: "
	} else {
		f.Head("Outside of what is common")
		f.Points(warnings...)
	}
	total := 0.0
	for _, p := range m.Programs {
		total += p.Minutes * float64(p.Quantity)
	}
	if total > 0 {
		f.Text(fmt.Sprintf("All programs together run about %.0f min at %s, changing the work on top.", total, feeds.FormatAccel(m.u, m.Job.Machine.Accel)))
	}
	f.Text(common + "practice, no standard; charts differ by a factor of two. Dust or burning: feed faster or turn slower. Chatter: take less depth.")
}

// cutter tells how a cutter is set.
func (m *maker) cutter(f *print.Flow, name string, c job.CutterTable, diameter float64) {
	facts(f,
		[2]string{name, fmt.Sprintf("%s, %s", m.u.FormatSize(diameter), words.Count(c.Flutes, "edge", "edges"))},
		[2]string{"Set", fmt.Sprintf("%.0f rev/min, feed %s, down %s", c.SpindleRPM, m.u.FormatFeed(c.Feed), m.u.FormatFeed(c.PlungeFeed))},
		[2]string{"Each pass", m.u.FormatSize(c.DepthPerPass) + " deep at most"})
}

// chip prints a chip load.
func (m *maker) chip(mm float64) string { return feeds.FormatChip(m.u, mm) }
