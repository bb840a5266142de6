package job

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"starwright/geom/problem"
	"starwright/geom/words"
)

// maxKinds is how many kinds of star an order may have.
const maxKinds = 50

// ownTables are the tables that a star of an order may have to itself; what it
// leaves out there is taken from the table for all stars.
var ownTables = []string{"blank", "slot", "offcut_slot", "spline"}

// OwnTables returns the tables that a star of an order may have to itself.
func OwnTables() []string { return slices.Clone(ownTables) }

// isOrder reports whether the value of star is a list of tables.
func isOrder(n *node) bool {
	return n != nil && n.kind == list && len(n.items) > 0 &&
		!slices.ContainsFunc(n.items, func(i *node) bool { return i.kind != table })
}

// parseOrder reads a job of several stars: each star as a job by itself, of its
// own tables and of what the file says for all.
func parseOrder(in Input, root, stars *node, errs []Error) (*Job, []Error) {
	file := in.Job.Name
	if n := len(stars.items); n > maxKinds {
		return nil, append(errs, Error{File: file, Line: stars.items[maxKinds].line, Table: "[star]",
			Why: fmt.Sprintf("an order has %d kinds of star at most", maxKinds), Got: strconv.Itoa(n), Would: "a second order for the rest"})
	}
	var all []*Job
	for i, item := range stars.items {
		name, e := starName(file, stars.items[:i], item, i+1)
		r := &reader{file: file, root: root.ofStar(item), known: map[string][]string{}, item: item,
			anyWoods: slices.ContainsFunc(stars.items, func(i *node) bool { return i.kids["woods"] != nil })}
		j := r.withShop(in)
		j.item, j.place, j.Star.Name = item, i+1, name
		all = append(all, j)
		found := r.errs
		if e.Why != "" {
			found = append([]Error{e}, found...)
		}
		for _, e := range found {
			if e = j.ofStar(e); e.Table != "[star]" && !strings.HasPrefix(e.Table, "star.") {
				e.Star, e.Place = "", 0 // it stands for all stars
			}
			if !slices.Contains(errs, e) {
				errs = append(errs, e)
			}
		}
	}
	main := *all[0]
	main.root, main.item, main.place, main.Each = root, nil, 0, all
	main.Defaults = joined(all, func(j *Job) []problem.Note { return j.Defaults })
	main.Warnings = joined(all, func(j *Job) []problem.Note { return j.Warnings })
	return &main, errs
}

// ofStar returns the tree of the job that has the star item alone.
func (n *node) ofStar(item *node) *node {
	out := &node{fixed: true}
	for _, k := range n.keys {
		kid := n.kids[k]
		if k == "star" {
			kid = item
		}
		out.put(k, kid.copied())
	}
	for _, k := range ownTables {
		mine := item.kids[k]
		switch {
		case mine == nil:
			continue
		case out.kids[k] == nil:
			out.put(k, mine.copied())
			continue
		}
		both := mine.copied()
		if shared := out.kids[k]; both.kind == table && shared.kind == table {
			for _, key := range shared.keys {
				if both.kids[key] == nil {
					both.put(key, shared.kids[key])
				}
			}
		}
		out.kids[k] = both
	}
	return out
}

// copied returns a table whose keys can be added to, and anything else as it is.
func (n *node) copied() *node {
	if n.kind != table {
		return n
	}
	out := *n
	out.keys, out.kids = slices.Clone(n.keys), make(map[string]*node, len(n.kids))
	for k, v := range n.kids {
		out.kids[k] = v
	}
	return &out
}

// joined gathers what is noted of the stars: what is the same for all of them
// once, the rest with the star's name.
func joined(all []*Job, of func(*Job) []problem.Note) []problem.Note {
	var out []problem.Note
	for _, j := range all {
		for _, n := range of(j) {
			same := !slices.ContainsFunc(all, func(k *Job) bool { return !slices.Contains(of(k), n) })
			if !same {
				n.Star = j.Star.Name
			}
			if !slices.Contains(out, n) {
				out = append(out, n)
			}
		}
	}
	return out
}

