package wood

import (
	"slices"
	"strings"

	"starwright/geom/problem"
	"starwright/geom/words"
)

// otherNames are common names of rows in the table, where the trade means one
// species by them. "Birch" or "poplar" is another tree on another continent and
// is asked back.
func otherNames() [][2]string {
	return [][2]string{
		{"cherry", "black cherry"}, {"walnut", "black walnut"}, {"sugar maple", "hard maple"},
		{"rock maple", "hard maple"}, {"douglas fir", "douglas-fir, coast"}, {"tulip poplar", "yellow-poplar"},
		{"western red cedar", "western redcedar"}, {"eastern red cedar", "eastern redcedar"},
		{"bald cypress", "baldcypress"}, {"red oak, commercial", "red oak"},
	}
}

// Find returns the species of a name, whatever its case, hyphens and spaces.
// An unknown name is refused with the near ones.
func Find(name string) (Species, error) {
	key := fold(name)
	table := Table()
	for _, s := range table {
		if fold(s.Name) == key {
			return s, nil
		}
	}
	for _, o := range otherNames() {
		if fold(o[0]) == key {
			return Find(o[1])
		}
	}
	const longest = 60 // bytes of a name that an error repeats
	if len(name) > longest {
		name = name[:longest] + "..."
	}
	return Species{}, problem.List{{Key: "species", Got: name,
		Why: "no such species in the table", Would: strings.Join(Near(name), ", ")}}
}

// Near returns the names of the table that come nearest to one that is not in
// it, best first, at most five: names that share the tree's word, then names a
// few letters away. Where none is near, it returns the whole table.
func Near(name string) []string {
	const most = 5
	type candidate struct {
		name string
		far  int
	}
	var near []candidate
	var all []string
	key := fold(name)
	for _, s := range Table() {
		all = append(all, s.Name)
		far := words.Distance(key, fold(s.Name))
		for _, o := range otherNames() {
			if o[1] == s.Name {
				far = min(far, words.Distance(key, fold(o[0])))
			}
		}
		if shared := sharedWords(key, fold(s.Name)); shared > 0 {
			far = -shared
		}
		if far <= max(2, len(key)/3) {
			near = append(near, candidate{s.Name, far})
		}
	}
	if len(near) == 0 {
		return all
	}
	slices.SortStableFunc(near, func(a, b candidate) int { return a.far - b.far })
	var out []string
	for _, c := range near[:min(most, len(near))] {
		out = append(out, c.name)
	}
	return out
}

// fold writes a name in lower case with single spaces and nothing else.
func fold(s string) string {
	f := func(r rune) bool { return r == ' ' || r == '-' || r == ',' || r == '_' || r == '\t' }
	return strings.Join(strings.FieldsFunc(strings.ToLower(s), f), " ")
}

// sharedWords counts the words that stand in both names, 0 where only colours
// and quarters of the compass do.
func sharedWords(a, b string) int {
	words, tree := 0, false
	for _, v := range strings.Fields(a) {
		if !slices.Contains(strings.Fields(b), v) {
			continue
		}
		words++
		switch v {
		case "red", "white", "black", "yellow", "hard", "eastern", "western", "northern", "american":
		default:
			tree = true
		}
	}
	if !tree {
		return 0
	}
	return words
}
