package benchwork

import (
	"fmt"

	"starwright/cmd/internal/job"
	"starwright/geom"
	"starwright/geom/bench"
	"starwright/geom/bench/stock"
	"starwright/geom/problem"
	"starwright/geom/route/choose"
	"starwright/geom/star"
)

// Strips is how the star's boards are made from boards of another width:
// ripped from wider ones, or glued up from strips of narrower ones or of two
// woods. One glue-up makes one blank.
type Strips struct {
	stock.Strips
	Ask    stock.Lamination
	Blanks int // to be made, spare ones included
	// Planned is true where the stock plan of an order says what each board gives:
	// its boards may differ in width.
	Planned bool
	Woods   [2]string // of the two halves of a blank, the left one's first; "" where it is of one wood
}

// GluePerM2 is how much glue an edge joint takes, g/m²: common practice, no
// source.
const GluePerM2 = 200.0

// strips works out the strips, where the job says how wide its boards are.
func (w *Work) strips(j *job.Job, u *star.Unit) problem.List {
	j = j.Of(u.Spec.Name)
	t, wide := j.Stock, u.Segment.Width
	two, planned := u.Halved(), j.Star.Name != "" || u.TwoWoods()
	switch {
	case two && t.Width == 0:
		t.Width = wide
	case two:
	case t.Width == 0, planned && (!t.Laminate || t.Width >= wide):
		return nil
	}
	if t.Width < wide && !t.Laminate && !two {
		return problem.List{{Key: "stock.board_width", Got: j.Units.Format(t.Width),
			Why:   fmt.Sprintf("these boards are narrower than the star's, %s", j.Units.Format(wide)),
			Would: fmt.Sprintf("laminate = true under [stock], which glues them up, or board_width = %q", j.Units.Format(j.Units.Ceil(wide)))}}
	}
	out := &Strips{Blanks: u.Blank.Count + choose.Spare(u), Ask: stock.Lamination{Width: wide, Length: u.Blank.Length,
		Thickness: u.Thickness(), BoardWidth: t.Width, RipKerf: t.RipKerf, Jointing: t.Jointing, TwoWoods: two, Say: bench.Say(j.Units.Format)},
		Planned: planned}
	if two {
		out.Woods = u.Spec.Woods
	}
	if t.Width < wide || two {
		out.Ask.Length = j.Units.Ceil(u.Blank.Length + squaring)
	}
	var err error
	if out.Strips, err = out.Ask.Strips(); err != nil {
		if two && wide < 2*stock.MinStripMM {
			would := fmt.Sprintf("board_width = %q", j.Units.Format(j.Units.Ceil(2*stock.MinStripMM)))
			if u.Spec.StarWidth > 0 {
				would = fmt.Sprintf("star_width = %q", j.Units.Format(j.Units.Ceil(2*stock.MinStripMM*u.Spec.StarWidth/wide)))
			}
			return problem.List{{Star: u.Spec.Name, Key: "star.woods", Got: fmt.Sprintf("boards %s wide", j.Units.Format(wide)),
				Why:   fmt.Sprintf("the halves of so narrow a segment tip and bow at the saw; a strip is %s wide at least", j.Units.Format(stock.MinStripMM)),
				Would: would + ", or one wood"}}
		}
		keys := map[string]string{"width": "star.board_width", "length": "blank.end_trim", "thickness": "star.thickness",
			"rip kerf": "stock.rip_kerf", "jointing": "stock.jointing"}
		ps := asProblems(err, func(p problem.Problem) string {
			if k := keys[p.Key]; k != "" {
				return k
			}
			if two && j.Stock.Width == 0 {
				return "star.board_width"
			}
			return "stock.board_width"
		})
		for i, p := range ps {
			if p.Key == "stock.board_width" {
				ps[i].Would = fmt.Sprintf("board_width = %q", j.Units.Format(j.Units.Ceil(wide/2+2*t.Jointing)))
			}
		}
		return ps
	}
	w.Strips = out
	if t.Laminate && out.PerBlank == 1 && !planned {
		w.warn("stock.laminate", "true", fmt.Sprintf("boards of %s are wide enough for the star's %s: nothing is glued up",
			j.Units.Format(t.Width), j.Units.Format(wide)))
	}
	return nil
}

// Glued reports whether blanks are glued up from strips; a nil Strips is not.
func (s *Strips) Glued() bool { return s != nil && s.PerBlank > 1 }

// GluedWidth is how wide the glue-up is when only the edges that were glued have
// been planed: the outer two are planed when the glue has set.
func (s *Strips) GluedWidth() float64 { return s.Ask.Width + 2*s.Ask.Jointing }

