package svgread_test

import (
	"strings"
	"testing"

	"starwright/post/cut/cuttest"

	"starwright/post/outline"
)

func TestSoundDrawingHasNoFindings(t *testing.T) {
	f := parse(t, written(t, plate()))
	if fs := outline.Judge(f); len(fs) > 0 || f.UnitMM != 1 {
		t.Errorf("unit %v: %s", f.UnitMM, cuttest.All(fs))
	}
}

// edit changes a sound file in one way: the first place of old becomes new, in
// the group of a layer where one is named.
type edit struct{ name, layer, old, new string }

func (e edit) of(t *testing.T, src string) string {
	from := strings.Index(src, `<g id="`+e.layer)
	if e.layer == "" {
		from = 0
	}
	if from < 0 {
		t.Fatalf("no layer %s", e.layer)
	}
	return src[:from] + cuttest.First(t, src[from:], e.old, e.new)
}

// Each row spoils the sound file in one way. What must be found follows from the
// terms of the packet for drawings that are cut, and where a clause is named from
// SVG 1.1.
func TestJudge(t *testing.T) {
	const path = `<path d="M `
	inHole := func(s string) string { return s + "\n" + path }
	tests := []struct {
		edit
		rule string // of the first finding
		what string // part of it, In wood included
	}{
		{edit{"size in pixels", "", `width="144mm"`, `width="144"`}, "unit", "write both in millimetres"},
		{edit{"size in inches", "", `width="144mm"`, `width="5.669in"`}, "unit", "write both in millimetres"},
		{edit{"size 25.4 times too large", "", `width="144mm" height="56mm"`, `width="3657.6mm" height="1422.4mm"`}, "unit", "a user unit is 25.4 mm"},
		{edit{"size stretched", "", `height="56mm"`, `height="57mm"`}, "scale", "1 mm wide and 1.01786 mm high"},
		{edit{"no view box", "", ` viewBox="-2 -42 144 56"`, ``}, "unit", "the view box is \"\""},
		{edit{"page shifted", "", `viewBox="-2 -42`, `viewBox="-2.01 -42`}, "extents", "1.990 mm on one side of what is drawn and 2.010 mm"},
		{edit{"page too narrow", "", `width="144mm" height="56mm" viewBox="-2 -42 144`, `width="141mm" height="56mm" viewBox="-2 -42 141`}, "extents", "1.000 mm beyond the page"},
		{edit{"left alone by preserveAspectRatio", "", `version="1.1"`, `version="1.1" preserveAspectRatio="none"`}, "attribute", "preserveAspectRatio"},
		{edit{"no name space", "", ` xmlns="http://www.w3.org/2000/svg"`, ``}, "structure", "no SVG"},
		{edit{"moved layer", "OUTLINE", `fill=`, `transform="translate(1 0)" fill=`}, "attribute", "transform"},
		{edit{"moved path", "HOLE", `<path d`, `<path transform="scale(-1 1)" d`}, "attribute", "transform"},
		{edit{"moved text", "TEXT", `rotate(-90 60 -5)`, `translate(90 5)`}, "attribute", "the words may stand on another part"},
		{edit{"text turned about another place", "TEXT", `rotate(-90 60 -5)`, `rotate(-90 80 -5)`}, "attribute", "turned about its own place"},
		{edit{"layer hidden", "HOLE", `fill=`, `display="none" fill=`}, "attribute", "display"},
		{edit{"path hidden", "OUTLINE", `<path d`, `<path visibility="hidden" d`}, "attribute", "visibility"},
		{edit{"styled", "OUTLINE", `<path d`, `<path style="display:none" d`}, "attribute", "style"},
		{edit{"dashed", "OUTLINE", `fill=`, `stroke-dasharray="1 1" fill=`}, "attribute", "stroke-dasharray"},
		{edit{"not drawn", "HOLE", `stroke="#1e88e5"`, `stroke="none"`}, "hidden", "nothing is cut here"},
		{edit{"without stroke", "HOLE", ` stroke="#1e88e5"`, ``}, "hidden", "nothing is cut here"},
		{edit{"of no width", "HOLE", `stroke-width="0.01"`, `stroke-width="0"`}, "hidden", "stroke-width 0"},
		{edit{"broad", "OUTLINE", `stroke-width="0.01"`, `stroke-width="1"`}, "flat", "burn a strip"},
		{edit{"as broad as without a word", "OUTLINE", ` stroke-width="0.01"`, ``}, "flat", "the outline is 1.000 mm wide"},
		{edit{"filled", "OUTLINE", `fill="none"`, `fill="#d81b60"`}, "filled", "engrave the whole area"},
		{edit{"filled where nothing is said", "OUTLINE", ` fill="none"`, ``}, "filled", "#000000"}, // 11.3: the initial fill is black
		{edit{"guide in the colour of outlines", "GUIDE", `stroke="#2e7d32"`, `stroke="#D81B60"`}, "colour", "OUTLINE and GUIDE have the same colour #d81b60"},
		{edit{"words in the colour of holes", "TEXT", `fill="#757575"`, `fill="#1e88e5"`}, "colour", "HOLE and TEXT have the same colour"},
		{edit{"colour by name", "OUTLINE", `stroke="#d81b60"`, `stroke="crimson"`}, "colour", "write a colour as #rrggbb"},
		{edit{"layer renamed", "HOLE", `id="HOLE"`, `id="HOLES"`}, "layer", `a path on layer ""`},
		{edit{"layer twice", "OUTLINE", `id="OUTLINE"`, `id="HOLE"`}, "layer", "a second layer HOLE"},
		{edit{"layer in a layer", "OUTLINE", `<path`, `<g id="GUIDE"/><path`}, "layer", "GUIDE lies within the layer OUTLINE"},
		{edit{"open", "OUTLINE", "\nZ", ""}, "open", "without the letter Z: from its last vertex to its first it is 40.000 mm"},
		{edit{"curve", "OUTLINE", "\nL 0 -40", "\nC 40 -40 20 -44 0 -40"}, "curve", "one program cuts the curve"},
		{edit{"arc of an ellipse", "HOLE", "A 3 3", "A 3 3.5"}, "curve", "an arc of an ellipse"},
		{edit{"arc of a radius below 0", "HOLE", "A 3 3", "A -3 -3"}, "curve", "one program drops the sign"},
		{edit{"arc that does not reach", "HOLE", "A 3 3", "A 1 1"}, "curve", "half circle here, another nothing"},
		{edit{"numbers run together", "OUTLINE", "L 80 0", "L 80-0"}, "number", "2 numbers are wanted"},
		{edit{"number with a comma", "OUTLINE", "L 80 0", "L 80,5 0"}, "number", "2 numbers are wanted"},
		{edit{"number left out", "OUTLINE", "L 80 0", "L 80"}, "number", "2 numbers are wanted"},
		{edit{"not a number", "OUTLINE", "L 80 0", "L NaN 0"}, "number", "2 numbers are wanted"},
		{edit{"number out of all bounds", "OUTLINE", "L 80 0", "L 1e300 0"}, "number", "2 numbers are wanted"},
		{edit{"no command", "OUTLINE", "L 80 0", "B 80 0"}, "structure", "no command of a path"},
		{edit{"nothing in a path", "OUTLINE", `<path d="M`, `<path d=""/><path d="M`}, "structure", "a path without data"},
		{edit{"path without d", "OUTLINE", `<path d="M`, `<path/><path d="M`}, "structure", "a path without data"},
		{edit{"reference in a path", "OUTLINE", "L 80 0", "L&#32;80 0"}, "structure", "a reference (&)"},
		{edit{"text of no place", "GUIDE", `<text x="1"`, `<text x=""`}, "number", "no number"},
		{edit{"rectangle on a cut layer", "HOLE", path, inHole(`<rect x="15" y="-15" width="1" height="1"/>`)}, "stray", "a rect on HOLE"},
		{edit{"circle on a cut layer", "HOLE", path, inHole(`<circle cx="15" cy="-15" r="1"/>`)}, "stray", "a circle on HOLE"},
		{edit{"line on a cut layer", "HOLE", path, inHole(`<line x1="15" y1="-15" x2="16" y2="-15"/>`)}, "stray", "not part of any closed outline"},
		{edit{"words on a cut layer", "HOLE", path, inHole(`<text x="15" y="-15">words</text>`)}, "stray", "letters are cut through"},
		{edit{"outside of all layers", "", "<g id=", `<path fill="none" d="M 0 0 L 1 0 L 1 1 Z"/><g id=`}, "layer", `on layer ""`},
		{edit{"copy of a path", "GUIDE", "<line", `<use href="#a"/><line`}, "entity", "<use>"},
		{edit{"picture", "TEXT", "<text", `<image href="a.png"/><text`}, "entity", "<image>"},
		{edit{"style sheet", "", "<g id=", "<style>path{display:none}</style><g id="}, "entity", "<style>"},
		{edit{"script", "", "<g id=", "<script>1</script><g id="}, "entity", "<script>"},
		{edit{"drawing in the drawing", "", "<g id=", `<svg x="5"/><g id=`}, "entity", "<svg>"},
		{edit{"definitions", "", "<g id=", `<defs><path id="a" d="M 0 0 L 1 1"/></defs><g id=`}, "entity", "<defs>"},
		{edit{"link", "OUTLINE", path, "<a><path d=\"M 0 0\"/></a>" + path}, "entity", "<a>"},
		{edit{"path in a path", "OUTLINE", "Z\"/>\n<path d=\"M 110 0\nL 140 0\nL 125 -30\nZ\"/>", "Z\">\n<path d=\"M 110 0\nL 140 0\nL 125 -30\nZ\"/></path>"}, "entity", "<path> within <path>"},
		{edit{"layer in a text", "TEXT", ">plate<", "><g id=\"CUT\"/>plate<"}, "entity", "<g> within <text>"},
		{edit{"document type", "", "<svg", `<!DOCTYPE svg><svg`}, "entity", "a document type"},
		{edit{"style sheet from outside", "", "<svg", `<?xml-stylesheet href="a.css"?><svg`}, "entity", "an instruction for other programs"},
		{edit{"attribute twice", "OUTLINE", `<path d`, `<path d="M 0 0" d`}, "structure", "attribute d stands twice"},
		{edit{"letters between elements", "OUTLINE", "<path", "L 80 0<path"}, "structure", "letters outside of a text"},
		{edit{"end lost", "", "</svg>", ""}, "structure", "no XML"},
		{edit{"end of a layer lost", "OUTLINE", "</g>", ""}, "structure", "no XML"},
		{edit{"quote lost", "OUTLINE", `Z"`, "Z"}, "structure", "no XML"},
		{edit{"another drawing behind", "", "</svg>", "</svg><svg/>"}, "structure", "there is more after </svg>"},
		{edit{"another encoding", "", `"UTF-8"`, `"UTF-16"`}, "structure", "no XML"},
		{edit{"entity of nowhere", "TEXT", "plate", "&plate;"}, "structure", "no XML"},
		{edit{"check bar too short", "GUIDE", `x2="100"`, `x2="99.95"`}, "check-bar", "measures 99.950 mm"},
		{edit{"vertex repeated", "OUTLINE", "L 80 0", "L 80 0\nL 80 0"}, "repeated-vertex", "repeats vertex"},
		{edit{"drawn twice", "OUTLINE", `<path d="M 110 0`, "<path d=\"M 110 0\nL 140 0\nL 125 -30\nZ\"/>\n" + `<path d="M 110 0`}, "duplicate", "drawn a second time"},
		{edit{"a second outline in one path", "HOLE", `Z"/>`, `Z M 1 -1 L 2 -1 L 2 -2"/>`}, "open", "without the letter Z"},
		{edit{"on after Z", "OUTLINE", "\nZ", "\nZ L 5 -5"}, "structure", "every contour begins with M"},
	}
	src := written(t, plate())
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := parse(t, tt.of(t, src))
			fs := outline.Judge(f)
			if len(fs) == 0 {
				t.Fatal("nothing found")
			}
			if s := fs[0].String(); fs[0].Rule != tt.rule || !strings.Contains(s, tt.what) {
				t.Errorf("found %s: %s\nwant %s with %q", fs[0].Rule, s, tt.rule, tt.what)
			}
		})
	}
}