// Of returns the job of one star of an order by its name; the job itself where
// it has one star, or none of that name.
func (j *Job) Of(star string) *Job {
	for _, k := range j.Each {
		if star != "" && k.Star.Name == star {
			return k
		}
	}
	return j
}

// IsOrder reports whether the job lists its stars, be it one.
func (j *Job) IsOrder() bool { return j.Each != nil }

// noSize reports whether a star has no size that can be read.
func (j *Job) noSize() bool {
	return j.sizeless || slices.ContainsFunc(j.Each, func(k *Job) bool { return k.sizeless })
}

// ofStar turns an error of the star's job into one of the order: the tables are
// called as they stand there.
func (j *Job) ofStar(e Error) Error {
	e.Star, e.Place = j.Star.Name, j.place
	switch {
	case e.Table == "star":
		e.Table = "[star]"
		e.Would = strings.ReplaceAll(e.Would, "under [star]", "under [[star]]")
	case slices.Contains(ownTables, e.Table):
		mine := j.item.kids[e.Table]
		if mine != nil && mine.kind == table && (e.Key == "" || mine.kids[e.Key] != nil) {
			e.Table = "star." + e.Table
		}
	}
	return e
}

// fileSafe is a name that stands in names of files on every system.
var fileSafe = words.Pattern(`^[A-Za-z0-9]+(-[A-Za-z0-9]+)*$`)

const longestName = 24 // letters: file names and headings hold it

// takenWords are the first words of names that files of the whole packet have.
var takenWords = []string{"jig", "sheet", "laser", "backplot", "segments", "plate", "label"}

// starName reads the name of a star of an order, which its files carry.
func starName(file string, before []*node, item *node, place int) (string, Error) {
	e := Error{File: file, Line: item.line, Table: "star", Key: "name"}
	fallback := "star-" + strconv.Itoa(place)
	n := item.kids["name"]
	if n == nil {
		e.Why, e.Would = "each star of an order has a name, which its files carry", fmt.Sprintf("name = %q", fallback)
		return fallback, e
	}
	e.Line, e.Got = n.line, got(n)
	first, _, _ := strings.Cut(strings.ToLower(n.text), "-")
	switch {
	case n.kind != text || !fileSafe().MatchString(n.text) || len(n.text) > longestName:
		e.Why = fmt.Sprintf("the name stands in names of files: letters and digits, single - between them, %d at most", longestName)
		e.Would = fmt.Sprintf("name = %q", safeName(n, fallback))
	case slices.Contains(takenWords, first):
		e.Why, e.Would = fmt.Sprintf("files of the packet that are no star's begin with %s", first), fmt.Sprintf("name = %q", "star-"+n.text)
	default:
		for _, b := range before {
			if o := b.kids["name"]; o != nil && strings.EqualFold(o.text, n.text) {
				e.Why = fmt.Sprintf("two stars have this name, the first on line %d; their files would be the same", o.line)
				e.Would = fmt.Sprintf("name = %q", n.text+"-"+strconv.Itoa(place))
				return fallback, e
			}
		}
		return n.text, Error{}
	}
	return fallback, e
}

// safeName returns the nearest name that files can have.
func safeName(n *node, fallback string) string {
	if n.kind == table || n.kind == list {
		return fallback
	}
	word := regexp.MustCompile(`[^A-Za-z0-9]+`).ReplaceAllString(n.text, "-")
	word = strings.Trim(word[:min(len(word), longestName)], "-")
	if first, _, _ := strings.Cut(strings.ToLower(word), "-"); word == "" || slices.Contains(takenWords, first) {
		return fallback
	}
	return word
}

// named makes the keys known that only a star of an order has, and says where a
// single one has a name.
func (s section) named() {
	if s.r.item != nil {
		s.r.known[s.name] = append(append(s.r.known[s.name], "name"), ownTables...)
		return
	}
	if s.node != nil && s.node.kids["name"] != nil {
		s.get("name")
		s.failTry("name", s.node.kids["name"], "only the stars of an order have names", "[[star]] in place of [star], or leave the name out")
	}
}
