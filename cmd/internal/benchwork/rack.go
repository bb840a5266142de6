package benchwork

import (
	"fmt"
	"slices"
	"strings"

	"starwright/cmd/internal/job"
	"starwright/geom/bench"
	"starwright/geom/bench/lumber"
	"starwright/geom/bench/yard"
	"starwright/geom/problem"
	"starwright/geom/route/choose"
	"starwright/geom/star"
	"starwright/geom/words"
)

// Rack is the cut plan of an order: all widths, lengths and woods from one rack,
// and what has to be bought.
type Rack struct {
	Ask   yard.Ask
	Plan  yard.Plan
	Units []*star.Unit // whose piece it is, by its place in the ask
	Strip []bool       // whether it is a strip of a blank, and no whole one
	price []*float64   // of a board that the yard sells
	own   []*float64   // of a board on the rack
}

// rack plans the boards of an order, where the job or the shop names some.
func (w *Work) rack(j *job.Job, o *star.Order) problem.List {
	if len(j.Stock.Boards)+len(j.Yard) == 0 {
		return nil
	}
	r := &Rack{Ask: yard.Ask{Kerf: j.Saw.Kerf, RipKerf: j.Stock.RipKerf, EndTrim: j.Stock.Trim, Say: bench.Say(j.Units.Format)}}
	for _, u := range o.FromBoards() {
		r.piecesOf(j, u, w.StripsOf(u))
	}
	var ps, more problem.List
	r.Ask.Rack, r.own, ps = r.boards(j, "stock.boards", j.Stock.Boards, r.widest())
	r.Ask.Buy, r.price, more = r.boards(j, "yard.boards", j.Yard, r.widest())
	if ps = append(ps, more...); len(ps) > 0 {
		return ps
	}
	var err error
	if r.Plan, err = yard.Make(r.Ask); err != nil {
		keys := map[string]string{"kerf": "saw.kerf", "rip kerf": "stock.rip_kerf", "end trim": "stock.trim", "buy": "yard.boards", "pieces": "star.count"}
		return asProblems(err, func(p problem.Problem) string {
			if k := keys[p.Key]; k != "" {
				return k
			}
			return "stock.boards"
		})
	}
	w.Rack = r
	for i, n := range r.Plan.Short {
		if n > 0 {
			u, one := r.Units[i], r.Ask.Pieces[i]
			w.Warnings = append(w.Warnings, problem.Note{Star: u.Spec.Name, Key: "stock.boards", Value: words.Count(r.RackBoards(), "board", "boards"),
				Why: fmt.Sprintf("they give %d of the %s, each %s x %s x %s", one.Count-n, r.what(i, one.Count),
					j.Units.Format(one.Length), j.Units.Format(one.Width), j.Units.Format(one.Thickness))})
		}
	}
	return nil
}

// piecesOf adds what is cut from boards for a star: its blanks, or the strips that
// they are glued up from, of each wood.
func (r *Rack) piecesOf(j *job.Job, u *star.Unit, s *Strips) {
	one := yard.Piece{Length: u.Blank.Length, Width: u.Segment.Width, Thickness: u.Thickness(), Count: u.Blank.Count + choose.Spare(u)}
	if s.Glued() {
		one.Length, one.Width, one.Count = s.Ask.Length, s.StripWidth, s.Total()
	}
	list := []yard.Piece{one}
	list[0].Wood = woodKey(j.Wood.Species)
	if u.TwoWoods() {
		one.Count /= 2
		list = []yard.Piece{one, one}
		for i, name := range u.Spec.Woods {
			list[i].Wood = woodKey(name)
		}
	}
	for _, p := range list {
		r.Ask.Pieces = append(r.Ask.Pieces, p)
		r.Units, r.Strip = append(r.Units, u), append(r.Strip, s.Glued())
	}
}

// woodKey is the name by which boards and pieces are of the same wood.
func woodKey(name string) string { return strings.ToLower(strings.TrimSpace(name)) }

// woods lists the woods that pieces are of, each once.
func (r *Rack) woods() []string {
	var out []string
	for _, p := range r.Ask.Pieces {
		if !slices.Contains(out, p.Wood) {
			out = append(out, p.Wood)
		}
	}
	return out
}

// Kind says what so many pieces of a kind are: "8 blanks", "10 strips".
func (r *Rack) Kind(piece, n int) string {
	if r.Strip[piece] {
		return words.Count(n, "strip", "strips")
	}
	return words.Count(n, "blank", "blanks")
}

// what is [Rack.Kind] with the wood: "10 strips of maple".
func (r *Rack) what(piece, n int) string {
	out := r.Kind(piece, n)
	if u := r.Units[piece]; u.TwoWoods() {
		out += " of " + r.Ask.Pieces[piece].Wood
	}
	return out
}

// First reports whether a piece is of the first of its star's two woods.
func (r *Rack) First(piece int) bool {
	return r.Ask.Pieces[piece].Wood == woodKey(r.Units[piece].Spec.Woods[0])
}

// Name tells a kind of piece from the others: by its star, and of two woods by its
// wood.
func (r *Rack) Name(piece int) string {
	u := r.Units[piece]
	if !u.TwoWoods() {
		return u.Spec.Name
	}
	return strings.TrimSpace(u.Spec.Name + " " + r.Ask.Pieces[piece].Wood)
}

// Spare returns how many pieces of a kind are for blanks beside the stars'.
func (r *Rack) Spare(piece int) int {
	u := r.Units[piece]
	return r.Ask.Pieces[piece].Count * choose.Spare(u) / (u.Blank.Count + choose.Spare(u))
}

// widest is the width of the widest star's boards, mm.
func (r *Rack) widest() float64 {
	wide := 0.0
	for _, u := range r.Units {
		wide = max(wide, u.Segment.Width)
	}
	return wide
}

