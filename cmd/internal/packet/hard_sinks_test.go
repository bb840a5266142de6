package packet

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"starwright/toolpath"
)

// hostileWords holds what no file and no terminal may get to see raw: a
// terminal's commands in one byte and in two, signs that turn the direction of
// writing, ends of comments of every format, and what some controllers obey
// even within a comment.
const hostileWords = "\x1b]0;WORDS\x07\x1b[2J\u009b31m\u202eWORDS\u2066\u200b\ufeff \x00\x08\x7f\xff" +
	") G0 X999\nM3 S1\r\nG1 ! ~ ? ; % %%u^M \u2028 --> </script><script>WORDS</script> ]]> \\\" 0\nEOF\n"

// Words from outside are made harmless in every file of a packet, whichever
// way they come in: the packet still passes, for a command that got out of its
// comment would cut.
func TestHostileWordsInEveryFile(t *testing.T) {
	w, errs := load("job.toml", []byte(smallJob))
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	w.Job.Title, w.Job.Date, w.Job.Wood.Species = hostileWords, hostileWords, hostileWords
	for i := range w.Drawings {
		d := &w.Drawings[i]
		d.Use, d.Want.Name = hostileWords, hostileWords
		d.Want.Comments = append(d.Want.Comments, hostileWords)
	}
	for i := range w.Programs {
		p := &w.Programs[i]
		p.Use = hostileWords
		p.Plan.Header = append(p.Plan.Header, hostileWords)
		p.Plan.Steps = append([]toolpath.Step{toolpath.Remark(hostileWords)}, p.Plan.Steps...)
	}
	dir := filepath.Join(t.TempDir(), "packet")
	m, err := Make(t.Context(), w, dir, false)
	if err != nil {
		t.Fatal(err)
	}
	if !m.Released {
		for _, p := range m.Proofs {
			t.Error(p.Findings)
		}
	}
	kinds := map[string]int{}
	err = filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		kinds[filepath.Ext(path)]++
		if why := unsafeContent(filepath.Ext(path), data); why != "" {
			t.Errorf("%s: %s", d.Name(), why)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if kinds[".nc"] == 0 || kinds[".dxf"] == 0 || kinds[".json"] == 0 || kinds[".svg"] == 0 {
		t.Errorf("looked at %v", kinds)
	}
	t.Logf("files looked at: %v", kinds)
}

// unsafeContent says what in a file a terminal, a viewer or a machine would
// obey.
func unsafeContent(ext string, data []byte) string {
	switch ext {
	case ".nc", ".dxf":
		for _, c := range data {
			if c != '\n' && c != '\r' && (c < ' ' || c > '~') {
				return "a byte that is not printable ASCII"
			}
		}
		if ext == ".nc" && bytes.ContainsAny(data, "!?~;%") {
			return "a sign that some controllers obey"
		}
		if ext == ".dxf" {
			return unsafeTexts(data)
		}
	case ".pdf":
		return unsafePDF(data)
	case ".png":
		return rawWords(data)
	default:
		if !utf8.Valid(data) {
			return "not UTF-8"
		}
		for _, r := range string(data) {
			if r != '\n' && r != '\t' && !unicode.IsPrint(r) {
				return fmt.Sprintf("a sign that does not print: %U", r)
			}
		}
		if (ext == ".html" || ext == ".svg") && strings.Contains(string(data), "<script>WORDS") {
			return "a script of somebody else's"
		}
	}
	return ""
}

// unsafeTexts looks for control codes in a DXF's texts; comments have none.
func unsafeTexts(data []byte) string {
	lines := strings.Split(strings.ReplaceAll(string(data), "\r", ""), "\n")
	for i := 0; i+1 < len(lines); i += 2 {
		if strings.TrimSpace(lines[i]) == "1" && (strings.Contains(lines[i+1], "%%") || strings.Contains(lines[i+1], "^M")) {
			return "a control code in a text"
		}
	}
	return ""
}

// rawWords looks for the words with their commands about them.
func rawWords(data []byte) string {
	for _, s := range []string{"\x1b]0;", "\u202eWORDS", "\u009b31m", "\x1b[2J"} {
		if bytes.Contains(data, []byte(s)) {
			return "the words as they came"
		}
	}
	return ""
}

// unsafePDF looks into a PDF's streams too.
func unsafePDF(data []byte) string {
	if why := rawWords(data); why != "" {
		return why
	}
	for rest := data; ; {
		i := bytes.Index(rest, []byte("stream\n"))
		if i < 0 {
			return ""
		}
		rest = rest[i+len("stream\n"):]
		z, err := zlib.NewReader(bytes.NewReader(rest))
		if err != nil {
			continue
		}
		plain, _ := io.ReadAll(io.LimitReader(z, 10<<20))
		if why := rawWords(plain); why != "" {
			return why + " in a stream"
		}
	}
}

// What a file holds reaches a finding, and so a terminal, as plain text only.
func TestHostileWordsInFindings(t *testing.T) {
	dir := made(t, smallJob)
	comment := "(" + strings.NewReplacer("\n", "", "\r", "").Replace(hostileWords) + "\n"
	for _, name := range []string{"gcode/slot-left.nc", "dxf/segment.dxf", "svg/star.svg"} {
		full := filepath.Join(dir, name)
		data, err := os.ReadFile(full)
		if err != nil {
			t.Fatal(err)
		}
		bad := comment + "G1 X1 \x1b[2J\u202e\n" + "  0\nPOLYLINE\n  8\n\x1b[2J\u202eWORDS\n 66\n1\n  0\n\x1b]0;WORDS\x07\n"
		if strings.HasSuffix(name, ".svg") {
			bad = ""
			data = bytes.Replace(data, []byte("<path "), []byte("<path \u202ea='\u202eWORDS\u200b' fill='\u009b31m' c='&#x9;'/><\u202f>\x7f</\u202f><b\u00ad/>\u2028<path "), 1)
		}
		if err := os.WriteFile(full, append([]byte(bad), data...), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	c, err := Check(dir, Asked{})
	if err != nil {
		t.Fatal(err)
	}
	looked := 0
	for _, p := range c.Proofs {
		for _, f := range append(p.Findings, p.Notes...) {
			looked++
			for _, r := range f.String() {
				if !unicode.IsPrint(r) {
					t.Errorf("%q", f.String())
					break
				}
			}
		}
	}
	if looked < 5 {
		t.Errorf("only %d findings", looked)
	}
}

// A job cannot bring such words in at all: they are an error at their line.
func TestHostileTitleIsRefused(t *testing.T) {
	for name, title := range map[string]string{
		"escape": `\u001b[2J`, "one-byte command": `\u009b31m`, "turned writing": `\u202eabc`, "no width": `a\u200bb`,
		"line end": `a\nb`, "nothing": `a\u0000b`, "delete": `\u007f`, "private": `\ue000`,
	} {
		_, errs := load("job.toml", []byte("title = \""+title+"\"\n"+smallJob))
		if len(errs) != 1 || !strings.Contains(errs[0].Error(), "title") || strings.ContainsFunc(errs[0].Error(), func(r rune) bool { return !unicode.IsPrint(r) }) {
			t.Errorf("%s: %v", name, errs)
		}
	}
	// What people do write is let through.
	for _, title := range []string{"Sterne für Großmutter", "étoiles d’hiver (2)", "звёзды", "星", "100 % cedar; 5 pcs!"} {
		if _, errs := load("job.toml", []byte("title = \""+title+"\"\n"+smallJob)); len(errs) > 0 {
			t.Errorf("%s: %v", title, errs)
		}
	}
}
