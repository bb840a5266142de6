package packet

import (
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// smallJob is a job whose packet is made in a moment.
const smallJob = "[star]\nboard_width = \"100 mm\"\n[jigs]\nmake = []\n"

// made makes the packet of a job in a new folder.
func made(t testing.TB, source string) string {
	t.Helper()
	w, errs := load("job.toml", []byte(source))
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	dir := filepath.Join(t.TempDir(), "packet")
	m, err := Make(t.Context(), w, dir, false)
	if err != nil {
		t.Fatal(err)
	}
	if !m.Released {
		t.Fatal("not released")
	}
	return dir
}

func TestPathFault(t *testing.T) {
	for _, c := range []struct{ path, fault string }{
		{"dxf/segment.dxf", ""},
		{"gcode/jigs-12.nc", ""},
		{"operator.txt", ""},
		{"pictures/Star_2.svg", ""},
		{"console.txt", ""},
		{"com10.txt", ""},
		{"a..b/c", ""},
		{"", "letters"},
		{strings.Repeat("a", 201), "letters"},
		{"..", "outside"},
		{"../x", "outside"},
		{"a/../../x", "outside"},
		{"a/../x", "outside"},
		{"./x", "outside"},
		{"/etc/passwd", "outside"},
		{"//x", "outside"},
		{"a//b", "outside"},
		{"a/", "outside"},
		{".", "outside"},
		{`a\b`, "sign"},
		{`..\x`, "sign"},
		{"C:/x", "sign"},
		{"a\x00b", "sign"},
		{"a\nb", "sign"},
		{"a\x1b[2Jb", "sign"},
		{"a b", "sign"},
		{"fac\u0327ade.dxf", "sign"},    // decomposed
		{"fa\u00e7ade.dxf", "sign"},     // composed: the same name to some systems
		{"\u202etxt.nc", "sign"},        // turns the direction of writing
		{"seg\u200bment.dxf", "sign"},   // no width
		{"\uff0e\uff0e/x", "sign"},      // full-width dots
		{"a\xffb", "sign"},              // no UTF-8
		{"dxf/x.dxf:stream", "sign"},    // a second stream of a file on some systems
		{"dxf/segment.dxf.", "dot"},     // dropped on some systems
		{"dxf./segment.dxf", "dot"},     //
		{"CON", "device"},               // Microsoft, "Naming Files, Paths, and Namespaces"
		{"dxf/nul.dxf", "device"},       //
		{"aux.tar.gz", "device"},        //
		{"Prn/x", "device"},             //
		{"com1", "device"},              //
		{"lpt9.txt", "device"},          //
		{"COM0", "device"},              //
		{"-rf", "option"},               //
		{"dxf/--force", "option"},       //
		{"~root/x", "sign"},             //
		{"$HOME/x", "sign"},             //
		{"dxf/*.dxf", "sign"},           //
		{"dxf/segment.dxf?raw", "sign"}, //
	} {
		if got := pathFault(c.path); (got == "") != (c.fault == "") || !strings.Contains(got, c.fault) {
			t.Errorf("%q: %q, want %q", c.path, got, c.fault)
		}
	}
}

// The manifest of an earlier version is read; those of later ones and what is
// none are refused with a reason.
func TestManifestFormats(t *testing.T) {
	old, err := os.ReadFile("testdata/manifest-format-1.json")
	if err != nil {
		t.Fatal(err)
	}
	m, err := decodeManifest(old)
	if err != nil || len(m.Files) != 2 || m.Files[0].Path != "dxf/segment.dxf" || m.edited(old) {
		t.Errorf("format 1 read as %+v, %v", m, err)
	}
	for name, c := range map[string]struct{ json, why string }{
		"later":           {`{"format": 3, "files": {"a": "something else"}}`, "has format 3, and starwright " + Version() + " reads formats 1 to 2"},
		"never":           {`{"format": 0}`, "has format 0, which never was"},
		"none":            {`{"files": []}`, "no format number"},
		"a list":          {`[]`, "cannot be read"},
		"a word":          {`{"format": "two"}`, "cannot be read"},
		"beyond numbers":  {`{"format": 1e99}`, "cannot be read"},
		"half":            {`{"format": 2, "files": [`, "cannot be read"},
		"nothing":         {``, "cannot be read"},
		"text":            {`Feed was too fast.`, "cannot be read"},
		"deep":            {strings.Repeat("[", 100_000), "cannot be read"},
		"twice":           {`{"format": 2, "files": [{"path": "a"}, {"path": "A"}]}`, "one file on some systems"},
		"the job":         {`{"format": 2, "files": [{"path": "Job.toml"}]}`, "one file on some systems"},
		"itself":          {`{"format": 2, "files": [{"path": "manifest.json"}]}`, "one file on some systems"},
		"outside":         {`{"format": 2, "files": [{"path": "../../x"}]}`, `names the file "../../x": this lies outside`},
		"control letters": {`{"format": 2, "files": [{"path": "a\u001b[2J"}]}`, `names the file "a\x1b[2J": this has a sign`},
		"many values":     {`{"format": 2, "files": [` + strings.Repeat("{},", 400_000) + `{}]}`, "has 400001 values"},
		"many":            {`{"format": 2, "files": [` + strings.Repeat("{},", 5000) + `{}]}`, "names 5001 files"},
	} {
		_, err := decodeManifest([]byte(c.json))
		var is *ManifestError
		if !errors.As(err, &is) || !strings.Contains(err.Error(), c.why) || strings.ContainsAny(err.Error(), "\n\x1b") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Every change of a byte of a manifest is seen, or makes it unreadable.
func TestManifestKnowsItself(t *testing.T) {
	dir := made(t, smallJob)
	name := filepath.Join(dir, ManifestName)
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if m, err := decodeManifest(data); err != nil || m.edited(data) {
		t.Fatalf("as made: %v, edited %v", err, m.edited(data))
	}
	seen := 0
	for at := 0; at < len(data); at += 7 {
		changed := append([]byte{}, data...)
		changed[at] ^= 1
		m, err := decodeManifest(changed)
		if err == nil && !m.edited(changed) && m.Format != 1 {
			t.Errorf("byte %d changed and not seen", at)
		}
		seen++
	}
	t.Logf("%d changes of a byte seen", seen)
}

// Whatever stands in the place of a packet's file, it is not read unless it is
// a file of the packet itself.
func TestFolderReadsNoOther(t *testing.T) {
	top := t.TempDir()
	dir := filepath.Join(top, "packet")
	secret := filepath.Join(top, "secret")
	for _, d := range []string{filepath.Join(dir, "sub"), secret} {
		if err := os.MkdirAll(d, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	for _, f := range []string{filepath.Join(dir, "sub", "own"), filepath.Join(secret, "x")} {
		if err := os.WriteFile(f, []byte("words"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for link, to := range map[string]string{
		"file": "../secret/x", "whole": filepath.Join(secret, "x"), "dir": "../secret", "inside": "sub/own",
		"loop": "loop", "nowhere": "none", "null": "/dev/null", "zero": "/dev/zero",
	} {
		if err := os.Symlink(to, filepath.Join(dir, link)); err != nil {
			t.Fatal(err)
		}
	}
	f, err := openFolder(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer f.close()
	if data, err := f.read("sub/own", 100); err != nil || string(data) != "words" {
		t.Errorf("its own file: %q, %v", data, err)
	}
	for _, p := range []string{"file", "whole", "dir/x", "inside", "loop", "null", "zero", "nowhere", "sub", "sub/own/x", "../secret/x", secret + "/x"} {
		if data, err := f.read(p, 100); odd(err) == "" {
			t.Errorf("%s: %q, %v", p, data, err)
		}
	}
	if _, err := f.read("none/x", 100); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a file that is missing: %v", err)
	}
	if _, err := f.read("sub/own", 4); odd(err) == "" {
		t.Errorf("a file too large: %v", err)
	}
}

// FuzzManifest: no bytes make the reader fail, and what it lets through names
// files within the packet only, each once, and says so again when written.
func FuzzManifest(f *testing.F) {
	old, err := os.ReadFile("testdata/manifest-format-1.json")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(old)
	top := f.TempDir()
	dir := filepath.Join(top, "packet")
	if err := os.Mkdir(dir, 0o755); err != nil {
		f.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(top, "secret"), []byte("words"), 0o644); err != nil {
		f.Fatal(err)
	}
	if err := os.Symlink("../secret", filepath.Join(dir, "a")); err != nil {
		f.Fatal(err)
	}
	packet, err := openFolder(dir)
	if err != nil {
		f.Fatal(err)
	}
	for _, s := range []string{
		`{"format": 2, "manifest_sha256": "` + noDigest + `", "job": "\u202e(\u001b[2J", "files": [{"path": "a", "checks": [{"value": 1e308}]}]}`,
		`{"format": 2, "files": [{"path": "../secret"}, {"path": "/a"}, {"path": "a\\b"}, {"path": "con.nc"}]}`,
		`{"format": 1, "Files": null, "files": [{"Path": "a", "path": "a/b"}]}`,
		`{"format": 3}`, `[[[`, "\xff", `{"format": 1, "format": 2}`,
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := decodeManifest(data)
		if err != nil {
			if s := err.Error(); strings.ContainsAny(s, "\n\x1b\x00") || len(s) > 1000 {
				t.Errorf("not a line for people: %q", s)
			}
			return
		}
		m.edited(data)
		seen := map[string]bool{}
		for _, one := range m.Files {
			if !filepath.IsLocal(one.Path) || seen[strings.ToLower(one.Path)] {
				t.Errorf("path %q let through", one.Path)
			}
			seen[strings.ToLower(one.Path)] = true
			if how, err := packet.compare(one, ""); err != nil || how == "" {
				t.Errorf("%q read from an empty packet: %q, %v", one.Path, how, err)
			}
		}
		m.Format = Format
		again, err := m.encode()
		if err != nil {
			t.Fatal(err)
		}
		m2, err := decodeManifest(again)
		if err != nil || m2.edited(again) {
			t.Fatalf("written again: %v\n%s", err, again)
		}
		m2.Own, m.Own = "", ""
		a, _ := json.Marshal(m)
		if b, _ := json.Marshal(m2); string(a) != string(b) {
			t.Errorf("written again it says\n%s\nnot\n%s", b, a)
		}
	})
}
