package benchwork

import (
	"fmt"

	"starwright/cmd/internal/job"
	"starwright/geom/bench"
	"starwright/geom/bench/stock"
	"starwright/geom/star"
)

// TryBlanks is how many blanks are cut beside the stars', to try the set-ups
// with, where the wood allows.
const TryBlanks = 2

// Stock is the cut plan of the boards.
type Stock struct {
	Plan   stock.Plan
	Wanted int // stars
	Blank  float64
}

// stock plans the boards, where the job names some.
func (w *Work) stock(j *job.Job, b *star.Batch) []star.Problem {
	if len(j.Stock.Boards) == 0 {
		return nil
	}
	width, thickness := b.Main.Segment.Width, b.Thickness
	if n := j.Star.Nominal; n != nil {
		width, thickness = n.NominalWidthMM, n.NominalThicknessMM
	}
	plan, err := stock.Make(stock.Job{
		Boards: rack(j.Stock.Boards),
		Parts:  []stock.Part{{Name: "blank", LengthMM: b.Blank.Length, PerStar: b.Main.Points, Extra: TryBlanks}},
		Stars:  b.Count, KerfMM: j.Saw.Kerf, EndTrimMM: j.Stock.Trim,
		WidthMM: width, ThicknessMM: thickness, Say: bench.Say(j.Units.Format),
	})
	if err != nil {
		keys := map[string]string{"kerf": "saw.kerf", "end trim": "stock.trim", "width": "star.board_width", "thickness": "star.thickness", "stars": "star.count"}
		return asProblems(err, func(p bench.Problem) string {
			if k := keys[p.Field]; k != "" {
				return k
			}
			return "stock.boards"
		})
	}
	w.Stock = &Stock{Plan: plan, Wanted: b.Count, Blank: b.Blank.Length}
	if plan.Stars < b.Count {
		sure := ""
		if !plan.Exact && plan.StarsBound > plan.Stars {
			sure = fmt.Sprintf(" (%d at the very most)", plan.StarsBound)
		}
		w.warn("stock.boards", plural(len(plan.Boards), "board", "boards"),
			fmt.Sprintf("they give blanks for %s%s, the batch has %d", plural(plan.Stars, "star", "stars"), sure, b.Count))
	}
	return nil
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

func rack(boards []job.Board) []stock.Board {
	out := make([]stock.Board, len(boards))
	for i, b := range boards {
		out[i] = stock.Board{LengthMM: b.Length, Count: b.Count}
		for _, s := range b.Bad {
			out[i].Bad = append(out[i].Bad, stock.Span{StartMM: s[0], EndMM: s[1]})
		}
	}
	return out
}

// Taken returns the boards that are cut, in the order of the job.
func (s *Stock) Taken() []stock.Cut {
	var out []stock.Cut
	for _, c := range s.Plan.Boards {
		if c.Taken {
			out = append(out, c)
		}
	}
	return out
}

// StockDocument is `stock` of `plan --json`; lengths mm.
type StockDocument struct {
	Stars      int             `json:"stars"`
	Wanted     int             `json:"stars_wanted"`
	StarsBound int             `json:"stars_bound"`
	Exact      bool            `json:"exact"`
	Blanks     int             `json:"blanks"`
	Taken      float64         `json:"taken_mm"`
	Waste      float64         `json:"waste_percent"`
	BoardFeet  float64         `json:"board_feet"`
	Boards     []BoardDocument `json:"boards"`
}

// BoardDocument is one board of the rack.
type BoardDocument struct {
	Board     int               `json:"board"` // place in the job's list, from 1
	Copy      int               `json:"copy"`  // among boards alike, from 1
	Length    float64           `json:"length_mm"`
	Taken     bool              `json:"taken"`
	Blanks    int               `json:"blanks"`
	Stretches []StretchDocument `json:"stretches"`
}

// StretchDocument is one stretch of a board from its left end.
type StretchDocument struct {
	What string  `json:"what"` // blank, kerf, trim, bad, rest
	From float64 `json:"from_mm"`
	To   float64 `json:"to_mm"`
}

// Document returns what `plan --json` prints.
func (s *Stock) Document() *StockDocument {
	if s == nil {
		return nil
	}
	p := s.Plan
	d := &StockDocument{Stars: p.Stars, Wanted: s.Wanted, StarsBound: p.StarsBound, Exact: p.Exact,
		Taken: p.TakenMM, Waste: p.WastePercent, BoardFeet: p.BoardFeet, Boards: []BoardDocument{}}
	for _, n := range p.Pieces {
		d.Blanks += n
	}
	for _, c := range p.Boards {
		bd := BoardDocument{Board: c.Board + 1, Copy: c.Copy, Length: c.LengthMM, Taken: c.Taken, Blanks: c.Pieces(-1), Stretches: []StretchDocument{}}
		for _, t := range c.Stretches {
			bd.Stretches = append(bd.Stretches, StretchDocument{t.Kind.String(), t.StartMM, t.EndMM})
		}
		d.Boards = append(d.Boards, bd)
	}
	return d
}