// What other programs write of the same drawing is not complained of, and reads
// as the same.
func TestHarmlessChangesPass(t *testing.T) {
	src := written(t, plate())
	for name, s := range map[string]string{
		"comments":                       strings.ReplaceAll(src, "<path", "<!-- a part --><path"),
		"no declaration":                 src[strings.Index(src, "<svg"):],
		"byte order mark":                "\ufeff" + src[strings.Index(src, "<svg"):],
		"line ends of DOS":               strings.ReplaceAll(src, "\n", "\r\n"),
		"one line":                       strings.ReplaceAll(src, "\n", " "),
		"indented":                       strings.ReplaceAll(src, "\n<", "\n    <"),
		"single quotes":                  strings.ReplaceAll(src, `"`, `'`),
		"small layer names":              strings.NewReplacer(`id="OUTLINE"`, `id="outline"`, `id="HOLE"`, `id="Hole"`, `id="GUIDE"`, `id="guide"`).Replace(src),
		"commas":                         strings.ReplaceAll(src, "L 80 0", "L 80,0"),
		"zeros and signs":                strings.ReplaceAll(src, "L 80 0", "L +80.000 -0.0"),
		"exponents":                      strings.ReplaceAll(src, "L 80 0", "L 8e1 0E0"),
		"H and V":                        cuttest.First(t, cuttest.First(t, src, "M 0 0\nL 80 0", "M 0 0\nH 80"), "L 0 -40", "H 0"),
		"relative":                       cuttest.First(t, src, "M 110 0\nL 140 0\nL 125 -30\nZ", "m 110 0\nl 30 0\nl -15 -30\nz"),
		"relative, letters left out":     cuttest.First(t, src, "M 110 0\nL 140 0\nL 125 -30\nZ", "m110,0 30,0 -15,-30z"),
		"closed onto its first place":    cuttest.First(t, src, "L 125 -30\nZ", "L 125 -30\nL 110 0\nZ"),
		"two parts in one path":          cuttest.First(t, src, "Z\"/>\n<path d=\"M 110 0", "Z\nM 110 0"),
		"groups in layers":               cuttest.First(t, src, "<path d=\"M 110 0\nL 140 0\nL 125 -30\nZ\"/>", "<g><g id=\"part-2\"><path d=\"M 110 0\nL 140 0\nL 125 -30\nZ\"/></g></g>"),
		"a layer around the layers":      strings.Replace(strings.Replace(src, "<g id=", "<g id=\"all\"><g id=", 1), "</svg>", "</g></svg>", 1),
		"notes of other programs":        cuttest.First(t, cuttest.First(t, src, "<svg ", `<svg xmlns:n="urn:notes" n:zoom="2" `), "<g id=", `<n:view a="1"><n:b/>words</n:view><g n:lock="1" id=`),
		"metadata":                       cuttest.First(t, src, "<g id=", "<metadata><a/>words</metadata><g id="),
		"ids and classes":                strings.ReplaceAll(src, "<path d", `<path id="a" class="b" data-c="d" d`),
		"round ends":                     strings.ReplaceAll(src, `fill="none"`, `fill="none" stroke-linejoin="round" stroke-linecap="round"`),
		"words in parts":                 cuttest.First(t, src, ">plate<", "><tspan x=\"5\" y=\"-30\">pla</tspan>te<"),
		"guide as a path":                cuttest.First(t, src, `<line x1="0" y1="-25" x2="70" y2="-25"/>`, `<path d="M 0 -25 L 70 -25"/>`),
		"other title":                    cuttest.First(t, src, "Test plate", "another"),
		"a rectangle on the guide layer": cuttest.First(t, src, `<line x1="0" y1="-25"`, `<rect x="1" y="-2" width="1" height="1"/><line x1="0" y1="-25"`),
	} {
		t.Run(name, func(t *testing.T) {
			f := parse(t, s)
			if fs := outline.Judge(f); len(fs) > 0 {
				t.Errorf("%s", cuttest.All(fs))
			}
			if r := outline.Compare(f, plate(), cuttest.Tolerance); len(r.Findings) > 0 || r.Contours != 4 || r.Lines != 4 {
				t.Errorf("%d contours, %d lines: %s", r.Contours, r.Lines, cuttest.All(r.Findings))
			}
			if len(f.Texts) != 3 || f.Texts[1].Text != "plate" || f.Texts[2].Text != "up & away" {
				t.Errorf("texts %+v", f.Texts)
			}
		})
	}
}

