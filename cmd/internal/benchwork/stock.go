package benchwork

import (
	"fmt"

	"starwright/cmd/internal/job"
	"starwright/geom/bench"
	"starwright/geom/bench/stock"
	"starwright/geom/problem"
	"starwright/geom/route/choose"
	"starwright/geom/star"
	"starwright/geom/words"
)

// Stock is the cut plan of the boards.
type Stock struct {
	Plan   stock.Plan
	Wanted int     // stars
	Blank  float64 // mm, length of a piece
	Strips *Strips // what the pieces are, where they are no whole blanks; else nil
	Spare  int     // blanks beside the stars'

	YardWidth, YardThickness float64 // of a board, as the yard counts board feet
}

// stock plans the boards, where the job names some and its strips are known.
func (w *Work) stock(j *job.Job, u *star.Unit) problem.List {
	s := w.Strips
	if len(j.Stock.Boards) == 0 || j.Stock.Width > 0 && s == nil {
		return nil
	}
	width, thickness := yardSize(j, u)
	per := s.perBlank()
	name := "blank"
	if s.Glued() {
		name = "strip"
	}
	plan, err := stock.Make(stock.CutList{
		Boards: rack(j.Stock.Boards, s.across()),
		Parts:  []stock.Part{{Name: name, Length: pieceLength(j, u, s), PerStar: per * u.Points, Extra: per * choose.Spare(u)}},
		Stars:  u.Count(), Kerf: j.Saw.Kerf, EndTrim: j.Stock.Trim,
		Width: width / float64(s.across()), Thickness: thickness, Say: bench.Say(j.Units.Format),
	})
	if err != nil {
		keys := map[string]string{"kerf": "saw.kerf", "end trim": "stock.trim", "width": "star.board_width", "thickness": "star.thickness", "stars": "star.count"}
		ps := asProblems(err, func(p problem.Problem) string {
			if k := keys[p.Key]; k != "" {
				return k
			}
			return "stock.boards"
		})
		for i := range ps {
			if most := (stock.MaxPieces - per*choose.Spare(u)) / (per * u.Points); ps[i].Key == "star.count" && most > 0 {
				ps[i].Why = fmt.Sprintf("a stock plan cuts %d pieces at most, and each star takes %d", stock.MaxPieces, per*u.Points)
				ps[i].Would = fmt.Sprintf("count = %d, or a rack of fewer boards", most)
			}
		}
		return ps
	}
	w.Stock = &Stock{Plan: plan, Wanted: u.Count(), Blank: u.Blank.Length, Strips: s, Spare: plan.Extra[0] / per, YardWidth: width, YardThickness: thickness}
	if plan.Stars < u.Count() {
		w.warn("stock.boards", words.Count(len(plan.Boards)/s.across(), "board", "boards"), w.shortOf(j, u))
	}
	return nil
}

// shortOf says what the boards give where they do not suffice, and what to add.
func (w *Work) shortOf(j *job.Job, u *star.Unit) string {
	s := w.Stock
	got, per := s.Plan.Pieces[0], s.Strips.perBlank()
	need := per * u.Points * u.Count()
	stars := "not one whole star"
	if n := s.Plan.Stars; n > 0 {
		stars = words.Count(n, "whole star", "whole stars")
	}
	sure := ""
	if !s.Plan.Exact && s.Plan.StarsBound > s.Plan.Stars {
		sure = fmt.Sprintf(" (%d at the very most)", s.Plan.StarsBound)
	}
	out := fmt.Sprintf("the boards give %d of the %s that %s take: %s%s", got, s.What(need), words.Count(u.Count(), "star", "stars"), stars, sure)
	long := 0.0
	for _, b := range j.Stock.Boards {
		long = max(long, b.Length)
	}
	piece := pieceLength(j, u, s.Strips)
	each := int((long-2*j.Stock.Trim+j.Saw.Kerf)/(piece+j.Saw.Kerf)) * s.Strips.across()
	if each < 1 {
		return out
	}
	// So many suffice even where what is left over of the others is of no use.
	more := (need - got + each - 1) / each
	return out + fmt.Sprintf(". Add %s of %s", words.Count(more, "board", "boards"), j.Units.Format(long))
}

