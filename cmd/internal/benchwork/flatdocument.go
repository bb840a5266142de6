package benchwork

// FlatDocument is `stock` of `plan --json` where segments are cut on the CNC; lengths
// mm.
type FlatDocument struct {
	Cut       string        `json:"cut"`       // "cnc"
	Taken     float64       `json:"taken_mm3"` // of all boards taken
	Used      float64       `json:"used_mm3"`  // of all segments
	Waste     float64       `json:"waste_percent"`
	BoardFeet float64       `json:"board_feet"`
	Length    float64       `json:"taken_mm"` // of all boards taken
	Bound     float64       `json:"bound_mm"` // no way to lay these segments takes less of these boards
	Kerf      float64       `json:"kerf_mm"`
	Trim      float64       `json:"trim_mm"`
	Wanted    []FlatWanted  `json:"wanted"`
	Rack      []RackBoard   `json:"rack"`
	Yard      []RackBoard   `json:"yard"`
	Pieces    []FlatPieces  `json:"pieces"`
	Boards    []FlatSawnDoc `json:"boards"`
	Buy       []RackBoard   `json:"buy"`
}

// FlatWanted is the segments of one star, of two woods those of one.
type FlatWanted struct {
	Star   string `json:"star"`
	Wood   string `json:"wood,omitempty"`
	Wanted int    `json:"wanted"`
	Given  int    `json:"from_rack"`
	Bought int    `json:"bought"`
}

// FlatPieces is a piece of board as it lies on the CNC, and how often it is cut.
type FlatPieces struct {
	Program   string  `json:"program"`
	Count     int     `json:"count"`
	Length    float64 `json:"length_mm"`
	Width     float64 `json:"width_mm"`
	Thickness float64 `json:"thickness_mm"`
	Wood      string  `json:"wood,omitempty"`
	Segments  int     `json:"segments"`
}

// FlatSawnDoc is a board that is taken.
type FlatSawnDoc struct {
	Board  int          `json:"board"` // place in `rack` or, bought, in `yard`, from 1
	Copy   int          `json:"copy"`
	Bought bool         `json:"bought"`
	Cuts   []FlatCutDoc `json:"cuts"`
	Rest   float64      `json:"rest_mm"` // left at its right end
}

// FlatCutDoc is a piece of a board, from its left end.
type FlatCutDoc struct {
	Piece int     `json:"piece"` // place in `pieces`, from 1
	From  float64 `json:"from_mm"`
	To    float64 `json:"to_mm"`
}

// Document returns what `plan --json` prints.
func (f *Flat) Document() *FlatDocument {
	taken, used := f.wood()
	d := &FlatDocument{Cut: "cnc", Taken: taken, Used: used, Waste: f.WastePercent(), BoardFeet: f.BoardFeet(), Length: f.Length, Bound: f.Bound, Kerf: f.Kerf, Trim: f.Trim,
		Wanted: []FlatWanted{}, Rack: []RackBoard{}, Yard: []RackBoard{}, Pieces: []FlatPieces{}, Boards: []FlatSawnDoc{}, Buy: []RackBoard{}}
	for _, w := range f.Wanted {
		d.Wanted = append(d.Wanted, FlatWanted{w.Unit.Spec.Name, w.Wood, w.Wanted, w.Given, w.Wanted - w.Given})
	}
	for _, b := range f.Rack {
		d.Rack = append(d.Rack, rackBoard(b.Board, b.Price))
	}
	for _, b := range f.Buy {
		b.Count = 0
		d.Yard = append(d.Yard, rackBoard(b.Board, b.Price))
	}
	for _, b := range f.ToBuy() {
		d.Buy = append(d.Buy, rackBoard(b.Board, b.Price))
	}
	for i, p := range f.Pieces {
		d.Pieces = append(d.Pieces, FlatPieces{f.Program(i), p.Count, p.Length, p.Width, p.Thickness, p.Wood, len(p.Parts)})
	}
	for _, s := range f.Boards {
		one := FlatSawnDoc{Board: s.Board + 1, Copy: s.Copy, Bought: s.Bought, Cuts: []FlatCutDoc{}}
		end := f.Trim
		for _, c := range s.Cuts {
			one.Cuts = append(one.Cuts, FlatCutDoc{c.Piece + 1, c.Start, c.End})
			end = c.End
		}
		one.Rest = max(0, f.Board(s).Length-f.Trim-end-f.Kerf)
		d.Boards = append(d.Boards, one)
	}
	return d
}
