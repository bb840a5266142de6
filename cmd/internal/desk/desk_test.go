package desk

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"starwright/cmd/internal/engine"
	"starwright/cmd/internal/job"
)

// desk is an open desk on a folder of the test.
type testDesk struct {
	*Server
	dir string
}

func open(t *testing.T) testDesk {
	t.Helper()
	dir := t.TempDir()
	f, err := OpenFolder(dir)
	if err != nil {
		t.Fatal(err)
	}
	s, err := Open(f, 0)
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- s.Serve(ctx) }()
	t.Cleanup(func() {
		stop()
		if err := <-done; err != nil {
			t.Error(err)
		}
		f.Close()
	})
	return testDesk{s, dir}
}

// do sends one request; change makes it another than the page's own.
func (d testDesk) do(t *testing.T, method, path string, body []byte, change func(*http.Request)) (int, []byte, http.Header) {
	t.Helper()
	r, err := http.NewRequest(method, fmt.Sprintf("http://127.0.0.1:%d%s", d.port(), path), bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set(KeyHeader, d.key)
	r.Header.Set("Origin", fmt.Sprintf("http://127.0.0.1:%d", d.port()))
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	if change != nil {
		change(r)
	}
	resp, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	data, err := io.ReadAll(resp.Body)
	if err != nil {
		t.Fatal(err)
	}
	return resp.StatusCode, data, resp.Header
}

// call makes a call as the page does.
func (d testDesk) call(t *testing.T, name string, args, into any) *engine.Fault {
	t.Helper()
	raw, err := json.Marshal(map[string]any{"call": name, "args": args})
	if err != nil {
		t.Fatal(err)
	}
	status, data, _ := d.do(t, "POST", "/call", append(raw, '\n'), nil)
	if status != http.StatusOK {
		t.Fatalf("%s: %d %s", name, status, data)
	}
	for {
		line, rest, _ := bytes.Cut(data, []byte("\n"))
		data = rest
		var got struct {
			Progress any
			OK       bool
			Result   json.RawMessage
			Error    *engine.Fault
		}
		if err := json.Unmarshal(line, &got); err != nil {
			t.Fatalf("%s: %v: %.200s", name, err, line)
		}
		if got.Progress != nil {
			continue
		}
		if got.Error == nil && into != nil {
			if err := json.Unmarshal(got.Result, into); err != nil {
				t.Fatal(err)
			}
		}
		return got.Error
	}
}

const glanceCall = `{"call":"list","args":{}}` + "\n"

// Each way in that is not the page's own is refused (OWASP, Cross-Site Request
// Forgery Prevention; DNS rebinding: a name of somebody else that points to
// 127.0.0.1 shows in Host).
func TestNobodyElseGetsIn(t *testing.T) {
	d := open(t)
	p := d.port()
	header := func(k, v string) func(*http.Request) { return func(r *http.Request) { r.Header.Set(k, v) } }
	host := func(h string) func(*http.Request) {
		return func(r *http.Request) { r.Host = h; r.Header.Del("Origin") }
	}
	for _, c := range []struct {
		name   string
		method string
		change func(*http.Request)
		want   int
	}{
		{"the page itself", "POST", nil, 200},
		{"by localhost", "POST", func(r *http.Request) {
			r.Host = fmt.Sprintf("localhost:%d", p)
			r.Header.Set("Origin", "http://"+r.Host)
		}, 200},
		{"without Origin, as from a program", "POST", func(r *http.Request) { r.Header.Del("Origin"); r.Header.Del("Sec-Fetch-Site") }, 200},
		{"another name for this machine", "POST", host(fmt.Sprintf("desk.example.com:%d", p)), 421},
		{"a name that begins like ours", "POST", host(fmt.Sprintf("127.0.0.1.example.com:%d", p)), 421},
		{"no port", "POST", host("127.0.0.1"), 421},
		{"another port", "POST", host(fmt.Sprintf("127.0.0.1:%d", p+1)), 421},
		{"a name in capitals with a dot", "POST", host(fmt.Sprintf("LOCALHOST.:%d", p)), 421},
		{"the page under another name", "GET", host(fmt.Sprintf("desk.example.com:%d", p)), 421},
		{"from another site", "POST", header("Origin", "https://example.com"), 403},
		{"from another port of this machine", "POST", header("Origin", fmt.Sprintf("http://127.0.0.1:%d", p+1)), 403},
		{"from localhost to 127.0.0.1", "POST", header("Origin", fmt.Sprintf("http://localhost:%d", p)), 403},
		{"from a file or a sandbox", "POST", header("Origin", "null"), 403},
		{"with two origins", "POST", func(r *http.Request) { r.Header.Add("Origin", "https://example.com") }, 403},
		{"a form of another site without Origin", "POST", func(r *http.Request) { r.Header.Del("Origin"); r.Header.Set("Sec-Fetch-Site", "cross-site") }, 403},
		{"without the key", "POST", func(r *http.Request) { r.Header.Del(KeyHeader) }, 403},
		{"with a wrong key", "POST", header(KeyHeader, strings.Repeat("A", 26)), 403},
		{"with part of the key", "POST", func(r *http.Request) { r.Header.Set(KeyHeader, r.Header.Get(KeyHeader)[:25]) }, 403},
		{"asking what is allowed", "OPTIONS", header("Access-Control-Request-Method", "POST"), 405},
		{"put", "PUT", nil, 405},
		{"delete", "DELETE", nil, 405},
		{"a call by get", "GET", func(r *http.Request) { r.URL.Path = "/call" }, 404},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := "/call"
			if c.method == "GET" {
				path = "/"
			}
			status, body, h := d.do(t, c.method, path, []byte(glanceCall), c.change)
			if status != c.want {
				t.Errorf("status %d, want %d: %.100s", status, c.want, body)
			}
			for k := range h {
				if strings.HasPrefix(k, "Access-Control") {
					t.Errorf("%s is sent, so another site could read the answer", k)
				}
			}
		})
	}
}

