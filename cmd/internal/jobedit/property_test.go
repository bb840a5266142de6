package jobedit

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// writer writes random TOML as people do: any spacing, comments anywhere they
// may stand, all kinds of quotes.
type writer struct {
	t  *rapid.T
	nl string
	b  strings.Builder
}

func (w *writer) pick(label string, from ...string) string {
	return rapid.SampledFrom(from).Draw(w.t, label)
}

func (w *writer) remark() string { return w.pick("remark", "", "", " # knot, ] } \" ' = 1", "#", "\t") }

// plainValue is a value without brackets or braces.
func (w *writer) plainValue() string {
	return w.pick("value", `"9 mm"`, `'a "b" # c'`, `"3 1/2\" in\\"`, "12", "-3.5e2", "true", "2026-12-05", "1979-05-27 07:32:00Z",
		"0xff", `""`, "''", "\"\"\"x\"\"y\n# no comment\"\"\"", "'''a'b''\n'''", "\"\"\"q\\\"\"\"\"")
}

// value is any value; depth bounds what stands in what.
func (w *writer) value(depth int) string {
	kind := w.pick("kind", "plain", "plain", "plain", "list", "braces")
	if depth == 0 || kind == "plain" {
		return w.plainValue()
	}
	n := rapid.IntRange(0, 3).Draw(w.t, "items")
	var items []string
	if kind == "list" {
		gap := func() string { return w.pick("gap", "", " ", w.nl+"  ", " # , ]"+w.nl+"\t") }
		for range n {
			items = append(items, gap()+w.value(depth-1)+gap())
		}
		last := gap()
		if n > 0 && w.pick("comma", "no", "yes") == "yes" {
			last = "," + last
		}
		return "[" + strings.Join(items, ",") + last + "]"
	}
	for i := range n {
		key := w.pick("key", "a", `"b c"`, "d.e", "f") + strconv.Itoa(i)
		if strings.HasPrefix(key, `"`) {
			key = fmt.Sprintf(`"b c%d"`, i)
		}
		items = append(items, " "+key+w.pick("blank", "", " ")+"="+w.pick("blank", "", " ")+w.value(depth-1)+w.pick("blank", "", " "))
	}
	return "{" + strings.Join(items, ",") + "}"
}

// ends gives a value the text's line ends.
func (w *writer) ends(s string) string {
	return strings.ReplaceAll(strings.ReplaceAll(s, "\r", ""), "\n", w.nl)
}

// body writes the keys of one table.
func (w *writer) body() {
	for i := range rapid.IntRange(0, 4).Draw(w.t, "keys") {
		key := w.pick("key", "k", "long_key_", "'q r'.s", "dot . ted.x", "dot.u") + strconv.Itoa(i)
		w.b.WriteString(w.pick("indent", "", "", "  ") + key + w.pick("blank", "", " ", "   ") + "=" + w.pick("blank", "", " ") +
			w.ends(w.value(2)) + w.remark() + w.nl)
		if w.pick("empty", "no", "no", "yes") == "yes" {
			w.b.WriteString("# a remark of its own" + w.nl + w.nl)
		}
	}
}

func (w *writer) text() []byte {
	w.nl = w.pick("line end", "\n", "\n", "\r\n")
	if w.pick("mark", "no", "no", "no", "yes") == "yes" {
		w.b.WriteString(string(mark))
	}
	if w.pick("head", "no", "yes") == "yes" {
		w.b.WriteString("# head" + w.nl)
	}
	w.body()
	for i := range rapid.IntRange(0, 3).Draw(w.t, "tables") {
		head := w.pick("header", "[t%d]", "[ t%d . u ]", "[[l%d]]", "[\"x y\".t%d]", "[[same]]", "[same.sub%d]")
		if strings.Contains(head, "%") {
			head = fmt.Sprintf(head, i)
		}
		w.b.WriteString(head + w.remark() + w.nl)
		w.body()
	}
	out := w.b.String()
	if w.pick("end", "line", "no line") == "no line" {
		out = strings.TrimRight(out, "\r\n")
	}
	return []byte(out)
}

// paths are the ways to every value of a text, and to some where none is.
func paths(v any, at []string) (there, free [][]string) {
	down := func(k string, x any) {
		p := append(append([]string{}, at...), k)
		switch x.(type) {
		case map[string]any:
		default:
			there = append(there, p)
		}
		t, f := paths(x, p)
		there, free = append(there, t...), append(free, f...)
	}
	next := func(k string) []string { return append(append([]string{}, at...), k) }
	switch v := v.(type) {
	case map[string]any:
		for _, k := range sortedKeys(v) {
			down(k, v[k])
		}
		free = append(free, next("new"), next("new key"), append(next("fresh"), "key"))
	case []any:
		for i, x := range v {
			down(strconv.Itoa(i), x)
		}
		free = append(free, next(strconv.Itoa(len(v))))
	}
	return there, free
}

