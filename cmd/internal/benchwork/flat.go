package benchwork

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"starwright/cmd/internal/job"
	"starwright/geom"
	"starwright/geom/bench/yard"
	"starwright/geom/problem"
	"starwright/geom/star"
	"starwright/toolpath"
	"starwright/toolpath/flat"
)

// Flat is how the segments of a job are cut from boards that lie flat on the CNC:
// which boards are cut to which pieces, and what lies on each.
type Flat struct {
	Rack, Buy []FlatBoard // that the boards are taken from, see [FlatSawn]
	Boards    []FlatSawn  // that are taken, the rack's first
	Pieces    []FlatPiece // that differ: each is one program
	Wanted    []FlatWant  // segments, by star and wood
	Kerf      float64     // of the saw that cuts the boards to pieces
	Trim      float64
	// Length is that of the boards that are taken, whole, mm; Bound is what no way to
	// lay the same segments on the same list of boards could undercut, by their area.
	Length, Bound float64
}

// FlatBoard is a kind of board, with the price of one.
type FlatBoard struct {
	yard.Board
	Price *float64 // nil where nobody says
}

// FlatSawn is a board that is taken, and the pieces that it is cut to, from its left
// end.
type FlatSawn struct {
	Board, Copy int // place among the boards of rack or yard
	Bought      bool
	Cuts        []FlatCut
}

// FlatCut is a piece of a board.
type FlatCut struct {
	Piece      int // place in the pieces
	Start, End float64
}

// FlatPiece is a piece of board as it lies on the machine, X along the grain, and how
// often it is cut.
type FlatPiece struct {
	Length, Width, Thickness float64
	Wood                     string
	Parts                    []FlatPart
	Count                    int
}

// FlatPart is a segment on a piece of board.
type FlatPart struct {
	Unit *star.Unit
	Part toolpath.Part
}

// Of returns how many segments of a star lie on the piece.
func (p FlatPiece) Of(u *star.Unit) int {
	n := 0
	for _, x := range p.Parts {
		if x.Unit == u {
			n++
		}
	}
	return n
}

// FlatWant is the segments of one star, of two woods those of one.
type FlatWant struct {
	Unit          *star.Unit
	Wood          string
	Wanted, Given int // Given from the rack; the others are bought
	thickness     float64
}

// LayFlat lays the segments of a job on boards: the rack's, then those that the yard
// sells.
func LayFlat(ctx context.Context, j *job.Job, o *star.Order, opt flat.Options) (*Flat, problem.List) {
	f := &Flat{Kerf: j.Saw.Kerf, Trim: j.Stock.Trim}
	for _, u := range o.Units {
		list := []string{woodKey(j.Wood.Species)}
		if u.TwoWoods() {
			list = []string{woodKey(u.Spec.Woods[0]), woodKey(u.Spec.Woods[1])}
		}
		for _, wood := range list {
			f.Wanted = append(f.Wanted, FlatWant{Unit: u, Wood: wood, Wanted: u.Segments() / len(list), thickness: u.Thickness()})
		}
	}
	if ps := f.boards(j); len(ps) > 0 {
		return nil, ps
	}
	done := make([]bool, len(f.Wanted))
	for i, w := range f.Wanted {
		if done[i] {
			continue
		}
		var alike []int // of one wood and thickness: they share boards
		for k, x := range f.Wanted {
			if x.Wood == w.Wood && math.Abs(x.thickness-w.thickness) < geom.Rounding {
				alike, done[k] = append(alike, k), true
			}
		}
		if ps := f.group(ctx, j, alike, opt); len(ps) > 0 {
			return nil, ps
		}
	}
	return f, nil
}

// boards gathers what the rack holds and what can be bought: what the yard sells, or
// else a usual board of every wood.
func (f *Flat) boards(j *job.Job) problem.List {
	r := &Rack{}
	for _, w := range f.Wanted {
		r.Ask.Pieces = append(r.Ask.Pieces, yard.Piece{Width: w.Unit.Segment.Width, Thickness: w.thickness, Wood: w.Wood})
		r.Units = append(r.Units, w.Unit)
	}
	list := func(key string, boards []job.Board) ([]FlatBoard, problem.List) {
		found, prices, ps := r.boards(j, key, boards, *j.Segments.BoardWidth)
		out := make([]FlatBoard, len(found))
		for i, b := range found {
			out[i] = FlatBoard{b, prices[i]}
		}
		return out, ps
	}
	var ps, more problem.List
	f.Rack, ps = list("stock.boards", j.Stock.Boards)
	f.Buy, more = list("yard.boards", j.Yard)
	if ps = append(ps, more...); len(ps) > 0 || len(f.Buy) > 0 {
		return ps
	}
	for _, w := range f.Wanted {
		b := yard.Board{Length: j.Segments.BoardLength, Width: *j.Segments.BoardWidth, Thickness: w.thickness, Wood: w.Wood}
		same := func(x FlatBoard) bool { return x.Thickness == b.Thickness && x.Wood == b.Wood }
		if !slices.ContainsFunc(f.Buy, same) {
			f.Buy = append(f.Buy, FlatBoard{Board: b})
		}
	}
	return nil
}

