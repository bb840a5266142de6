package benchwork

import "starwright/geom/bench/yard"

// RackDocument is `stock` of `plan --json` of an order; lengths mm.
type RackDocument struct {
	Exact     bool        `json:"exact"`
	Volume    float64     `json:"volume_mm3"` // of the boards that Exact and Bound speak of: those bought, where any are
	Bound     float64     `json:"bound_mm3"`
	Taken     float64     `json:"taken_mm3"` // of all boards taken
	Used      float64     `json:"used_mm3"`  // of all blanks
	Waste     float64     `json:"waste_percent"`
	BoardFeet float64     `json:"board_feet"`
	Kerf      float64     `json:"kerf_mm"`
	RipKerf   float64     `json:"rip_kerf_mm"`
	Trim      float64     `json:"trim_mm"`
	Pieces    []RackPiece `json:"pieces"`
	Rack      []RackBoard `json:"rack"`
	Yard      []RackBoard `json:"yard"`
	Boards    []RackSawn  `json:"boards"`
	Buy       []RackBoard `json:"buy"`
}

// RackPiece is the blanks of one star, or the strips that they are glued up from;
// of two woods those of one.
type RackPiece struct {
	Star      string  `json:"star"`
	What      string  `json:"what"` // blank or strip
	Wood      string  `json:"wood,omitempty"`
	Length    float64 `json:"length_mm"`
	Width     float64 `json:"width_mm"`
	Thickness float64 `json:"thickness_mm"`
	Wanted    int     `json:"wanted"`
	Spare     int     `json:"spare"` // of those wanted: to try the set-ups with
	Given     int     `json:"from_rack"`
	Bought    int     `json:"bought"`
	Short     int     `json:"short"`
}

// RackBoard is a board of the rack or of the yard, or one to buy.
type RackBoard struct {
	Length    float64      `json:"length_mm"`
	Width     float64      `json:"width_mm"`
	Thickness float64      `json:"thickness_mm"`
	Wood      string       `json:"wood,omitempty"`
	Bad       [][2]float64 `json:"bad_mm,omitempty"`
	Count     int          `json:"count,omitempty"`
	Price     *float64     `json:"price,omitempty"`
}

// RackSawn is a board that is taken.
type RackSawn struct {
	Board  int         `json:"board"` // place in `rack` or, bought, in `yard`, from 1
	Copy   int         `json:"copy"`
	Bought bool        `json:"bought"`
	Strips []RackStrip `json:"strips"`
}

// RackStrip is a strip of a board, from its one edge, and what is cut from it,
// from the board's left end.
type RackStrip struct {
	From float64   `json:"from_mm"`
	To   float64   `json:"to_mm"`
	Cuts []RackCut `json:"cuts"`
}

// RackCut is a piece in a strip of a board.
type RackCut struct {
	Star  string  `json:"star"`
	Piece int     `json:"piece"` // place in `pieces`, from 1
	From  float64 `json:"from_mm"`
	To    float64 `json:"to_mm"`
}

func rackBoard(b yard.Board, price *float64) RackBoard {
	out := RackBoard{Length: b.Length, Width: b.Width, Thickness: b.Thickness, Wood: b.Wood, Count: b.Count, Price: price}
	for _, s := range b.Bad {
		out.Bad = append(out.Bad, [2]float64{s.Start, s.End})
	}
	return out
}

// Document returns what `plan --json` prints.
func (r *Rack) Document() *RackDocument {
	p := r.Plan
	d := &RackDocument{Exact: p.Exact, Volume: p.Volume, Bound: p.Bound, Taken: p.Taken, Used: p.Used, Waste: r.WastePercent(), BoardFeet: r.BoardFeet(),
		Kerf: r.Ask.Kerf, RipKerf: r.Ask.RipKerf, Trim: r.Ask.EndTrim,
		Pieces: []RackPiece{}, Rack: []RackBoard{}, Yard: []RackBoard{}, Boards: []RackSawn{}, Buy: []RackBoard{}}
	for i, u := range r.Units {
		one := r.Ask.Pieces[i]
		what := "blank"
		if r.Strip[i] {
			what = "strip"
		}
		d.Pieces = append(d.Pieces, RackPiece{u.Spec.Name, what, one.Wood, one.Length, one.Width, one.Thickness, one.Count, r.Spare(i), p.Given[i], p.Bought[i], p.Short[i]})
	}
	for i, b := range r.Ask.Rack {
		d.Rack = append(d.Rack, rackBoard(b, r.own[i]))
	}
	for i, b := range r.Ask.Buy {
		b.Count = 0
		d.Yard = append(d.Yard, rackBoard(b, r.price[i]))
	}
	for _, b := range r.Buy() {
		d.Buy = append(d.Buy, rackBoard(b.Board, b.Price))
	}
	for _, s := range p.Boards {
		one := RackSawn{Board: s.Board + 1, Copy: s.Copy, Bought: s.Bought, Strips: []RackStrip{}}
		for _, strip := range s.Strips {
			row := RackStrip{From: strip.Across.Start, To: strip.Across.End, Cuts: []RackCut{}}
			for _, c := range strip.Cuts {
				row.Cuts = append(row.Cuts, RackCut{r.Units[c.Piece].Spec.Name, c.Piece + 1, c.Start, c.End})
			}
			one.Strips = append(one.Strips, row)
		}
		d.Boards = append(d.Boards, one)
	}
	return d
}
