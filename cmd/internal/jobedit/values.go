package jobedit

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2"
)

// Value is a value of a text.
type Value struct {
	Path    []string
	Written string // as it stands in the text
	Says    string // what a text says; any other value as it is written
	Text    bool   // in quotes
}

// Values returns the values of a text that stand neither in a list nor hold one,
// and the items of lists and tables in braces one by one, in no certain order of
// tables, each table in the order of the text.
func Values(data []byte) ([]Value, error) {
	root, err := read(data)
	if err != nil {
		return nil, err
	}
	var out []Value
	var walk func(n *node, path []string)
	walk = func(n *node, path []string) {
		if n.kind == plain {
			w := string(data[n.start:n.end])
			v := Value{Path: slices.Clone(path), Written: w, Says: w}
			if strings.HasPrefix(w, `"`) || strings.HasPrefix(w, "'") {
				v.Says, v.Text = unquoted(w), true
			}
			out = append(out, v)
			return
		}
		for _, k := range n.keys {
			walk(n.kids[k], append(path, k))
		}
		for i, k := range n.items {
			walk(k, append(path, strconv.Itoa(i)))
		}
	}
	walk(root, nil)
	return out, nil
}

// unquoted returns what a text in quotes says.
func unquoted(w string) string {
	var v struct{ V string }
	if err := toml.Unmarshal([]byte("V = "+w), &v); err != nil {
		return fmt.Sprint(w)
	}
	return v.V
}