// group lays segments that share boards.
func (f *Flat) group(ctx context.Context, j *job.Job, alike []int, opt flat.Options) problem.List {
	left := make([]int, len(alike))
	for i, k := range alike {
		left[i] = f.Wanted[k].Wanted
	}
	if p, err := f.lay(ctx, j, alike, left, opt, false); err != nil {
		return f.tooLarge(j, err, alike[p], false)
	}
	for i, k := range alike {
		f.Wanted[k].Given = f.Wanted[k].Wanted - left[i]
	}
	for total(left) > 0 {
		before := total(left)
		if p, err := f.lay(ctx, j, alike, left, opt, true); err != nil {
			return f.tooLarge(j, err, alike[p], true)
		}
		if total(left) == before {
			return problem.List{{Key: "segments.cut", Got: "cnc", Why: "the segments find no place on the boards", Would: `cut = "saw"`}}
		}
	}
	return nil
}

func total(of []int) int {
	n := 0
	for _, k := range of {
		n += k
	}
	return n
}

// lay lays what is left on the boards of the rack, or on boards to buy, and takes it
// off. Of an error it says which of the segments it is about.
func (f *Flat) lay(ctx context.Context, j *job.Job, alike, left []int, opt flat.Options, bought bool) (int, error) {
	boards, place := f.suited(f.Wanted[alike[0]], bought, total(left), opt)
	if len(boards) == 0 {
		return 0, nil
	}
	skip := map[int]bool{} // of the segments, those that no board of the rack takes: the yard's do
	for {
		var items []flat.Item
		var whose []int
		for i, k := range alike {
			if left[i] > 0 && !skip[i] {
				items, whose = append(items, flat.Item{Part: segmentPart(f.Wanted[k].Unit), Count: left[i]}), append(whose, i)
			}
		}
		if len(items) == 0 {
			return 0, nil
		}
		r, err := flat.Lay(ctx, items, boards, opt)
		var large *flat.TooLarge
		if errors.As(err, &large) && !bought && len(j.Yard) > 0 {
			skip[whose[large.Item]] = true
			continue
		} else if errors.As(err, &large) {
			return whose[large.Item], err
		} else if err != nil {
			return 0, err
		}
		for i, n := range r.Laid {
			left[whose[i]] -= n
		}
		f.Length, f.Bound = f.Length+r.Taken, f.Bound+r.Bound
		f.take(r, func(item int) FlatWant { return f.Wanted[alike[whose[item]]] }, place, bought)
		return 0, nil
	}
}

// suited are the boards of the wood and thickness of a segment, and where they stand
// in the list that they are from. Of those to buy there are as many as n segments
// may take, and no more than are laid at once.
func (f *Flat) suited(w FlatWant, bought bool, n int, opt flat.Options) (boards []flat.Board, place []int) {
	from := f.Rack
	if bought {
		from = f.Buy
	}
	for i, b := range from {
		if b.Wood != w.Wood || math.Abs(b.Thickness-w.thickness) > geom.Rounding {
			continue
		}
		one := flat.Board{Width: b.Width, Length: b.Length, Count: max(b.Count, 1)}
		for _, s := range b.Bad {
			one.Bad = append(one.Bad, flat.Span{Start: s.Start, End: s.End})
		}
		boards, place = append(boards, one), append(place, i)
	}
	if !bought {
		return boards, place
	}
	for i := range boards {
		each := 1.0 // segments of a board, one behind the other
		if s := w.Unit.Segment; len(f.Wanted) == 1 {
			each = max(1, math.Floor((boards[i].Length-2*opt.EndTrim)/(s.Length+2*opt.Margin+opt.Kerf)))
		}
		boards[i].Count = min(int(math.Ceil(float64(n)/each)), flat.MaxBoards/len(boards))
	}
	return boards, place
}

