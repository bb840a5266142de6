package engine

import (
	"context"
	"errors"
	"strings"
	"unicode/utf8"

	"starwright/cmd/internal/job"
	"starwright/cmd/internal/jobedit"
	"starwright/cmd/internal/packet"
	"starwright/geom/star"
	"starwright/geom/words"
)

// Draft is a job file as the page has it, with changes that are not saved yet.
type Draft struct {
	Name   string `json:"name"` // of the file
	Source string `json:"source"`
	Shop   string `json:"shop"` // the shop file, "" without one
	Edits  []Edit `json:"edits"`
	Star   int    `json:"star"` // of an order: which star the page shows, from 0
}

// Edit is one change of a job file.
type Edit struct {
	Path   []string `json:"path"`
	Typed  *string  `json:"typed,omitempty"`  // as typed into a field: a number stays one, anything else is put in quotes, nothing takes the key out
	Words  *string  `json:"words,omitempty"`  // words, always in quotes
	Value  *string  `json:"value,omitempty"`  // TOML
	Rename string   `json:"rename,omitempty"` // the key's new name
	Copy   bool     `json:"copy,omitempty"`   // an item of a list is to stand twice
	List   bool     `json:"list,omitempty"`   // a table becomes a list of this one
}

// bareNumber is a number that a job file may hold without quotes.
var bareNumber = words.Pattern(`^[+-]?(0|[1-9][0-9]*)(\.[0-9]+)?$`)

// apply makes one change.
func (e Edit) apply(data []byte) ([]byte, error) {
	switch {
	case e.Rename != "":
		return jobedit.Rename(data, e.Rename, e.Path...)
	case e.Copy:
		return jobedit.Copy(data, e.Path...)
	case e.List:
		return jobedit.List(data, e.Path...)
	case e.Value != nil:
		return jobedit.Set(data, *e.Value, e.Path...)
	case e.Words != nil && *e.Words != "":
		return jobedit.Set(data, jobedit.Text(*e.Words), e.Path...)
	case e.Typed != nil && strings.TrimSpace(*e.Typed) != "":
		v := strings.TrimSpace(*e.Typed)
		if !bareNumber().MatchString(v) {
			v = jobedit.Text(v)
		}
		return jobedit.Set(data, v, e.Path...)
	}
	return jobedit.Remove(data, e.Path...)
}

// edited reads the arguments of a call into something that holds a draft, and
// returns the job's text with its changes made.
func edited(c Call, into interface{ edited() ([]byte, error) }) ([]byte, error) {
	if err := arguments(c, into); err != nil {
		return nil, err
	}
	return into.edited()
}

// edited returns the job's text with its changes made.
func (j Draft) edited() ([]byte, error) {
	data := []byte(j.Source)
	if !utf8.ValidString(j.Source) {
		return nil, &Fault{Kind: "job", Lines: []string{j.Name + " is not UTF-8 text; save it as UTF-8 first"}}
	}
	return applyAll(data, j.Edits)
}

// input is a text of the job with the shop's file, for what reads them.
func (j Draft) input(source []byte) job.Input {
	in := job.Input{Job: job.File{Name: j.Name, Data: source}}
	if j.Shop != "" {
		in.Shop = &job.File{Name: job.ShopName, Data: []byte(j.Shop)}
	}
	return in
}

// shown is the star that the page shows: of an order the chosen one, or its last
// where it has become shorter.
func (j Draft) shown(w *packet.Work) *star.Unit {
	all := w.Order.FromBoards()
	return all[min(max(j.Star, 0), len(all)-1)]
}

// star works out the numbers and the star alone.
func (j Draft) star(ctx context.Context, source []byte) (*packet.Work, error) {
	return packet.Start(ctx, j.input(source), nil)
}

// whole works out all of it.
func (j Draft) whole(ctx context.Context, source []byte, tell packet.Progress) (*packet.Work, error) {
	return packet.Load(ctx, j.input(source), tell)
}

// inJob returns the errors of the job file, none where an error is none of
// these.
func inJob(err error) []job.Error {
	var in packet.JobErrors
	errors.As(err, &in)
	return in
}

// AsFault words an error for the page.
func AsFault(err error) *Fault {
	var f *Fault
	var inJob packet.JobErrors
	var refused *packet.RefusedError
	var syntax *jobedit.SyntaxError
	var path *jobedit.PathError
	switch {
	case errors.As(err, &f):
		return f
	case errors.As(err, &inJob):
		f = &Fault{Kind: "job"}
		for _, e := range inJob {
			f.Lines = append(f.Lines, e.Error())
		}
		return f
	case errors.Is(err, context.Canceled):
		return &Fault{Kind: "gone", Lines: []string{"something newer was asked for"}}
	case errors.As(err, &refused):
		return &Fault{Kind: "refused", Lines: []string{err.Error()}}
	case errors.As(err, &syntax), errors.As(err, &path):
		return &Fault{Kind: "job", Lines: []string{err.Error()}}
	}
	return &Fault{Kind: "io", Lines: []string{err.Error()}}
}
