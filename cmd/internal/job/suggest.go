package job

import (
	"slices"
	"strings"

	"starwright/geom/words"
)

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

// NoSuchKey is what is wrong with a key that its table does not have.
const NoSuchKey = "no such key"

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
	e := Error{File: n.file(), Line: n.line, Table: shown(name), Why: "no such table"}
	if k := words.Meant(name, r.tables); k != "" {
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
	e := Error{File: n.file(), Line: n.line, Table: tab, Key: shown(key), Why: NoSuchKey}
	if k := words.Meant(key, r.known[tab]); k != "" {
		e.Would = k
		return e
	}
	if i := slices.IndexFunc(r.known[tab], func(k string) bool { return holds(k, key) }); i >= 0 {
		e.Would = r.known[tab][i]
		return e
	}
	if slices.Contains(r.known[""], key) {
		e.Would = key + " above the first table"
		if n.raw != "" {
			e.Would = key + " = " + n.raw + " above the first table"
		}
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
		e.Would = homes[0] + " " + key
		if n.raw != "" {
			e.Would += " = " + n.raw
		}
		if len(homes) > 1 {
			e.Would += ", or under " + strings.Join(homes[1:], " or ")
		}
	case tab == "" && slices.Contains(r.tables, words.Meant(key, r.tables)):
		e.Would = "[" + words.Meant(key, r.tables) + "] as a table"
	case tab == "":
		e.Why += "; the keys at the head of the file are " + strings.Join(r.known[""], ", ") +
			", and the tables " + strings.Join(r.tables, ", ")
	default:
		e.Why += "; the keys of [" + tab + "] are " + strings.Join(r.known[tab], ", ")
	}
	return e
}
