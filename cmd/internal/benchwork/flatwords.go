package benchwork

import (
	"fmt"

	"starwright/geom/bench"
	"starwright/geom/bench/lumber"
	"starwright/geom/words"
)

// Program is the path of the program that cuts a piece of board.
func (f *Flat) Program(piece int) string { return fmt.Sprintf("gcode/segments-%d.nc", piece+1) }

// Board returns the kind of board that is sawn.
func (f *Flat) Board(s FlatSawn) FlatBoard {
	if s.Bought {
		return f.Buy[s.Board]
	}
	return f.Rack[s.Board]
}

// TakenBoards returns how many boards are cut: of the rack, or of those to buy.
func (f *Flat) TakenBoards(bought bool) int {
	n := 0
	for _, s := range f.Boards {
		if s.Bought == bought {
			n++
		}
	}
	return n
}

// ToBuy returns the boards to buy, each kind with its count.
func (f *Flat) ToBuy() []FlatBoard {
	count := make([]int, len(f.Buy))
	for _, s := range f.Boards {
		if s.Bought {
			count[s.Board]++
		}
	}
	var out []FlatBoard
	for i, n := range count {
		if n > 0 {
			b := f.Buy[i]
			b.Count = n
			out = append(out, b)
		}
	}
	return out
}

// Taken and used are the wood of the boards taken and of all segments, mm³.
func (f *Flat) wood() (taken, used float64) {
	for _, s := range f.Boards {
		b := f.Board(s)
		taken += b.Length * b.Width * b.Thickness
	}
	for _, w := range f.Wanted {
		used += float64(w.Wanted) * w.Unit.Segment.Outline().Area() * w.thickness
	}
	return taken, used
}

// WastePercent returns how much of the boards taken does not become a segment.
func (f *Flat) WastePercent() float64 {
	taken, used := f.wood()
	return 100 * (1 - used/taken)
}

// BoardFeet returns the wood of the boards taken, by their sizes as given.
func (f *Flat) BoardFeet() float64 {
	feet := 0.0
	for _, s := range f.Boards {
		b := f.Board(s)
		feet += lumber.BoardFeet(b.Length, b.Width, b.Thickness)
	}
	return feet
}

// Words says which boards are taken.
func (f *Flat) Words() string {
	pieces := 0
	for _, p := range f.Pieces {
		pieces += p.Count
	}
	rack, buy := f.TakenBoards(false), f.TakenBoards(true)
	from := words.Count(rack, "board", "boards") + " of the rack"
	switch {
	case rack == 0:
		from = words.Count(buy, "board", "boards") + " to buy"
	case buy > 0:
		from += fmt.Sprintf(" and %d to buy", buy)
	}
	return fmt.Sprintf("%s from %s; %s %% of their wood becomes segments.", words.Capital(words.Count(pieces, "piece", "pieces")), from, bench.Num(100-f.WastePercent(), 0))
}