// boards turns the boards of the job into those of the plan: what a board does not
// say of itself comes from the table, or from the stars where all have the same. wide
// (mm) are those of which nobody says how wide.
func (r *Rack) boards(j *job.Job, key string, list []job.Board, wide float64) (out []yard.Board, prices []*float64, ps problem.List) {
	thick, many := r.Ask.Pieces[0].Thickness, false
	for _, p := range r.Ask.Pieces {
		many = many || p.Thickness != thick
	}
	woods := r.woods()
	if j.Stock.Width > 0 {
		wide = j.Stock.Width
	}
	for i, b := range list {
		y := yard.Board{Length: b.Length, Width: b.Width, Thickness: b.Thickness, Count: b.Count}
		if y.Width == 0 {
			y.Width = wide
		}
		if y.Thickness == 0 {
			y.Thickness = thick
			if many {
				ps = append(ps, problem.Problem{Key: key, Why: fmt.Sprintf("board %d: the stars are of several thicknesses, and the board does not say its own", i+1),
					Would: fmt.Sprintf("{ length = %q, thickness = %q }", j.Units.Format(b.Length), j.Units.Format(thick))})
			}
		}
		for _, s := range b.Bad {
			y.Bad = append(y.Bad, yard.Span{Start: s[0], End: s[1]})
		}
		of := []string{woodKey(b.Wood)}
		switch {
		case b.Wood != "":
		case key == "yard.boards": // the yard sells its sizes in every wood
			of = woods
		case slices.Contains(woods, woodKey(j.Wood.Species)):
			of[0] = woodKey(j.Wood.Species)
		default:
			ps = append(ps, problem.Problem{Key: key, Why: fmt.Sprintf("board %d: the stars are of several woods, and the board does not say its own", i+1),
				Would: fmt.Sprintf("{ length = %q, wood = %q }", j.Units.Format(b.Length), woods[0])})
		}
		for _, y.Wood = range of {
			out, prices = append(out, y), append(prices, b.Price)
		}
	}
	return out, prices, ps
}

// Rips reports whether blanks of a star come from wider boards.
func (r *Rack) Rips(u *star.Unit) bool {
	if r == nil {
		return false
	}
	for _, s := range r.Plan.Boards {
		for _, strip := range s.Strips {
			for _, c := range strip.Cuts {
				const same = 0.01 // mm
				if r.Units[c.Piece] == u && r.Board(s).Width > r.Ask.Pieces[c.Piece].Width+same {
					return true
				}
			}
		}
	}
	return false
}

// Board returns the board that is sawn.
func (r *Rack) Board(s yard.Sawn) yard.Board {
	if s.Bought {
		return r.Ask.Buy[s.Board]
	}
	return r.Ask.Rack[s.Board]
}

// Price returns what a board that is taken costs, nil where nobody says.
func (r *Rack) Price(s yard.Sawn) *float64 {
	if s.Bought {
		return r.price[s.Board]
	}
	return r.own[s.Board]
}

// RackBoards returns how many boards lie on the rack.
func (r *Rack) RackBoards() int {
	n := 0
	for _, b := range r.Ask.Rack {
		n += max(b.Count, 1)
	}
	return n
}

// TakenBoards returns how many boards are cut: of the rack, or of those to buy.
func (r *Rack) TakenBoards(bought bool) int {
	n := 0
	for _, s := range r.Plan.Boards {
		if s.Bought == bought {
			n++
		}
	}
	return n
}

// ToBuy is boards to buy.
type ToBuy struct {
	yard.Board
	Price *float64 // of one, nil where the shop does not say
}

// Buy returns the boards to buy, each kind with its count.
func (r *Rack) Buy() []ToBuy {
	count := make([]int, len(r.Ask.Buy))
	for _, s := range r.Plan.Boards {
		if s.Bought {
			count[s.Board]++
		}
	}
	var out []ToBuy
	for i, n := range count {
		if n > 0 {
			b := ToBuy{r.Ask.Buy[i], r.price[i]}
			b.Count = n
			out = append(out, b)
		}
	}
	return out
}

// BoardFeet returns the wood of the boards taken, by their sizes as given.
func (r *Rack) BoardFeet() float64 {
	feet := 0.0
	for _, s := range r.Plan.Boards {
		b := r.Board(s)
		feet += lumber.BoardFeet(b.Length, b.Width, b.Thickness)
	}
	return feet
}

// WastePercent returns how much of the boards taken does not become a blank.
func (r *Rack) WastePercent() float64 {
	if r.Plan.Taken == 0 {
		return 0
	}
	return 100 * (1 - r.Plan.Used/r.Plan.Taken)
}

// Words says how good the plan is.
func (r *Rack) Words() string {
	p := r.Plan
	short, buys := 0, r.TakenBoards(true)
	for _, n := range p.Short {
		short += n
	}
	one, all := "blank", "blanks"
	if slices.Contains(r.Strip, true) {
		one, all = "piece", "pieces"
	}
	how, near := "exact: nothing cuts these "+all+" from less wood", ""
	if !p.Exact && p.Volume > 0 {
		near = "near: "
		how = fmt.Sprintf("no plan takes %s %% less wood", bench.Num(100*(1-p.Bound/p.Volume), 1))
	}
	switch {
	case short > 0:
		return fmt.Sprintf("The boards do not give all %s: %s short. The plan cuts what it can, without claim.", all, words.Count(short, one+" is", all+" are"))
	case buys > 0:
		return "The rack does not give all " + all + "; the rest is bought. Of what is bought the plan is " + near + how + "."
	}
	return "The rack gives all " + all + "; " + how + "."
}
