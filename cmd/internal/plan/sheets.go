package plan

import (
	"fmt"
	"slices"

	"starwright/cmd/internal/packet"
	"starwright/geom/jig"
	"starwright/geom/star"
)

// JigDocument is one jig of the kit.
type JigDocument struct {
	Key      string  `json:"key"`
	Drawing  string  `json:"drawing"`
	Title    string  `json:"title"`
	Use      string  `json:"use"`
	Quantity int     `json:"quantity"`
	Width    float64 `json:"width_mm"`
	Height   float64 `json:"height_mm"`
}

// SheetDocument is one nested sheet and the program that cuts it.
type SheetDocument struct {
	Program      string  `json:"program"`
	Drawing      string  `json:"drawing"`
	Runs         int     `json:"runs"`
	Parts        int     `json:"parts"`
	Width        float64 `json:"width_mm"`
	Height       float64 `json:"height_mm"`
	Thickness    float64 `json:"thickness_mm"`
	Breakthrough float64 `json:"breakthrough_mm"`
	Tabs         int     `json:"tabs"`
	TabWidth     float64 `json:"tab_width_mm"`
	TabHeight    float64 `json:"tab_height_mm"`
	Travel       float64 `json:"travel_mm"`
	TravelBound  float64 `json:"travel_bound_mm"`
	Blocks       int     `json:"blocks"`
	BlocksBound  int     `json:"blocks_bound"`
}

func newJigs(kit []jig.Jig) []JigDocument {
	out := []JigDocument{}
	for _, j := range kit {
		b := j.Outline.Bounds()
		out = append(out, JigDocument{j.Key, "dxf/" + j.File + ".dxf", j.Title, j.Use, max(1, j.Quantity), b.W(), b.H()})
	}
	return out
}

func newSheets(w *packet.Work) []SheetDocument {
	out := []SheetDocument{}
	for _, g := range w.Programs {
		s := g.Sheet
		if s == nil {
			continue
		}
		out = append(out, SheetDocument{
			Program: g.Path, Drawing: "dxf/sheet-" + g.Plan.Name + ".dxf", Runs: g.Quantity, Parts: len(s.Parts),
			Width: s.SheetW, Height: s.SheetH, Thickness: s.Thickness, Breakthrough: s.Breakthrough,
			Tabs: len(g.Tabs), TabWidth: s.Tabs.Width, TabHeight: s.Tabs.Height,
			Travel: g.Travel, TravelBound: g.TravelBound, Blocks: g.Blocks, BlocksBound: g.BlocksBound,
		})
	}
	return out
}

// blocks says for each cut whether the saw reaches it, and by which block it is
// made where it does not.
func (p *page) blocks(w *packet.Work, s star.Segment) {
	limit := w.Job.Saw.MaxMiter
	made := map[string]jig.Block{}
	for _, b := range jig.Blocks(s, limit) {
		made[b.Cut] = b
	}
	cut := func(name, key string, miter float64) {
		about := "within the saw's " + star.FormatAngle(limit)
		if b, ok := made[key]; ok {
			about = fmt.Sprintf("saw at %s with the %s block (the saw reaches %s)", star.FormatAngle(b.Setting), star.FormatAngle(b.Angle), star.FormatAngle(limit))
			if second := b.Second(s.Tip); key == "tip" && second >= 0 {
				about = fmt.Sprintf("saw at %s with the %s block, second cut at %s (the saw reaches %s)",
					star.FormatAngle(b.Setting), star.FormatAngle(b.Angle), star.FormatAngle(second), star.FormatAngle(limit))
			}
		}
		p.add(name, fmt.Sprintf("%.2f°", miter), about)
	}
	cut("facets, at the centre", "facet", s.CenterMiter().Degrees())
	cut("tip", "tip", s.TipMiter().Degrees())
}

func (p *page) jigs(w *packet.Work) {
	choices := w.JigChoices()
	if len(w.Jigs) == 0 && len(choices) == 0 {
		return
	}
	p.group("Jigs")
	for _, j := range w.Jigs {
		b := j.Outline.Bounds()
		p.add(j.Title, fmt.Sprintf("%d of", max(1, j.Quantity)), w.Say(b.W())+" x "+w.Say(b.H()))
	}
	for _, c := range choices {
		made := slices.ContainsFunc(w.Jigs, func(j jig.Jig) bool { return j.Key == c.Key })
		if w.Job.IsOrder() {
			made = c.Make && made // of this star; what the job names is made for all
			made = made || slices.Contains(w.Job.Jigs.Make, c.Key)
		}
		if c.Minutes > 0 {
			p.add(c.Key, map[bool]string{true: "made", false: "not made"}[made], c.Why)
		}
	}
}