// tooLarge says why no board takes a segment.
func (f *Flat) tooLarge(j *job.Job, err error, want int, bought bool) problem.List {
	var large *flat.TooLarge
	if !errors.As(err, &large) {
		return asProblems(err, flatKey)
	}
	u, t, w := j.Units, j.Segments, f.Wanted[want].Unit
	up := func(mm float64) string { return u.Format(u.Ceil(mm)) }
	p := problem.Problem{Why: fmt.Sprintf("a %s, %s by %s, takes a piece of board %s long and %s wide on the CNC, with its margins",
		w.Words("segment"), u.Format(large.W), u.Format(large.H), up(large.NeedL), up(large.NeedW))}
	const saw = `[segments] cut = "saw"`
	travel := j.Machine.Travel
	own := j.Stock.Width > 0 && math.Abs(large.Width-j.Stock.Width) < geom.Rounding
	switch {
	case travel[0] > 0 && large.NeedL > travel[0], travel[1] > 0 && large.NeedW > travel[1]:
		p.Key, p.Got = "machine.travel", u.Format(travel[0])+" by "+u.Format(travel[1])
		p.Why, p.Would = p.Why+", and the machine does not move so far", saw
	case large.NeedL > t.Longest:
		p.Key, p.Got, p.Would = "segments.longest", u.Format(t.Longest), fmt.Sprintf("longest = %q", up(large.NeedL))
	case !bought && own:
		p.Key, p.Got, p.Would = "stock.board_width", u.Format(j.Stock.Width), fmt.Sprintf("board_width = %q", up(large.NeedW))
	case !bought:
		p.Key, p.Would = "stock.boards", fmt.Sprintf("boards = [{ length = %q, width = %q }], or %s", up(large.NeedL+large.Trim), up(large.NeedW), saw)
	case len(j.Yard) > 0:
		p.Key, p.Would = "yard.boards", fmt.Sprintf("boards = [{ length = %q, width = %q }], or %s", up(large.NeedL+large.Trim), up(large.NeedW), saw)
	case large.Width < large.NeedW-geom.Rounding:
		p.Key, p.Got, p.Would = "segments.board_width", u.Format(*t.BoardWidth), fmt.Sprintf("board_width = %q", up(large.NeedW))
	default:
		p.Key, p.Got, p.Would = "segments.board_length", u.Format(t.BoardLength), fmt.Sprintf("board_length = %q", up(large.NeedL+large.Trim))
	}
	return problem.List{p}
}

// segmentPart is a segment as it is cut: no tab stands on its facets, which are the
// joint faces, and no cut begins there.
func segmentPart(u *star.Unit) toolpath.Part {
	p := toolpath.Part{Name: u.Words("segment"), Outline: u.Segment.Outline()}
	for _, c := range p.Outline.Curves() {
		if c.A.Len() < geom.Touch || c.B.Len() < geom.Touch { // at the star's centre
			p.NoTab = append(p.NoTab, c)
		}
	}
	return p
}

// flatKey is the job's key of what the layout refuses.
func flatKey(p problem.Problem) string {
	if key := map[string]string{"margin": "segments.margin", "spacing": "segments.spacing", "boards": "stock.boards", "kerf": "saw.kerf", "end trim": "stock.trim", "sheet.margin": "segments.margin", "sheet.spacing": "segments.spacing", "bed": "segments.longest"}[p.Key]; key != "" {
		return key
	}
	if p.Key == "" {
		return "segments.cut"
	}
	return p.Key
}

// take adds what was laid.
func (f *Flat) take(r flat.Result, of func(item int) FlatWant, place []int, bought bool) {
	type copyOf struct{ board, copy int }
	at, from := map[copyOf]int{}, map[int]int{} // boards of each kind that were taken before
	for _, s := range f.Boards {
		if s.Bought == bought {
			from[s.Board] = max(from[s.Board], s.Copy)
		}
	}
	for _, p := range r.Panels {
		w := of(p.Parts[0].Item)
		piece := FlatPiece{Length: p.Length, Width: p.Width, Thickness: w.thickness, Wood: w.Wood}
		for _, x := range p.Parts {
			piece.Parts = append(piece.Parts, FlatPart{of(x.Item).Unit, x.Part})
		}
		k := slices.IndexFunc(f.Pieces, func(q FlatPiece) bool { return sameFlat(piece, q) })
		if k < 0 {
			k = len(f.Pieces)
			f.Pieces = append(f.Pieces, piece)
		}
		f.Pieces[k].Count++
		one := copyOf{place[p.Board], from[place[p.Board]] + p.Copy}
		if _, ok := at[one]; !ok {
			at[one] = len(f.Boards)
			f.Boards = append(f.Boards, FlatSawn{Board: one.board, Copy: one.copy, Bought: bought})
		}
		b := &f.Boards[at[one]]
		b.Cuts = append(b.Cuts, FlatCut{Piece: k, Start: p.Start, End: p.Start + p.Length})
	}
}

// sameFlat reports whether two pieces of board are cut by the same program.
func sameFlat(a, b FlatPiece) bool {
	const same = 1e-6 // mm
	near := func(v, w float64) bool { return math.Abs(v-w) < same }
	if len(a.Parts) != len(b.Parts) || a.Wood != b.Wood || !near(a.Length, b.Length) || !near(a.Width, b.Width) || !near(a.Thickness, b.Thickness) {
		return false
	}
	for i, p := range a.Parts {
		q := b.Parts[i]
		if p.Unit != q.Unit || !slices.EqualFunc(p.Part.Outline, q.Part.Outline, func(v, w geom.Vertex) bool { return v.Dist(w.Point) < same }) {
			return false
		}
	}
	return true
}
