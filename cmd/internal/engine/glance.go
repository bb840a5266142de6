package engine

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"starwright/cmd/internal/draw"
	"starwright/cmd/internal/job"
	"starwright/cmd/internal/jobedit"
	"starwright/cmd/internal/packet"
	"starwright/cmd/internal/plan"
	"starwright/geom/star"
)

// Glance is what the page shows at once at each change: the text with the
// change made, what is wrong with it, and where nothing is, numbers and star.
type Glance struct {
	Source  string         `json:"source"`
	Values  []Value        `json:"values"`
	Errors  []JobError     `json:"errors"`
	Numbers *plan.Document `json:"numbers"` // without kit, sheets and stock; null where something is wrong
	Says    *Says          `json:"says"`
	Star    string         `json:"star"` // SVG
	View    string         `json:"view"` // its viewBox, without the page round it
	Alt     string         `json:"alt"`  // the same in words
	Rack    []Board        `json:"rack"`
	Stars   []Ordered      `json:"stars"` // of an order; none of a single star
}

// Ordered is a star of an order, for the list of them.
type Ordered struct {
	Name  string `json:"name"`
	Width string `json:"width"`
	Count int    `json:"count"`
}

func ordered(w *packet.Work) []Ordered {
	out := []Ordered{}
	if w.Job.IsOrder() {
		for _, u := range w.Order.FromBoards() {
			out = append(out, Ordered{u.Spec.Name, w.Say(u.Width()), u.Count()})
		}
	}
	return out
}

// Board is a board of the rack, mm.
type Board struct {
	Length float64      `json:"length_mm"`
	Count  int          `json:"count"`
	Bad    [][2]float64 `json:"bad"`
}

func rack(j *job.Job) []Board {
	out := []Board{}
	for _, b := range j.Stock.Boards {
		out = append(out, Board{b.Length, b.Count, append([][2]float64{}, b.Bad...)})
	}
	return out
}

// Value is a value of the job file, for the form.
type Value struct {
	Path []string `json:"path"`
	Says string   `json:"says"`
	Text bool     `json:"text"`
}

// Says are the lengths that the page prints large, as the job's unit has them.
type Says struct {
	Width     string `json:"width"` // widest, tip to tip
	Board     string `json:"board_width"`
	Thickness string `json:"thickness"`
	Blank     string `json:"blank"`
	Blanks    int    `json:"blanks"`
	Offcut    string `json:"offcut_width,omitempty"`
	Run       string `json:"run"` // of board, for the blanks and their kerfs
}

// glance works out numbers and star.
func glance(ctx context.Context, c Call) (Reply, error) {
	var j Draft
	source, err := edited(c, &j)
	if err != nil {
		return Reply{}, err
	}
	g := Glance{Source: string(source), Values: []Value{}, Errors: []JobError{}}
	if vs, err := jobedit.Values(source); err == nil {
		for _, v := range vs {
			g.Values = append(g.Values, Value{v.Path, v.Says, v.Text})
		}
	}
	w, err := j.star(ctx, source)
	if errs := inJob(err); len(errs) > 0 {
		g.Errors = j.errors(ctx, source, errs)
		return Reply{Result: g}, nil
	}
	if err != nil {
		return Reply{}, err
	}
	u := j.shown(w)
	g.Numbers = numbers(w, u)
	g.Says, g.Alt, g.Rack, g.Stars = says(w, u), alt(w, u), rack(w.Job), ordered(w)
	sheet, view := draw.StarAlone(u, w.Job.Units, w.Title())
	svg, err := sheet.SVG()
	if err != nil {
		return Reply{}, err
	}
	g.Star, g.View = string(svg), view
	return Reply{Result: g}, nil
}

// numbers are those of a job; of an order those of the star that is shown stand
// beside the list.
func numbers(w *packet.Work, u *star.Unit) *plan.Document {
	d := plan.New(w)
	if d.KindDocument == nil {
		one := &d.Stars[slices.Index(w.Order.FromBoards(), u)]
		d.KindDocument, d.Stations = &one.KindDocument, &one.Stations
	}
	return d
}

// says prints the lengths of a star.
func says(w *packet.Work, u *star.Unit) *Says {
	run := float64(u.Blank.Count) * (u.Blank.Length + w.Job.Saw.Kerf)
	s := &Says{Width: w.Say(u.Width()), Board: w.Say(u.Segment.Width), Thickness: w.Say(u.Thickness()),
		Blank: w.Say(u.Blank.Length), Blanks: u.Blank.Count, Run: w.Say(run)}
	if small := w.Order.FromOffcuts(u); small != nil {
		s.Offcut = w.Say(small.Width())
	}
	return s
}

// alt says the star in words, with its numbers.
func alt(w *packet.Work, u *star.Unit) string {
	who := "A star"
	if u.Spec.Name != "" {
		who = "The star " + u.Spec.Name
	}
	parts := []string{fmt.Sprintf("%s of %d points, %s wide from tip to tip, of segments %s long and %s wide, %s thick",
		who, u.Points, w.Say(u.Width()), w.Say(u.Segment.Length), w.Say(u.Segment.Width), w.Say(u.Thickness()))}
	if u.Spline != nil {
		parts = append(parts, fmt.Sprintf("splines %s long in its joints", w.Say(u.Spline.Length)))
	} else {
		parts = append(parts, "plain glued joints")
	}
	if small := w.Order.FromOffcuts(u); small != nil {
		parts = append(parts, fmt.Sprintf("its off-cuts make a second star %s wide", w.Say(small.Width())))
	}
	return strings.Join(parts, "; ") + "."
}

// JobError is one thing that is wrong with a job file.
type JobError struct {
	Table string   `json:"table"`
	Key   string   `json:"key"`
	Path  []string `json:"path"`
	Place int      `json:"place,omitempty"` // of an order: of which star it is, from 1
	Line  int      `json:"line"`
	Text  string   `json:"text"` // the message as the command line prints it
	Why   string   `json:"why"`
	Got   string   `json:"got"`
	Would string   `json:"would"`
	Fix   []Edit   `json:"fix"` // what the button does; null where there is none
	Label string   `json:"label,omitempty"`
}

// errors are the errors for the page, each with the change that mends it where
// its message offers one.
func (j Draft) errors(ctx context.Context, source []byte, errs []job.Error) []JobError {
	const most = 20 // fixes are tried out; nobody reads more at once
	out := []JobError{}
	for i, e := range errs {
		one := JobError{Place: e.Place, Table: e.Table, Key: e.Key, Line: e.Line, Text: e.Error(), Why: e.Why, Got: e.Got, Would: e.Would, Path: errorPath(e)}
		if i < most && ctx.Err() == nil {
			one.Fix, one.Label = j.mend(ctx, source, e)
		}
		out = append(out, one)
	}
	return out
}

// errorPath is where the key stands in the file: `[[star]]` is a list.
func errorPath(e job.Error) []string {
	path := tablePath(e)
	if e.Key != "" {
		path = append(path, strings.Split(e.Key, ".")...)
	}
	return path
}

func tablePath(e job.Error) []string {
	if e.Table == "" {
		return []string{}
	}
	path := strings.Split(strings.Trim(e.Table, "[]"), ".")
	if path[0] == "star" && e.Place > 0 {
		path = slices.Insert(path, 1, strconv.Itoa(e.Place-1))
	}
	return path
}