func TestPolicy(t *testing.T) {
	d := open(t)
	for _, path := range []string{"/", "/desk.css", "/js/main.js"} {
		status, body, h := d.do(t, "GET", path, nil, nil)
		csp := h.Get("Content-Security-Policy")
		if status != 200 || len(body) == 0 || !strings.Contains(csp, "default-src 'none'") || !strings.Contains(csp, "frame-ancestors 'none'") {
			t.Errorf("%s: %d, policy %q", path, status, csp)
		}
		if strings.Contains(csp, "unsafe") || strings.Contains(csp, "http") || strings.Contains(csp, "*") {
			t.Errorf("%s: the policy lets in what it should not: %q", path, csp)
		}
		if bytes.Contains(body, []byte(d.key)) {
			t.Errorf("%s holds the key", path)
		}
	}
	for _, path := range []string{"/../desk_test.go", "/js/../../doc.go", "/js/", "/job.toml", "/.hidden.js", "/js%2fmain.js/..", "//etc/hosts.html"} {
		if status, body, _ := d.do(t, "GET", path, nil, nil); status == 200 && !bytes.Contains(body, []byte("Starwright desk")) {
			t.Errorf("%s is served: %.80s", path, body)
		}
	}
}

func TestBodiesAreBounded(t *testing.T) {
	d := open(t)
	big := strings.Repeat("x", maxJob+1)
	var fault *engine.Fault
	if _, err := d.folder.Save("big.toml", big, ""); !errors.As(err, &fault) {
		t.Errorf("a job of more than 1 MB is saved: %v", err)
	}
	status, _, _ := d.do(t, "POST", "/call", bytes.Repeat([]byte(" "), engine.MaxHead+1), nil)
	if status != http.StatusBadRequest {
		t.Errorf("a line without end gives %d", status)
	}
	var g engine.Glance
	f := d.call(t, "glance", engine.Draft{Name: "job.toml", Source: "# " + big}, &g)
	if f == nil && len(g.Errors) == 0 {
		t.Error("a job of more than 1 MB is worked out")
	}
}

