package jig

import (
	"fmt"
	"slices"
	"strings"

	"starwright/geom/star"
)

// Kit makes the jigs that p.Keys name, one after the other, or where it is nil
// all that the stars of an order need, or says what is wrong. A name given twice
// is made once.
func Kit(o *star.Order, p Params) ([]Jig, []star.Problem) {
	var jigs []Jig
	var problems []star.Problem
	for _, m := range chosen(o, p) {
		if m.make == nil {
			problems = append(problems, unknown(m.key))
			continue
		}
		made, ps := m.make(o.Units, p)
		jigs, problems = append(jigs, made...), append(problems, ps...)
		problems = append(problems, loose(o, p, m.key, made)...)
	}
	if len(problems) > 0 {
		return nil, problems
	}
	return uniqueFiles(jigs), nil
}

// Needed returns the names of all jigs that the job needs.
func Needed(o *star.Order, p Params) []string {
	out := []string{} // not nil: a job that needs none names none
	for _, m := range makers {
		if len(of(o.Units, p, m.need)) > 0 {
			out = append(out, m.key)
		}
	}
	return out
}

// chosen returns the makers asked for; an unknown name comes back as a maker
// that makes nothing.
func chosen(o *star.Order, p Params) []maker {
	var out []maker
	keys := p.Keys
	if keys == nil {
		keys = Needed(o, p)
	}
	for i, key := range keys {
		if slices.Contains(keys[:i], key) {
			continue
		}
		found := maker{key: key}
		for _, m := range makers {
			if m.key == key {
				found = m
			}
		}
		out = append(out, found)
	}
	return out
}

// leastScrews is how many screws keep a plate from turning.
const leastScrews = 2

// loose says which plate of a jig finds too little room for the screws that hold
// it.
func loose(o *star.Order, p Params, key string, made []Jig) []star.Problem {
	for _, j := range made {
		n := len(j.Screws())
		if !j.Screwed || n >= leastScrews {
			continue
		}
		var rest []string
		for _, m := range chosen(o, p) {
			if m.key != key {
				rest = append(rest, fmt.Sprintf("%q", m.key))
			}
		}
		return []star.Problem{{
			Key: "jigs.make", Got: key,
			Why:   fmt.Sprintf("the %s has room for %d of the %d screws that hold it", j.Title, n, leastScrews),
			Would: "make = [" + strings.Join(rest, ", ") + "]",
		}}
	}
	return nil
}

// unknown says that there is no such jig, and which one was probably meant.
func unknown(key string) star.Problem {
	nearest, best := "", 0
	for _, k := range Keys() {
		d := edits(key, k)
		if key != "" && strings.Contains(k, key) {
			d = 0 // a part of a name
		}
		if nearest == "" || d < best {
			nearest, best = k, d
		}
	}
	return star.Problem{
		Key: "jigs.make", Got: key,
		Why:   "there is no such jig; the jigs are " + strings.Join(Keys(), ", "),
		Would: fmt.Sprintf("make = [%q]", nearest),
	}
}

// edits returns the least number of letters to insert, delete or change that
// makes b of a (Levenshtein's distance), of at most the first 64 of each.
func edits(a, b string) int {
	const most = 64
	s, t := []rune(a), []rune(b)
	s, t = s[:min(len(s), most)], t[:min(len(t), most)]
	row := make([]int, len(t)+1)
	for k := range row {
		row[k] = k
	}
	for i, r := range s {
		diagonal := row[0]
		row[0] = i + 1
		for k, q := range t {
			change := diagonal
			if r != q {
				change++
			}
			diagonal = row[k+1]
			row[k+1] = min(change, row[k]+1, row[k+1]+1)
		}
	}
	return row[len(t)]
}

// uniqueFiles numbers the second and later jigs of the same file name.
func uniqueFiles(jigs []Jig) []Jig {
	used := map[string]bool{}
	for i, j := range jigs {
		name := j.File
		for n := 2; used[name]; n++ {
			name = fmt.Sprintf("%s-%d", j.File, n)
		}
		used[name] = true
		jigs[i].File = name
	}
	return jigs
}
