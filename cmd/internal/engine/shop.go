package engine

import (
	"context"
	"slices"
	"strings"

	"starwright/cmd/internal/job"
	"starwright/cmd/internal/jobedit"
)

// Shop is a shop file with a change made, and what is wrong with it.
type Shop struct {
	Source string     `json:"source"`
	Values []Value    `json:"values"`
	Errors []JobError `json:"errors"`
}

// aStar is the least that a text needs to be read as a job: a shop file names
// no star.
const aStar = "\n[star]\nboard_width = \"100 mm\"\n"

// shop changes a shop file, and reads it as the tables of a job.
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
	_, errs := job.Parse(j.Name, append(slices.Clone(source), aStar...))
	var own []job.Error
	for _, e := range errs {
		if slices.Contains(job.ShopTables(), e.Table) || e.Table == "" {
			own = append(own, e)
		}
	}
	for _, e := range own {
		edits, label := offered(e)
		out.Errors = append(out.Errors, JobError{Table: e.Table, Key: e.Key, Line: e.Line, Text: e.Error(), Why: e.Why, Got: e.Got, Would: e.Would, Path: errorPath(e), Fix: edits, Label: label})
	}
	return Reply{Result: out}, nil
}

// adopt puts the values of a shop file into a job that does not give them
// itself.
func adopt(ctx context.Context, c Call) (Reply, error) {
	var j Draft
	if err := arguments(c, &j); err != nil {
		return Reply{}, err
	}
	source := []byte(j.Source)
	keys, err := jobedit.Keys([]byte(j.Shop))
	if err != nil {
		return Reply{}, err
	}
	for _, k := range keys {
		if len(k.Path) != 2 && strings.Join(k.Path, ".") != "units" || len(k.Path) == 2 && !slices.Contains(job.ShopTables(), k.Path[0]) {
			continue
		}
		if _, has, err := jobedit.Has(source, k.Path...); err != nil || has && k.Path[0] != "units" {
			continue
		}
		if source, err = jobedit.Set(source, k.Written, k.Path...); err != nil {
			return Reply{}, err
		}
	}
	return Reply{Result: map[string]string{"source": string(source)}}, nil
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
