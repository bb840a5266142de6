package main

import (
	"bytes"
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "draw the picture of the house anew")

// housePicture is the picture in DEVELOPERS.md.
const housePicture = "../../testdata/readme/house.svg"

// What makes files and what proves them; the rest does neither, or puts both
// together.
var (
	makes  = []string{"toolpath/planner", "toolpath/nest", "toolpath/flat", "post/draft", "post/dxf/dxfwrite", "post/svg/svgwrite", "post/rs274/ncwrite"}
	proves = []string{"toolpath/backplot", "post/outline", "post/dxf/dxfread", "post/svg/svgread", "post/rs274/ncread", "geom/tryout"}
)

// The picture is drawn from the code's own imports and fails when it is out of
// date: `go test ./cmd/starwright -run HousePicture -update` draws it anew.
func TestHousePicture(t *testing.T) {
	h := newHouse(imports(t, "../.."))
	got := h.picture()
	if *update {
		if err := os.WriteFile(housePicture, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	was, err := os.ReadFile(housePicture)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(was, got) {
		t.Error("testdata/readme/house.svg is not what the code imports now: go test ./cmd/starwright -run HousePicture -update")
	}
	for _, room := range append(slices.Clone(makes), proves...) {
		if _, ok := h.imports[room]; !ok {
			t.Errorf("there is no %s", room)
		}
	}
	for _, p := range proves {
		for _, m := range makes {
			if h.reaches(p, m) {
				t.Errorf("%s, which proves, comes to %s, which makes", p, m)
			}
		}
	}
}

// house is the packages of the program with what each imports of the others.
type house struct {
	imports map[string][]string
	level   map[string]int // rooms below each other
}

// newHouse makes the house of the imports of folders: rooms below geom/bench are
// one, and what only tests import is left out.
func newHouse(folders map[string][]string) *house {
	h := &house{map[string][]string{}, map[string]int{}}
	room := func(folder string) string {
		if within(folder, "geom/bench") {
			return "geom/bench"
		}
		return folder
	}
	used := map[string]bool{"cmd/starwright": true}
	for folder, list := range folders {
		for _, i := range list {
			used[i] = used[i] || room(i) != room(folder)
		}
	}
	for folder, list := range folders {
		if !used[folder] && room(folder) == folder && (within(folder, "cmd/internal") || strings.HasSuffix(folder, "test")) {
			continue
		}
		r := room(folder)
		h.imports[r] = append(h.imports[r], []string{}...)
		for _, i := range list {
			if i = room(i); i != "" && i != r && !slices.Contains(h.imports[r], i) {
				h.imports[r] = append(h.imports[r], i)
			}
		}
	}
	for r := range h.imports {
		if len(h.imports[r]) == 0 && !used[r] {
			delete(h.imports, r) // a page of documentation
		}
	}
	for r := range h.imports {
		h.height(r)
	}
	return h
}

// height works out the level of a room: one above the highest that it imports.
func (h *house) height(r string) int {
	if l, ok := h.level[r]; ok {
		return l
	}
	l := 0
	for _, i := range h.imports[r] {
		l = max(l, h.height(i)+1)
	}
	h.level[r] = l
	return l
}

// reaches reports whether a room imports another, or one that reaches it.
func (h *house) reaches(from, to string) bool {
	return slices.ContainsFunc(h.imports[from], func(i string) bool { return i == to || h.reaches(i, to) })
}

// Sizes of the picture, in pixels.
const (
	roomW, roomH, roomGap = 150, 24, 12
	laneStep, margin      = 235, 20
)

// picture draws the house: a lane for each of the four folders, the arrows from a
// room to those it imports, without those that follow from others.
func (h *house) picture() []byte {
	lanes := []string{"geom", "toolpath", "post", "cmd"}
	type place struct{ x, y int }
	at := map[string]place{}
	lane := func(r string) int { return slices.Index(lanes, strings.SplitN(r, "/", 2)[0]) }
	tall := 0
	for i := range lanes {
		var rooms []string
		for r := range h.imports {
			if lane(r) == i {
				rooms = append(rooms, r)
			}
		}
		slices.SortFunc(rooms, func(a, b string) int {
			if d := h.level[b] - h.level[a]; d != 0 {
				return d
			}
			return strings.Compare(a, b)
		})
		for k, r := range rooms {
			at[r] = place{margin + i*laneStep, 2*margin + 12 + k*(roomH+roomGap)}
			tall = max(tall, at[r].y+roomH)
		}
	}
	var b bytes.Buffer
	w, height := 4*margin+(len(lanes)-1)*laneStep+roomW, tall+4*margin
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="%d" viewBox="0 0 %d %d" font-family="sans-serif" font-size="12">`+"\n", w, height, w, height)
	b.WriteString("<title>Who imports whom</title>\n<defs><marker id=\"tip\" viewBox=\"0 0 8 8\" refX=\"8\" refY=\"4\" markerWidth=\"6\" markerHeight=\"6\" orient=\"auto\"><path d=\"M0 0L8 4L0 8Z\" fill=\"#777\"/></marker></defs>\n")
	fmt.Fprintf(&b, `<rect width="%d" height="%d" fill="#fff"/>`+"\n", w, height)
	for i, l := range lanes {
		fmt.Fprintf(&b, `<text x="%d" y="%d" font-weight="bold">%s</text>`+"\n", margin+i*laneStep, margin+8, l)
	}
	names := slices.Sorted(maps.Keys(h.imports))
	b.WriteString("<g fill=\"none\" stroke=\"#777\" marker-end=\"url(#tip)\">\n")
	for _, r := range names {
		for _, i := range slices.Sorted(slices.Values(h.imports[r])) {
			if slices.ContainsFunc(h.imports[r], func(o string) bool { return o != i && h.reaches(o, i) }) {
				continue
			}
			p, q := at[r], at[i]
			y1, y2 := p.y+roomH/2, q.y+roomH/2
			if lane(r) == lane(i) {
				out := p.x + roomW + 10 + 4*abs(y1-y2)/roomH
				fmt.Fprintf(&b, "<path d=\"M%d %dC%d %d %d %d %d %d\"/>\n", p.x+roomW, y1, out, y1, out, y2, q.x+roomW, y2)
				continue
			}
			fmt.Fprintf(&b, "<path d=\"M%d %dC%d %d %d %d %d %d\"/>\n", p.x, y1, p.x-40, y1, q.x+roomW+40, y2, q.x+roomW, y2)
		}
	}
	b.WriteString("</g>\n")
	for _, r := range names {
		fill := "#f4f4f4"
		switch {
		case slices.Contains(makes, r):
			fill = "#d7ecd9"
		case slices.Contains(proves, r):
			fill = "#f8d9d6"
		}
		p := at[r]
		fmt.Fprintf(&b, `<rect x="%d" y="%d" width="%d" height="%d" rx="4" fill="%s" stroke="#555"/><text x="%d" y="%d">%s</text>`+"\n",
			p.x, p.y, roomW, roomH, fill, p.x+8, p.y+16, strings.TrimPrefix(strings.TrimPrefix(r, "cmd/internal/"), lanes[lane(r)]+"/"))
	}
	for i, s := range []string{
		"An arrow leads from a package to one that it imports; those that follow from others are left out.",
		"Green makes files, red proves them: no way leads from red to green.",
	} {
		fmt.Fprintf(&b, `<text x="%d" y="%d">%s</text>`+"\n", margin, tall+2*margin+i*18, s)
	}
	b.WriteString("</svg>\n")
	return b.Bytes()
}

func abs(n int) int { return max(n, -n) }

// Each row of the table that follows a board's width through the code names a file,
// and something that stands in it.
func TestWayOfAWidth(t *testing.T) {
	page, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	_, way, ok := strings.Cut(string(page), "### The way of a board's width")
	way, _, ok2 := strings.Cut(way, "\n### ")
	if !ok || !ok2 {
		t.Fatal("DEVELOPERS.md has no way of a board's width")
	}
	rows := regexp.MustCompile("(?m)^\\| `([^`]+)` \\| `([^`]+)` \\|").FindAllStringSubmatch(way, -1)
	if len(rows) < 12 {
		t.Errorf("%d rows", len(rows))
	}
	for _, r := range rows {
		code, err := os.ReadFile(filepath.Join("../..", r[1]))
		if err != nil || !regexp.MustCompile(`\b`+r[2]+`\b`).Match(code) {
			t.Errorf("%s: no %s in it any more (%v)", r[1], r[2], err)
		}
	}
}