// perBlank is how many pieces make one blank.
func (s *Strips) perBlank() int {
	if s == nil {
		return 1
	}
	return s.PerBlank
}

// across is how many strips one board gives.
func (s *Strips) across() int {
	if s == nil {
		return 1
	}
	return s.Across
}

// Total returns how many strips, each as long as a blank, make all blanks.
func (s *Strips) Total() int { return s.Blanks * s.PerBlank }

// GlueMM2All returns the glued area of all blanks, mm².
func (s *Strips) GlueMM2All() float64 { return float64(s.Blanks) * s.GlueMM2 }

// GlueG returns the glue that all blanks take, g.
func (s *Strips) GlueG() float64 {
	const mm2PerM2 = 1e6
	return s.GlueMM2All() / mm2PerM2 * GluePerM2
}

// GlueArea prints the glued area of all blanks: "1576 cm²", "244 in²".
func (s *Strips) GlueArea(u geom.Unit) string {
	const mm2PerCM2 = 100
	if u == geom.Inch {
		return fmt.Sprintf("%.0f in²", s.GlueMM2All()/(geom.MMPerInch*geom.MMPerInch))
	}
	return fmt.Sprintf("%.0f cm²", s.GlueMM2All()/mm2PerCM2)
}

// Glue prints the glue that all blanks take, and how it is reckoned: "32 g" and
// "200 g/m²", "1.1 oz" and "0.66 oz/ft²".
func (s *Strips) Glue(u geom.Unit) (all, rate string) {
	const gPerOz, ft2PerM2 = 28.349523125, 10.7639104
	if u == geom.Inch {
		return fmt.Sprintf("%.1f oz", s.GlueG()/gPerOz), fmt.Sprintf("%.2f oz/ft²", GluePerM2/gPerOz/ft2PerM2)
	}
	return fmt.Sprintf("%.0f g", s.GlueG()), fmt.Sprintf("%.0f g/m²", GluePerM2)
}

// StripsDocument is `strips` of `plan --json`; lengths mm, areas mm².
type StripsDocument struct {
	PerBlank    int       `json:"per_blank"` // 1: the boards are wide enough, nothing is glued up
	Blanks      int       `json:"blanks"`
	Count       int       `json:"count"`
	Length      float64   `json:"length_mm"`
	BoardWidth  float64   `json:"board_width_mm,omitempty"` // not of an order
	RipWidth    float64   `json:"rip_width_mm"`
	RipKerf     float64   `json:"rip_kerf_mm"`
	Jointing    float64   `json:"jointing_mm"`         // off each edge
	Width       float64   `json:"width_mm"`            // when it is glued
	Across      int       `json:"per_board,omitempty"` // strips side by side in one board; not of an order, see its stock plan
	Offcut      float64   `json:"board_offcut_mm"`
	Joints      int       `json:"joints_per_blank"`
	JointsAt    []float64 `json:"joints_at_mm"` // from the blank's edge
	CentreJoint bool      `json:"centre_joint"`
	Glue        float64   `json:"glue_mm2_per_blank"`
	GlueAll     float64   `json:"glue_mm2"`
	Clamps      int       `json:"clamps_per_blank"`
	Woods       []string  `json:"woods,omitempty"` // of the two halves, the left one's first: half of the strips of each
	Statement   string    `json:"statement"`
}

// JointsAt returns where the joints of a blank lie, mm from its edge.
func (s *Strips) JointsAt() []float64 {
	out := []float64{}
	for i := 1; i < s.PerBlank; i++ {
		out = append(out, float64(i)*s.Planed)
	}
	return out
}

// Document returns what `plan --json` prints.
func (s *Strips) Document() *StripsDocument {
	if s == nil {
		return nil
	}
	d := &StripsDocument{PerBlank: s.PerBlank, Blanks: s.Blanks, Count: s.Total(), Length: s.Ask.Length,
		BoardWidth: s.Ask.BoardWidth, RipWidth: s.StripWidth, RipKerf: s.Ask.RipKerf, Jointing: s.Ask.Jointing, Width: s.Planed,
		Across: s.Across, Offcut: s.Offcut, Joints: s.Joints, JointsAt: s.JointsAt(), CentreJoint: s.CentreJoint,
		Glue: s.GlueMM2, GlueAll: s.GlueMM2All(), Clamps: s.Clamps, Statement: s.Statement}
	if s.Planned {
		d.BoardWidth, d.Across, d.Offcut = 0, 0, 0
	}
	if s.Woods[0] != "" {
		d.Woods = s.Woods[:]
	}
	return d
}
