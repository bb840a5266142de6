package jobedit

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

const orderText = `# stars
[[star]]
name = "a"   # small
count = 2
# board_width = "1 in"

# for all
[slot]
depth = 1
[star.slot]
depth = 2

# the large ones
[[star]]
name = "b"
# between
[star.slot]
depth = 3 # deep
`

func TestCopy(t *testing.T) {
	for _, c := range []struct{ name, before, path, after string }{
		{"a table with its own tables", orderText, "star.1", orderText + "\n[[star]]\nname = \"b\"\n# between\n[star.slot]\ndepth = 3 # deep\n"},
		{"another table in between", orderText, "star.0", strings.Replace(orderText, "depth = 2\n",
			"depth = 2\n\n[[star]]\nname = \"a\"   # small\ncount = 2\n# board_width = \"1 in\"\n\n[star.slot]\ndepth = 2\n", 1)},
		{"no line end at the end", "[[star]]\r\nname = 1", "star.0", "[[star]]\r\nname = 1\r\n\r\n[[star]]\r\nname = 1\r\n"},
		{"an item", "boards = [\"1 m\", { length = \"2 m\" }] # rack\n", "boards.1", "boards = [\"1 m\", { length = \"2 m\" }, { length = \"2 m\" }] # rack\n"},
		{"an item on its line", "boards = [\n  1, # knot\n]\n", "boards.0", "boards = [\n  1,\n  1, # knot\n]\n"},
		{"tables in braces", "star = [{ name = \"a\" }]\n", "star.0", "star = [{ name = \"a\" }, { name = \"a\" }]\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := Copy([]byte(c.before), strings.Split(c.path, ".")...)
			if err != nil {
				t.Fatal(err)
			}
			if string(got) != c.after {
				t.Errorf("got\n%s\nwant\n%s", got, c.after)
			}
		})
	}
	for _, p := range []string{"star", "slot", "slot.depth", "star.2", "none"} {
		if got, err := Copy([]byte(orderText), strings.Split(p, ".")...); err == nil {
			t.Errorf("%s was copied:\n%s", p, got)
		}
	}
}

func TestRemoveOfATable(t *testing.T) {
	for path, want := range map[string]string{
		"star.0": "# stars\n# for all\n[slot]\ndepth = 1\n# the large ones\n[[star]]\nname = \"b\"\n# between\n[star.slot]\ndepth = 3 # deep\n",
		"star.1": strings.Split(orderText, "[[star]]\nname = \"b\"")[0],
	} {
		got, err := Remove([]byte(orderText), strings.Split(path, ".")...)
		if err != nil || string(got) != want {
			t.Errorf("%s: %v, got\n%s\nwant\n%s", path, err, got, want)
		}
	}
}

func TestList(t *testing.T) {
	for before, want := range map[string]string{
		"units = \"mm\"\n[star] # mine\ncount = 2\n": "units = \"mm\"\n[[star]] # mine\ncount = 2\n",
		"\ufeff  [ star ]\n":                         "\ufeff  [[ star ]]\n",
		"star = { count = 2 } # mine\n":              "star = [{ count = 2 }] # mine\n",
	} {
		got, err := List([]byte(before), "star")
		if err != nil || string(got) != want {
			t.Errorf("%q: %v, got %q", before, err, got)
		}
	}
	for _, text := range []string{"star.count = 2\n", "star = 2\n", "[[star]]\n", ""} {
		if got, err := List([]byte(text), "star"); err == nil {
			t.Errorf("%q became %q", text, got)
		}
	}
}

// An item that is copied stands twice, and nothing else is changed; one of the two
// removed, the text reads as it did. The library, which knows nothing of places,
// says how the texts read.
func TestCopyAndRemoveOfItems(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		data, root, before, there := drawn(t)
		for _, p := range there {
			up, _ := root.find(p[:len(p)-1])
			if up.kind != list && up.kind != tables {
				continue
			}
			i, _ := strconv.Atoi(p[len(p)-1])
			got, err := Copy(data, p...)
			if err != nil {
				t.Fatalf("%q: %v\n%s", p, err, data)
			}
			if after := decode(t, got); !same(after, twice(before, p)) {
				t.Fatalf("%q copied\n%s\nbecame\n%s", p, data, got)
			}
			if was, _ := onePlace(data, got); was != 0 {
				t.Fatalf("%q: copying took %d bytes away\n%s\nbecame\n%s", p, was, data, got)
			}
			copied := append(slices.Clone(p[:len(p)-1]), strconv.Itoa(i+1))
			back, err := Remove(got, copied...)
			if err != nil {
				t.Fatalf("%q: %v\n%s", copied, err, got)
			}
			if after := decode(t, back); !same(after, before) {
				t.Fatalf("%q copied and removed\n%s\nbecame\n%s", p, data, back)
			}
		}
		for _, key := range []string{"same", "l0", "l1", "l2"} {
			n := root.kids[key]
			if n == nil || n.kind != tables || len(n.items) < 2 {
				continue
			}
			p := []string{key, strconv.Itoa(rapid.IntRange(0, len(n.items)-1).Draw(t, "item"))}
			got, err := Remove(data, p...)
			if err != nil {
				t.Fatalf("%q: %v\n%s", p, err, data)
			}
			if after := decode(t, got); !same(after, take(before, p)) || !subsequence(got, data) {
				t.Fatalf("%q removed\n%s\nbecame\n%s", p, data, got)
			}
		}
	})
}

// twice does to decoded values what Copy does to the text.
func twice(v any, path []string) any {
	switch v := v.(type) {
	case []any:
		i, _ := strconv.Atoi(path[0])
		if len(path) == 1 {
			return slices.Insert(slices.Clone(v), i, v[i])
		}
		out := slices.Clone(v)
		out[i] = twice(out[i], path[1:])
		return out
	case map[string]any:
		out := map[string]any{}
		for k, x := range v {
			out[k] = x
		}
		out[path[0]] = twice(out[path[0]], path[1:])
		return out
	}
	panic("no way down")
}