// No name leads out of the folder or to anything but job files and packets.
func TestNamesStayInTheFolder(t *testing.T) {
	d := open(t)
	outside := filepath.Join(filepath.Dir(d.dir), "secret.toml")
	if err := os.WriteFile(outside, []byte("units = \"mm\"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	defer os.Remove(outside)
	if err := os.Symlink(outside, filepath.Join(d.dir, "link.toml")); err != nil {
		t.Skip("no links here")
	}
	os.WriteFile(filepath.Join(d.dir, "note.txt"), []byte("x"), 0o644)
	os.Mkdir(filepath.Join(d.dir, "folder.toml"), 0o755)
	os.Symlink(filepath.Dir(d.dir), filepath.Join(d.dir, "up-packet"))
	names := []string{"../secret.toml", "..\\secret.toml", outside, "link.toml", "note.txt", "folder.toml", "CON.toml", "nul.toml", "com1.toml", "aux.b.toml",
		"a.toml::$DATA", "a:b.toml", "x/../link.toml", "./a.toml", ".hidden.toml", "a\x00.toml", "a\n.toml", "-rf.toml", "", ".toml", " a.toml", "a*.toml", "a.toml.", strings.Repeat("a", 300) + ".toml", "job.toml/", "\u202e.toml", "\xff.toml"}
	for _, n := range names {
		if o, err := d.folder.Open(n); err == nil {
			t.Errorf("%q is opened: %+v", n, o)
		}
		if _, err := d.folder.Save(n, "units = \"mm\"\n", ""); err == nil {
			t.Errorf("%q is written", n)
		}
		if f := d.call(t, "open", map[string]string{"name": strings.ToValidUTF8(n, "?")}, nil); f == nil {
			t.Errorf("%q is opened by the page", n)
		}
	}
	for _, n := range []string{"..", "../x", "up-packet", "/etc", ".", "", "a/b", "nul", "x:y"} {
		if _, err := d.folder.Look(n, true); err == nil {
			t.Errorf("the packet %q is read", n)
		}
	}
	os.Symlink(filepath.Dir(d.dir), filepath.Join(d.dir, "porch-packet"))
	if _, err := d.folder.Make(context.Background(), "porch.toml", job.BuiltIn(), true, nil); err == nil {
		t.Error("a packet is made through a link out of the folder")
	}
	if data, _ := os.ReadFile(outside); string(data) != "units = \"mm\"\n" {
		t.Error("a file outside was changed")
	}
	l, err := d.folder.List()
	if err != nil || len(l.Jobs) != 0 || len(l.Packets) != 0 {
		t.Errorf("listed %+v, %v", l, err)
	}
}

func TestSaveOverwritesNothingOfOthers(t *testing.T) {
	d := open(t)
	path := filepath.Join(d.dir, "porch.toml")
	first, err := d.folder.Save("porch.toml", "a = 1\n", "")
	if err != nil {
		t.Fatal(err)
	}
	if s, err := d.folder.Save("porch.toml", "a = 9\n", ""); err != nil || s.Theirs == nil {
		t.Errorf("a new file takes the place of an old one: %+v, %v", s, err)
	}
	os.Chmod(path, 0o600)
	if err := os.WriteFile(path, []byte("a = 2 # by an editor\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	s, err := d.folder.Save("porch.toml", "a = 3\n", first.Tag)
	if err != nil || s.Theirs == nil || s.Theirs.Source != "a = 2 # by an editor\n" {
		t.Fatalf("an editor's change is not shown: %+v, %v", s, err)
	}
	if data, _ := os.ReadFile(path); string(data) != "a = 2 # by an editor\n" {
		t.Fatalf("an editor's change is gone: %q", data)
	}
	if s, err = d.folder.Save("porch.toml", "a = 3\n", s.Theirs.Tag); err != nil || s.Theirs != nil {
		t.Fatalf("%+v, %v", s, err)
	}
	if info, _ := os.Stat(path); info.Mode().Perm() != 0o600 {
		t.Errorf("the file's mode became %v", info.Mode())
	}
	os.Remove(path)
	if s, err := d.folder.Save("porch.toml", "a = 4\n", s.Tag); err != nil || !s.Gone {
		t.Errorf("a removed file: %+v, %v", s, err)
	}
}

// Two desks save at once: each is saved whole or told of the other.
func TestTwoDesks(t *testing.T) {
	d := open(t)
	other, err := OpenFolder(d.dir)
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	was, err := d.folder.Save("job.toml", "n = 0\n", "")
	if err != nil {
		t.Fatal(err)
	}
	type result struct {
		Saved
		err error
	}
	results := make(chan result, 2)
	texts := []string{strings.Repeat("# one\n", 2000), strings.Repeat("# two\n", 2000)}
	for i, f := range []*Folder{d.folder, other} {
		go func() {
			s, err := f.Save("job.toml", texts[i], was.Tag)
			results <- result{s, err}
		}()
	}
	saved, told := 0, 0
	for range 2 {
		r := <-results
		switch {
		case r.err == nil && r.Theirs == nil:
			saved++
		case r.err == nil:
			told++
		}
	}
	data, _ := os.ReadFile(filepath.Join(d.dir, "job.toml"))
	if saved != 1 || told != 1 || string(data) != texts[0] && string(data) != texts[1] {
		t.Errorf("%d saved, %d told, %d bytes on disk", saved, told, len(data))
	}
	entries, _ := os.ReadDir(d.dir)
	if len(entries) != 1 {
		t.Errorf("left behind: %v", entries)
	}
}

// What a desk that was killed in the middle of saving has left is cleaned, and
// the file is the old one.
func TestKilledDesk(t *testing.T) {
	d := open(t)
	was, _ := d.folder.Save("job.toml", "n = 0\n", "")
	os.WriteFile(filepath.Join(d.dir, ".job.toml"+savingMark+"KILLED"), []byte("n = "), 0o644)
	if o, err := d.folder.Open("job.toml"); err != nil || o.Source != "n = 0\n" {
		t.Errorf("%+v, %v", o, err)
	}
	if s, err := d.folder.Save("job.toml", "n = 1\n", was.Tag); err != nil || s.Theirs != nil {
		t.Errorf("%+v, %v", s, err)
	}
	entries, _ := os.ReadDir(d.dir)
	if len(entries) != 1 {
		t.Errorf("left behind: %v", entries)
	}
}

func TestFolderRemoved(t *testing.T) {
	d := open(t)
	was, _ := d.folder.Save("job.toml", "n = 0\n", "")
	away := d.dir + "-away"
	if err := os.Rename(d.dir, away); err != nil {
		t.Skip("an open folder cannot be moved here")
	}
	defer os.Rename(away, d.dir)
	f := d.call(t, "save", map[string]string{"name": "job.toml", "source": "n = 1\n", "tag": was.Tag}, nil)
	if f == nil || !strings.Contains(f.Lines[0], "moved or removed") {
		t.Errorf("the page hears %v", f)
	}
	if f := d.call(t, "make", map[string]string{"name": "job.toml", "source": string(job.BuiltIn())}, nil); f == nil {
		t.Error("a packet is made in a folder that is gone")
	}
	var g engine.Glance
	if f := d.call(t, "glance", engine.Draft{Name: "job.toml", Source: string(job.BuiltIn())}, &g); f != nil || g.Numbers == nil {
		t.Errorf("numbers need the folder: %v", f)
	}
	if data, _ := os.ReadFile(filepath.Join(away, "job.toml")); string(data) != "n = 0\n" {
		t.Errorf("the job became %q", data)
	}
}

func TestUnknownCalls(t *testing.T) {
	d := open(t)
	for _, n := range []string{"", "remove", "run", "exec", "zip ", "Open"} {
		if f := d.call(t, n, map[string]string{}, nil); f == nil {
			t.Errorf("the call %q is carried out", n)
		}
	}
}

// The desk is usable soon after it is started (0.5 s on a free machine; here without the
// browser, on whatever machine the tests run).
func TestUsableSoon(t *testing.T) {
	start := time.Now()
	d := open(t)
	var g engine.Glance
	if f := d.call(t, "glance", engine.Draft{Name: "job.toml", Source: string(job.BuiltIn())}, &g); f != nil {
		t.Fatal(f)
	}
	if took := time.Since(start); took > 5*time.Second {
		t.Errorf("the first numbers came after %v", took)
	}
}
