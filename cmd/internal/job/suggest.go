package job

import (
	"slices"
	"strings"
)

// maxTypos is the most letters by which a key may differ from the one it was
// meant to be; short ones must be nearer, see [nearest].
const maxTypos = 3

// nearest returns the known name nearest to an unknown one by edit distance,
// "" where none is near. Of equals the first wins.
func nearest(name string, known []string) string {
	name = strings.ToLower(name)
	best, least := "", maxTypos+1
	for _, k := range known {
		most := min(maxTypos, max(1, max(len(k), len(name))/3))
		if d := distance(name, k, most); d <= most && d < least {
			best, least = k, d
		}
	}
	return best
}

// distance returns how many letters must be changed, put in, left out or
// swapped with their neighbour to turn a into b (optimal string alignment), or
// more than most as soon as it is sure to be that.
func distance(a, b string, most int) int {
	if d := len(a) - len(b); d > most || -d > most {
		return most + 1
	}
	var before []int
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		next := make([]int, len(b)+1)
		next[0] = i
		for j := 1; j <= len(b); j++ {
			same := 1
			if a[i-1] == b[j-1] {
				same = 0
			}
			next[j] = min(row[j]+1, next[j-1]+1, row[j-1]+same)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				next[j] = min(next[j], before[j-2]+1)
			}
		}
		if slices.Min(next) > most {
			return most + 1
		}
		before, row = row, next
	}
	return row[len(b)]
}

// unknown reports every key and table of the file that nothing asked for.
func (r *reader) unknown() {
	for _, name := range r.root.keys {
		n := r.root.kids[name]
		if len(r.errs) > maxErrors {
			return
		}
		switch {
		case slices.Contains(r.known[""], name):
		case slices.Contains(r.tables, name):
			r.unknownIn(name, n)
		case n.kind == table || n.kind == list && len(n.items) > 0 && n.items[0].kind == table:
			r.add(r.unknownTable(name, n))
		default:
			r.add(r.unknownKey("", name, n))
		}
	}
}

func (r *reader) unknownIn(tab string, n *node) {
	for _, k := range n.keys {
		if !slices.Contains(r.known[tab], k) && len(r.errs) <= maxErrors {
			r.add(r.unknownKey(tab, k, n.kids[k]))
		}
	}
}

// holds reports whether name is a word of a known key: width of board_width.
func holds(known, name string) bool {
	return slices.Contains(strings.Split(known, "_"), strings.ToLower(name))
}

// shown makes an empty name, which TOML allows, visible.
func shown(name string) string {
	if name == "" {
		return `""`
	}
	return name
}

func (r *reader) unknownTable(name string, n *node) Error {
	e := Error{Line: n.line, Table: shown(name), Why: "this table is not known"}
	if k := nearest(name, r.tables); k != "" {
		e.Would = "[" + k + "]"
	} else {
		e.Why += "; the tables are " + strings.Join(r.tables, ", ")
	}
	return e
}

// unknownKey names the nearest key of the same table, else one that has the
// name as a word, else the tables that have a key of that name, else all keys
// of the table.
func (r *reader) unknownKey(tab, key string, n *node) Error {
	e := Error{Line: n.line, Table: tab, Key: shown(key), Why: "this key is not known"}
	if k := nearest(key, r.known[tab]); k != "" {
		e.Would = k
		return e
	}
	if i := slices.IndexFunc(r.known[tab], func(k string) bool { return holds(k, key) }); i >= 0 {
		e.Would = r.known[tab][i]
		return e
	}
	if slices.Contains(r.known[""], key) {
		e.Would = key + " at the head of the file, above the first table"
		return e
	}
	var homes []string
	for _, t := range r.tables {
		if slices.Contains(r.known[t], key) {
			homes = append(homes, "["+t+"]")
		}
	}
	switch {
	case len(homes) > 0:
		e.Would = key + " under " + strings.Join(homes, " or ")
	case tab == "" && slices.Contains(r.tables, nearest(key, r.tables)):
		e.Would = "[" + nearest(key, r.tables) + "] as a table"
	case tab == "":
		e.Why += "; the keys at the head of the file are " + strings.Join(r.known[""], ", ") +
			", and the tables " + strings.Join(r.tables, ", ")
	default:
		e.Why += "; the keys of [" + tab + "] are " + strings.Join(r.known[tab], ", ")
	}
	return e
}