// The line that a finding names is that of the vertex or element at fault.
func TestFindingsNameTheLine(t *testing.T) {
	src := cuttest.Swap(t, written(t, plate()), "L 125 -30", "L 125 -30.1")
	r := outline.Compare(parse(t, src), plate(), cuttest.Tolerance)
	if len(r.Findings) != 1 {
		t.Fatal(cuttest.All(r.Findings))
	}
	if f := r.Findings[0]; f.Line != cuttest.LineOf(t, src, "L 125 -30.1") || f.Block != "125 -30.1" || f.At.Y != 30.1 {
		t.Errorf("line %d [%s] at %v, want line %d", f.Line, f.Block, f.At, cuttest.LineOf(t, src, "L 125 -30.1"))
	}
	// Where the arc was divided the vertices are others than those wanted.
	src = cuttest.Swap(t, written(t, plate()), "L 0 -40", "L 0 -40.5")
	r = outline.Compare(parse(t, src), plate(), cuttest.Tolerance)
	if len(r.Findings) != 1 || r.Findings[0].Line != cuttest.LineOf(t, src, "L 0 -40.5") {
		t.Errorf("want line %d: %s", cuttest.LineOf(t, src, "L 0 -40.5"), cuttest.All(r.Findings))
	}
	src = cuttest.Swap(t, written(t, plate()), "<g id=\"GUIDE\"", "<g id=\"GUIDE\" style=\"a\"")
	if fs := outline.Judge(parse(t, src)); fs[0].Line != cuttest.LineOf(t, src, `<g id="GUIDE"`) {
		t.Errorf("want line %d: %s", cuttest.LineOf(t, src, `<g id="GUIDE"`), cuttest.All(fs))
	}
}
