package words

import (
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"pgregory.net/rapid"
)

func TestASCII(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"Søren à Ñandú ±", "Soeren a Nandu +-"},
		{"Søren a\u0300 N\u0303andu\u0301 ±", "Soeren a Nandu +-"}, // with combining marks
		{"Jürgen Groß", "Juergen Gross"},
		{"Ju\u0308rgen", "Juergen"},
		{"ÄRGER über Äpfel", "AERGER ueber Aepfel"},
		{"Ångström, a\u030angstro\u0308m", "Aangstroem, aangstroem"},
		{"Łódź, Kroměříž, Þór", "Lodz, Kromeriz, Thor"},
		{"Ø 6.35 mm, ø8", "dia 6.35 mm, dia 8"},
		{"6.35 mm Ø, bit", "6.35 mm dia, bit"},
		{"Øster, SØR", "Oester, SOER"},
		{"Ø ½ in", "dia 1/2 in"},
		{"3½ in, ¾ in", "3 1/2 in, 3/4 in"},
		{"36° × 2", "36 deg x 2"},
		{"5°", "5 deg"},
		{"“a” – ‘b’…", `"a" - 'b'...`},
		{"≤ 5 ≥", "<= 5 >="},
		{" two \t\nblanks ", "two blanks"},
		{"bell\x07rings", "bell rings"},
		{"turned\u202eround", "turnedround"},
		{"星", "_"},
		{"\xff", "_"},
		{"", ""},
	} {
		if got := ASCII(c.in); got != c.want {
			t.Errorf("ASCII(%q) = %q, want %q", c.in, got, c.want)
		}
	}
}

func TestASCIIIsPlainWhateverComes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		got := ASCII(rapid.String().Draw(t, "text"))
		for _, c := range []byte(got) {
			if c < ' ' || c > '~' {
				t.Fatalf("%q has byte %#x", got, c)
			}
		}
		if strings.Contains(got, "  ") || strings.TrimSpace(got) != got {
			t.Fatalf("%q has blanks too many", got)
		}
		if again := ASCII(got); again != got {
			t.Fatalf("%q becomes %q", got, again)
		}
	})
}

// Every letter of Latin-1 and of Latin Extended-A (ISO 8859-1, and the Unicode
// standard's block of that name) has a spelling.
func TestASCIISpellsLatinLetters(t *testing.T) {
	for r := rune(0xc0); r <= 0x17f; r++ {
		if !unicode.IsLetter(r) || r == 'ſ' || r == 'ĸ' { // historic letters of no name today
			continue
		}
		if got := ASCII("a" + string(r) + "a"); strings.ContainsRune(got, Unspelt) || len(got) < 3 {
			t.Errorf("%c is spelt %q", r, got)
		}
	}
}

func TestCount(t *testing.T) {
	for n, want := range map[int]string{0: "0 boards", 1: "1 board", 2: "2 boards"} {
		if got := Count(n, "board", "boards"); got != want {
			t.Errorf("%d: %q, want %q", n, got, want)
		}
	}
}

func TestCapital(t *testing.T) {
	for in, want := range map[string]string{"": "", "saw": "Saw", "über": "Über", "5 saws": "5 saws"} {
		if got := Capital(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}

func TestOneLine(t *testing.T) {
	if got, want := OneLine("a\nb\tc\x1b[31m\u202e\xff å"), "a b c[31m å"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		text string
		room int
		want []string
	}{
		{"", 5, nil},
		{"one two three", 7, []string{"one two", "three"}},
		{"a wordtoolong b", 4, []string{"a", "word", "tool", "ong", "b"}},
		{"ÄÖÜ äöü", 3, []string{"ÄÖÜ", "äöü"}},
	} {
		if got := Wrap(c.text, c.room); !slices.Equal(got, c.want) {
			t.Errorf("Wrap(%q, %d) = %q, want %q", c.text, c.room, got, c.want)
		}
	}
	if got, want := Hang("one two three four", 10, "- ", "  "), []string{"- one two", "  three", "  four"}; !slices.Equal(got, want) {
		t.Errorf("Hang: %q, want %q", got, want)
	}
}

func TestWrapLosesNoLetter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		room := rapid.IntRange(3, 40).Draw(t, "room")
		first := rapid.SampledFrom([]string{"", "* "}).Draw(t, "first")
		lines := Hang(text, room, first, first)
		joined := ""
		for _, l := range lines {
			if utf8.RuneCountInString(l) > room {
				t.Fatalf("%q is longer than %d", l, room)
			}
			joined += strings.TrimPrefix(l, first)
		}
		bare := func(s string) string { return strings.Join(strings.Fields(s), "") }
		if utf8.ValidString(text) && bare(joined) != bare(text) {
			t.Fatalf("%q became %q", text, lines)
		}
	})
}

func TestFill(t *testing.T) {
	short := func(line string) bool { return len(line) <= 7 }
	if got, want := Fill("one two three\n\nfour", short), []string{"one two", "three", "", "four"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	if got := Fill("unbreakable", short); !slices.Equal(got, []string{"unbreakable"}) {
		t.Errorf("got %q", got)
	}
}

// "kitten" to "sitting" is the textbook's example of the distance; "ca" to "abc"
// that of optimal string alignment, where Damerau's own would be 2.
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"kitten", "sitting", 3}, {"", "abc", 3}, {"abc", "", 3}, {"same", "same", 0}, {"ä", "a", 1},
		{"widht", "width", 1}, {"dpt", "depth", 2}, {"deppth", "depth", 1}, {"ca", "abc", 3},
		{strings.Repeat("a", 1000), strings.Repeat("b", 1000), 64},
	} {
		if got := Distance(c.a, c.b); got != c.want {
			t.Errorf("Distance(%q, %q) = %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

func TestMeant(t *testing.T) {
	keys := []string{"width", "depth", "board_width", "rpm"}
	for name, want := range map[string]string{
		"widht": "width", "Depth": "depth", "board_widht": "board_width", "bord_wdith": "board_width", "rmp": "rpm", "kerf": "", "": "",
	} {
		if got := Meant(name, keys); got != want {
			t.Errorf("Meant(%q) = %q, want %q", name, got, want)
		}
	}
	if got := Meant("x", nil); got != "" {
		t.Errorf("among no names: %q", got)
	}
	if got, far := Nearest("", keys); got != "rpm" || far != 3 {
		t.Errorf("nearest to nothing: %q, %d", got, far)
	}
}

func TestList(t *testing.T) {
	for want, things := range map[string][]string{"": nil, "pine": {"pine"}, "pine and oak": {"pine", "oak"}, "pine, oak and ash": {"pine", "oak", "ash"}} {
		if got := List(things...); got != want {
			t.Errorf("%q: %q, want %q", things, got, want)
		}
	}
}
