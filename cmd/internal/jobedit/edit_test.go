package jobedit

import (
	"bytes"
	"errors"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
)

// The tables show where the bytes go; that a text reads as it should is for
// the properties in property_test.go.
func TestSet(t *testing.T) {
	for _, c := range []struct{ name, before, path, value, after string }{
		{"a value, its comment kept", "depth = \"9 mm\"   # measured\r\nweb = 1\r\n", "depth", `"8 mm"`, "depth = \"8 mm\"   # measured\r\nweb = 1\r\n"},
		{"without quotes", "[star]\ncount=8#all\n", "star.count", "12", "[star]\ncount=12#all\n"},
		{"a key like those above", "[slot]\nwidth      = 1\nweb        = 2\n\n# saw\n[saw]\n", "slot.depth", `"9 mm"`, "[slot]\nwidth      = 1\nweb        = 2\ndepth      = \"9 mm\"\n\n# saw\n[saw]\n"},
		{"a longer key", "[slot]\nweb = 2\n", "slot.end_margin", "3", "[slot]\nweb = 2\nend_margin = 3\n"},
		{"a table", "units = \"mm\"", "saw.kerf", "2", "units = \"mm\"\n\n[saw]\nkerf = 2\n"},
		{"a table of a table", "[a]\nx = 1\n", "a.b.c", "2", "[a]\nx = 1\n\n[a.b]\nc = 2\n"},
		{"no text at all", "", "title", `"stars"`, "title = \"stars\"\n"},
		{"dotted keys", "star.points = 5\nunits = \"mm\"\n", "star.count", "2", "star.points = 5\nstar.count  = 2\nunits = \"mm\"\n"},
		{"an item", "boards = [\"1 m\", \"2 m\"] # rack\n", "boards.1", `"3 m"`, "boards = [\"1 m\", \"3 m\"] # rack\n"},
		{"one item more", "boards = [\"1 m\", \"2 m\"] # rack\n", "boards.2", `"3 m"`, "boards = [\"1 m\", \"2 m\", \"3 m\"] # rack\n"},
		{"the first item", "boards = [ ]\n", "boards.0", `"3 m"`, "boards = [\"3 m\" ]\n"},
		{"an item on its line", "boards = [\n  1,\n  2 # knot, ]\n]\n", "boards.2", "3", "boards = [\n  1,\n  2,\n  3 # knot, ]\n]\n"},
		{"after a comma and a comment", "boards = [\n  1,\n  2,  # knot\n]\n", "boards.2", "3", "boards = [\n  1,\n  2,  # knot\n  3,\n]\n"},
		{"in braces", "boards = [{ length = \"1 m\", bad = [[1, 2]] }]\n", "boards.0.bad.0.1", "3", "boards = [{ length = \"1 m\", bad = [[1, 3]] }]\n"},
		{"more in braces", "b = { length = \"1 m\" }\n", "b.count", "3", "b = { length = \"1 m\", count = 3 }\n"},
		{"a list of tables", "[[star]]\nname = \"a\"\n[[star]]\nname = \"b\"\n", "star.0.count", "3", "[[star]]\nname = \"a\"\ncount = 3\n[[star]]\nname = \"b\"\n"},
		{"one table more", "[[star]]\nname = \"a\"\n", "star.1.name", `"b"`, "[[star]]\nname = \"a\"\n\n[[star]]\nname = \"b\"\n"},
		{"a sub-table of one that is not the last", "[[star]]\nname = \"a\"\n[[star]]\nname = \"b\"\n", "star.0.slot.depth", "3", "[[star]]\nname = \"a\"\nslot.depth = 3\n[[star]]\nname = \"b\"\n"},
		{"a mark at the head", "\ufeff[saw]\n", "units", `"mm"`, "\ufeffunits = \"mm\"\n[saw]\n"},
		{"a key that needs quotes", "a = 1\n", "b c", "2", "a = 1\n\"b c\" = 2\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := Set([]byte(c.before), c.value, strings.Split(c.path, ".")...)
			if err != nil {
				t.Fatal(err)
			}
			if string(got) != c.after {
				t.Errorf("got\n%s\nwant\n%s", got, c.after)
			}
		})
	}
}

func TestRemove(t *testing.T) {
	for _, c := range []struct{ name, before, path, after string }{
		{"a line", "a = 1\nb = 2 # gone with it\nc = 3\n", "b", "a = 1\nc = 3\n"},
		{"lines", "b = [\n 1,\n]\nc = 3\n", "b", "c = 3\n"},
		{"the last line", "a = 1\nb = 2", "b", "a = 1\n"},
		{"what is not there", "a = 1\n", "x.y", "a = 1\n"},
		{"an item", "a = [1, 2, 3]\n", "a.1", "a = [1, 3]\n"},
		{"the first item", "a = [1, 2, 3]\n", "a.0", "a = [2, 3]\n"},
		{"the last item", "a = [1, 2, 3]\n", "a.2", "a = [1, 2]\n"},
		{"the only item", "a = [[1]]\n", "a.0.0", "a = [[]]\n"},
		{"within the second", "a = [5, [1]]\n", "a.1.0", "a = [5, []]\n"},
		{"an item with its line", "a = [\n  1,\n  2, # knot\n  3,\n]\n", "a.1", "a = [\n  1,\n  3,\n]\n"},
		{"in braces", "b = { length = 1, bad = [[1, 2]] }\n", "b.bad", "b = { length = 1 }\n"},
		{"a key with dots in braces", "b = { x.y = 1, x.z = 2 }\n", "b.x.z", "b = { x.y = 1 }\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := Remove([]byte(c.before), strings.Split(c.path, ".")...)
			if err != nil {
				t.Fatal(err)
			}
			if string(got) != c.after {
				t.Errorf("got\n%q\nwant\n%q", got, c.after)
			}
		})
	}
}

