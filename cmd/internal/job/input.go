package job

import (
	"fmt"
	"slices"
	"strings"

	"starwright/geom"
	"starwright/geom/words"
)

// File is a file of settings: what people call it, and its bytes.
type File struct {
	Name string
	Data []byte
}

// Input is what a job is read from.
type Input struct {
	Job  File
	Shop *File // what the shop has, for every job; nil where there is none
}

// ShopName is the usual name of the shop's file.
const ShopName = "shop.toml"

// Taken is a value that a job took from the shop's file.
type Taken struct {
	Key   string // "saw.kerf"
	Value string // as written there
	File  string
	Line  int
}

// origin is where a value was read that does not stand in the job file.
type origin struct {
	file string
	unit geom.Unit // of its bare numbers
}

// file returns the file that a node stands in, "" for the job file.
func (n *node) file() string {
	if n.from == nil {
		return ""
	}
	return n.from.file
}

// unit returns the unit of a node's bare numbers.
func (s section) unit(n *node) geom.Unit {
	if n.from == nil {
		return s.r.u
	}
	return n.from.unit
}

// claim marks a node and all below it as read from elsewhere.
func (n *node) claim(from *origin) {
	n.from = from
	for _, k := range n.kids {
		k.claim(from)
	}
	for _, k := range n.items {
		k.claim(from)
	}
}

// shopFile reads the shop's file and puts into the job's tree what the job
// itself leaves out, key by key. A bare number is in the unit of the file that
// it stands in, whatever the other file's is.
func (r *reader) shopFile(f File) {
	root, errs := readTree(f.Name, f.Data)
	r.errs = append(r.errs, errs...)
	if root == nil {
		return
	}
	from := &origin{file: f.Name}
	root.claim(from)
	own := &reader{file: f.Name, root: root, known: map[string][]string{}}
	if own.section("").choice("units", "", "mm", "in") == "in" {
		from.unit = geom.Inch
	}
	r.errs = append(r.errs, own.errs...)
	for _, name := range root.keys {
		n := root.kids[name]
		switch {
		case name == "units":
			if r.root.kids[name] == nil && len(own.errs) == 0 {
				r.root.put(name, n)
				r.take(name, n)
			}
		case !slices.Contains(ShopTables(), name):
			r.add(notOfShop(name, n))
		case n.kind != table || r.root.kids[name] != nil && r.root.kids[name].kind != table:
			own.section(name) // says that it must be a table, if it is none
		default:
			r.merge(name, n)
		}
	}
	if len(own.errs) > 0 && own.errs[len(own.errs)-1].Table != "" {
		r.errs = append(r.errs, own.errs...)
	}
}

// ShopErrors returns what is wrong with a shop file by itself, whatever job it
// serves.
func ShopErrors(f File) []Error {
	// A job that leaves all to the shop.
	_, errs := parse(Input{Job: File{Name: "job", Data: []byte("[star]\nboard_width = \"100 mm\"\n")}, Shop: &f})
	var own []Error
	for _, e := range sorted(errs) {
		if e.File == f.Name {
			own = append(own, e)
		}
	}
	return own
}

// merge puts into a table of the job what only the shop's file has.
func (r *reader) merge(name string, n *node) {
	mine := r.root.kids[name]
	if mine == nil {
		mine = &node{line: n.line, from: n.from, fixed: true}
		r.root.put(name, mine)
	}
	for _, k := range n.keys {
		if mine.kids[k] == nil {
			mine.put(k, n.kids[k])
			r.take(name+"."+k, n.kids[k])
		}
	}
}

func (r *reader) take(key string, n *node) {
	value := n.raw
	if value == "" {
		value = got(n)
	}
	r.taken = append(r.taken, Taken{Key: key, Value: value, File: n.file(), Line: n.line})
}

// notOfShop is what a shop's file says that is a job's to say.
func notOfShop(name string, n *node) Error {
	e := Error{File: n.file(), Line: n.line}
	what := "table"
	if n.kind == table || n.kind == list && len(n.items) > 0 && n.items[0].kind == table {
		e.Table = shown(name)
	} else {
		e.Key, what = shown(name), "key"
	}
	if k := words.Meant(name, append(ShopTables(), "units")); k != "" {
		e.Why, e.Would = "no such "+what, "["+k+"]"
		if k == "units" {
			e.Would = k
		}
		return e
	}
	e.Why = fmt.Sprintf("this %s is the job's; the shop file holds %s", what, strings.Join(ShopTables(), ", "))
	e.Would = "it in the job file"
	return e
}
