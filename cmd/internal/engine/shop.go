package engine

import (
	"context"

	"starwright/cmd/internal/job"
	"starwright/cmd/internal/jobedit"
)

// Shop is a shop file with a change made, and what is wrong with it.
type Shop struct {
	Source string     `json:"source"`
	Values []Value    `json:"values"`
	Errors []JobError `json:"errors"`
}

// shop changes a shop file, and reads it as every job reads it.
func shop(ctx context.Context, c Call) (Reply, error) {
	var j Draft
	source, err := edited(c, &j)
	if err != nil {
		return Reply{}, err
	}
	out := Shop{Source: string(source), Values: []Value{}, Errors: []JobError{}}
	vs, err := jobedit.Values(source)
	if err != nil {
		return Reply{}, err
	}
	for _, v := range vs {
		out.Values = append(out.Values, Value{v.Path, v.Says, v.Text})
	}
	for _, e := range job.ShopErrors(job.File{Name: job.ShopName, Data: source}) {
		edits, label := offered(e)
		out.Errors = append(out.Errors, JobError{Table: e.Table, Key: e.Key, Line: e.Line, Text: e.Error(), Why: e.Why, Got: e.Got, Would: e.Would, Path: errorPath(e), Fix: edits, Label: label})
	}
	return Reply{Result: out}, nil
}

// zipFiles packs the files of a packet.
func zipFiles(_ context.Context, c Call) (Reply, error) {
	var in struct {
		Packet string `json:"packet"`
	}
	if err := arguments(c, &in); err != nil {
		return Reply{}, err
	}
	data, err := Zip(in.Packet, c.Files)
	return Reply{Files: []File{{in.Packet + ".zip", data}}}, err
}