func sortedKeys(m map[string]any) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// onePlace reports whether b is a with one stretch of it replaced, and how
// long the stretch was in both.
func onePlace(a, b []byte) (was, is int) {
	head := 0
	for head < len(a) && head < len(b) && a[head] == b[head] {
		head++
	}
	tail := 0
	for tail < len(a)-head && tail < len(b)-head && a[len(a)-1-tail] == b[len(b)-1-tail] {
		tail++
	}
	return len(a) - head - tail, len(b) - head - tail
}

func TestSetChangesOneValueAndNoOtherByte(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := &writer{t: t}
		data := w.text()
		root, err := read(data)
		if err != nil {
			t.Skip("given twice") // the same key drawn twice
		}
		before := decode(t, data)
		there, free := paths(before, nil)
		value := w.ends(w.value(1))
		want := decode(t, []byte("v = "+value))["v"]
		for _, p := range there {
			n, _ := root.find(p)
			if n.kind == tables {
				continue
			}
			got, err := Set(data, value, p...)
			if err != nil {
				t.Fatalf("%q: %v\n%s", p, err, data)
			}
			if after := decode(t, got); !same(after, put(before, p, want)) {
				t.Fatalf("%q = %s\n%s\nbecame\n%s\n%v", p, value, data, got, after)
			}
			if !bytes.Equal(got[:n.start], data[:n.start]) || !bytes.Equal(got[len(got)-(len(data)-n.end):], data[n.end:]) {
				t.Fatalf("%q: bytes beside the value changed\n%s\nbecame\n%s", p, data, got)
			}
		}
		for _, p := range free {
			if at, steps := root.find(p); at.kind == tables && steps == len(p)-1 {
				p = append(p, "name")
			}
			got, err := Set(data, value, p...)
			if err != nil {
				if e, ok := err.(*PathError); ok && strings.Contains(e.Why, "not the last") {
					continue
				}
				t.Fatalf("%q: %v\n%s", p, err, data)
			}
			if after := decode(t, got); !same(after, put(before, p, want)) {
				t.Fatalf("%q = %s added\n%s\nbecame\n%s\n%v", p, value, data, got, after)
			}
			if was, _ := onePlace(data, got); was != 0 {
				t.Fatalf("%q: adding took %d bytes away\n%s\nbecame\n%s", p, was, data, got)
			}
		}
	})
}

// drawn draws a text, and returns what it holds: as a tree with places, as the
// library reads it, and the paths of all that stands there.
func drawn(t *rapid.T) (data []byte, root *node, before map[string]any, there [][]string) {
	data = (&writer{t: t}).text()
	root, err := read(data)
	if err != nil {
		t.Skip("given twice")
	}
	before = decode(t, data)
	there, _ = paths(before, nil)
	return data, root, before, there
}

func TestRemoveTakesOneValue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		data, root, before, there := drawn(t)
		for _, p := range there {
			if n, _ := root.find(p); n.kind == tables {
				continue
			}
			if parent, _ := root.find(p[:len(p)-1]); parent.kind == table && !parent.header && len(parent.kids) == 1 {
				continue // with its last dotted key a table goes, or in a list of tables an item stays: no job does that
			}
			if parent, _ := root.find(p[:len(p)-1]); parent.kind == inline && parent.prefix != "" && len(parent.kids) == 1 {
				continue
			}
			got, err := Remove(data, p...)
			if err != nil {
				t.Fatalf("%q: %v\n%s\nbecame\n%s", p, err, data, got)
			}
			if after := decode(t, got); !same(after, take(before, p)) {
				t.Fatalf("%q removed\n%s\nbecame\n%s\n%v", p, data, got, after)
			}
			if !subsequence(got, data) {
				t.Fatalf("%q: removing added bytes\n%s\nbecame\n%s", p, data, got)
			}
		}
	})
}

// subsequence reports whether a is b with bytes left out.
func subsequence(a, b []byte) bool {
	i := 0
	for _, c := range b {
		if i < len(a) && a[i] == c {
			i++
		}
	}
	return i == len(a)
}

// The job files of the project, each of their values set to another and back:
// the bytes are the same again.
func TestThereAndBack(t *testing.T) {
	files, err := filepath.Glob("../job/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatal("no job files found")
	}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		there, _ := paths(decode(t, data), nil)
		for _, p := range there {
			was, stands, err := has(data, p...)
			if err != nil || !stands {
				t.Fatalf("%s: %q: %v", f, p, err)
			}
			if was == "" {
				continue
			}
			got, err := Set(data, `"other"`, p...)
			if err != nil {
				t.Fatalf("%s: %q: %v", f, p, err)
			}
			if got, err = Set(got, was, p...); err != nil || !bytes.Equal(got, data) {
				t.Errorf("%s: %q set and set back is another file (%v)", f, p, err)
			}
		}
	}
}

// has reports whether a text has a value or table at a path, and returns the
// value as it is written, "" of a table with a header.
func has(data []byte, path ...string) (written string, there bool, err error) {
	root, err := read(data)
	if err != nil {
		return "", false, err
	}
	n, steps := root.find(path)
	if steps < len(path) {
		return "", false, nil
	}
	if n.kind == table || n.kind == tables {
		return "", true, nil
	}
	return string(data[n.start:n.end]), true, nil
}