func TestRefusals(t *testing.T) {
	const text = "units = \"mm\"\n[star]\npoints = 5\n[[cut]]\nx = 1\n"
	for _, c := range []struct{ path, value string }{
		{"star", "1"}, {"cut", "1"}, {"units.x", "1"}, {"cut.5.x", "1"},
		{"star.points", ""}, {"star.points", "1\nx = 2"}, {"star.points", "1 # x"}, {"star.points", "\"\xff\""}, {"star.points", "1,"},
	} {
		if got, err := Set([]byte(text), c.value, strings.Split(c.path, ".")...); err == nil {
			t.Errorf("%s = %q was written: %s", c.path, c.value, got)
		}
	}
	var s *SyntaxError
	if _, err := Set([]byte("a = = 1"), "1", "a"); !errors.As(err, &s) {
		t.Errorf("a broken text gives %v", err)
	}
	var p *PathError
	if _, err := Remove([]byte(text), "star"); !errors.As(err, &p) {
		t.Errorf("removing a table gives %v", err)
	}
}

func TestText(t *testing.T) {
	for _, s := range []string{"", `3 1/2"`, `a\b`, "tab\tbell\a", "ñ ½ 星"} {
		var v struct{ X string }
		if err := toml.Unmarshal([]byte("x = "+Text(s)), &v); err != nil || v.X != s {
			t.Errorf("%q: %v, read back as %q", s, err, v.X)
		}
	}
}

// decode reads a text with the library, which shares no code with this package
// where it matters: it knows nothing of places.
func decode(t interface{ Fatalf(string, ...any) }, data []byte) map[string]any {
	var v map[string]any
	if err := toml.Unmarshal(bytes.TrimPrefix(data, mark), &v); err != nil {
		t.Fatalf("the text cannot be read any more: %v\n%s", err, data)
	}
	return v
}

// put does to decoded values what Set does to the text.
func put(v any, path []string, value any) any {
	if len(path) == 0 {
		return value
	}
	switch v := v.(type) {
	case []any:
		i, _ := strconv.Atoi(path[0])
		out := slices.Clone(v)
		if i == len(out) {
			out = append(out, map[string]any{})
		}
		out[i] = put(out[i], path[1:], value)
		return out
	case map[string]any:
		out := map[string]any{}
		for k, x := range v {
			out[k] = x
		}
		below := out[path[0]]
		if below == nil && len(path) > 1 {
			below = map[string]any{}
		}
		out[path[0]] = put(below, path[1:], value)
		return out
	}
	panic("no way down")
}

// take does to decoded values what Remove does to the text.
func take(v any, path []string) any {
	switch v := v.(type) {
	case []any:
		i, _ := strconv.Atoi(path[0])
		if len(path) == 1 {
			return slices.Delete(slices.Clone(v), i, i+1)
		}
		out := slices.Clone(v)
		out[i] = take(out[i], path[1:])
		return out
	case map[string]any:
		out := map[string]any{}
		for k, x := range v {
			out[k] = x
		}
		if len(path) == 1 {
			delete(out, path[0])
		} else {
			out[path[0]] = take(out[path[0]], path[1:])
		}
		return out
	}
	panic("no way down")
}

// same compares decoded values; empty tables and missing ones differ.
func same(a, b any) bool { return reflect.DeepEqual(a, b) }

func TestRename(t *testing.T) {
	for _, c := range []struct{ before, path, key, after string }{
		{"[star]\nboad_widht = 1 # mm\n", "star.boad_widht", "board_width", "[star]\nboard_width = 1 # mm\n"},
		{"b = [{ lenght = 1, x = 2 }]\n", "b.0.lenght", "length", "b = [{ length = 1, x = 2 }]\n"},
		{"a . 'b c' = 1\n", "a.b c", "d e", "a . \"d e\" = 1\n"},
		{"ab = 1\n", "ab", "c", "c = 1\n"},
	} {
		got, err := Rename([]byte(c.before), c.key, strings.Split(c.path, ".")...)
		if err != nil || string(got) != c.after {
			t.Errorf("%s to %s: %q, %v", c.path, c.key, got, err)
		}
	}
	for _, p := range []string{"a.0", "x", "t"} {
		if got, err := Rename([]byte("a = [1]\n[t]\ny = 1\n"), "n", strings.Split(p, ".")...); err == nil {
			t.Errorf("%s was renamed: %q", p, got)
		}
	}
}

func TestFirst(t *testing.T) {
	for in, want := range map[string]string{`"9 mm" (lengths are written like 9 mm)`: `"9 mm"`, "12 or fewer": "12", "[[1, 2]] here": "[[1, 2]]", "leaving it out": "", "": ""} {
		if got := First(in); got != want {
			t.Errorf("%q begins with %q, want %q", in, got, want)
		}
	}
}

func TestValues(t *testing.T) {
	got, err := Values([]byte("units = 'mm'\n[stock]\nboards = [\"1 m\", { length = 2.5, bad = [[1, \"2\\u0022\"]] }]\n"))
	if err != nil {
		t.Fatal(err)
	}
	var lines []string
	for _, v := range got {
		lines = append(lines, strings.Join(v.Path, ".")+"="+v.Says)
	}
	want := []string{"units=mm", "stock.boards.0=1 m", "stock.boards.1.length=2.5", "stock.boards.1.bad.0.0=1", "stock.boards.1.bad.0.1=2\""}
	if !slices.Equal(lines, want) {
		t.Errorf("%q", lines)
	}
}