// squaring is by how much strips are longer than the blank that is cut from them
// when they are glued up, so that both its ends are sawn square then; mm. Common
// practice, no source.
const squaring = 10.0

// pieceLength is how long the pieces are that the boards are cut to, mm.
func pieceLength(j *job.Job, u *star.Unit, s *Strips) float64 {
	if s.Glued() {
		return s.Ask.Length
	}
	return u.Blank.Length
}

// yardSize returns width and thickness of the boards as the yard counts board
// feet with: the nominal size of those that were given by their trade name.
func yardSize(j *job.Job, u *star.Unit) (width, thickness float64) {
	width, thickness = u.Segment.Width, u.Thickness()
	n := j.Star.Nominal
	if j.Stock.Width > 0 {
		width, n = j.Stock.Width, j.Stock.Nominal
	}
	if n != nil {
		width, thickness = n.NominalWidth, n.NominalThickness
	}
	return width, thickness
}

// What returns what the pieces of the plan are: strips of a blank, or blanks.
func (s *Stock) What(n int) string {
	if s.Strips.Glued() {
		return words.Count(n, "strip", "strips")
	}
	return words.Count(n, "blank", "blanks")
}

// Blanks returns how many blanks the pieces make.
func (s *Stock) Blanks() int {
	n := 0
	for _, p := range s.Plan.Pieces {
		n += p
	}
	return n / s.Strips.perBlank()
}

// WastePercent returns how much of the boards taken does not become a blank, in
// length and in width.
func (s *Stock) WastePercent() float64 {
	if s.Strips == nil || s.Plan.TakenLength == 0 {
		return s.Plan.WastePercent
	}
	used := s.Plan.PiecesLength * s.Strips.Planed
	return 100 * (1 - used/(s.Plan.TakenLength*s.Strips.Ask.BoardWidth/float64(s.Strips.Across)))
}

// rack returns the boards to plan with; a board that is ripped into strips
// side by side counts as so many.
func rack(boards []job.Board, across int) []stock.Board {
	out := make([]stock.Board, len(boards))
	for i, b := range boards {
		out[i] = stock.Board{Length: b.Length, Count: b.Count * across}
		for _, s := range b.Bad {
			out[i].Bad = append(out[i].Bad, stock.Span{Start: s[0], End: s[1]})
		}
	}
	return out
}

// Taken returns the boards that are cut, in the order of the job.
func (s *Stock) Taken() []stock.Sawn {
	var out []stock.Sawn
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
	Strips     int             `json:"strips,omitempty"` // that the blanks are glued up from
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
	Strips    int               `json:"strips,omitempty"` // of blanks that are glued up; blanks is 0 then
	Stretches []StretchDocument `json:"stretches"`
}

// StretchDocument is one stretch of a board from its left end.
type StretchDocument struct {
	What string  `json:"what"` // blank or strip, kerf, trim, bad, rest
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
		Taken: p.TakenLength, Waste: s.WastePercent(), BoardFeet: p.BoardFeet, Boards: []BoardDocument{}}
	d.Blanks = s.Blanks()
	glued := s.Strips.Glued()
	if glued {
		d.Strips = p.Pieces[0]
	}
	for _, c := range p.Boards {
		bd := BoardDocument{Board: c.Board + 1, Copy: c.Copy, Length: c.Length, Taken: c.Taken, Blanks: c.Pieces(-1), Stretches: []StretchDocument{}}
		if glued {
			bd.Blanks, bd.Strips = 0, bd.Blanks
		}
		for _, t := range c.Stretches {
			what := t.Kind.String()
			if glued && t.Kind == stock.Piece {
				what = "strip"
			}
			bd.Stretches = append(bd.Stretches, StretchDocument{what, t.Start, t.End})
		}
		d.Boards = append(d.Boards, bd)
	}
	return d
}
