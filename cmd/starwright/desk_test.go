package main

import (
	"bufio"
	"go/parser"
	"go/token"
	"io/fs"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"
)

// The desk as it is started: its first line is the address with the key, the
// page is there, the key opens it, and Ctrl-C ends it well.
func TestDeskCommand(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no program can be sent Ctrl-C there by itself")
	}
	dir := t.TempDir()
	c := exec.Command("starwright", "desk", "--no-open", dir)
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	defer c.Process.Kill()
	line, err := bufio.NewReader(out).ReadString('\n')
	m := regexp.MustCompile(`^(http://127\.0\.0\.1:[0-9]+/)#([A-Z0-9]{20,})\n$`).FindStringSubmatch(line)
	if err != nil || m == nil {
		t.Fatalf("the first line is %q (%v)", line, err)
	}
	resp, err := http.Get(m[1])
	if err != nil || resp.StatusCode != http.StatusOK {
		t.Fatalf("%v, %v", resp, err)
	}
	resp.Body.Close()
	for key, want := range map[string]int{m[2]: http.StatusOK, "": http.StatusForbidden} {
		r, _ := http.NewRequest("POST", m[1]+"call", strings.NewReader(`{"call":"list","args":{}}`+"\n"))
		r.Header.Set("X-Desk-Key", key)
		resp, err := http.DefaultClient.Do(r)
		if err != nil || resp.StatusCode != want {
			t.Errorf("with the key %q: %v, %v", key, resp, err)
			continue
		}
		resp.Body.Close()
	}
	if err := c.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- c.Wait() }()
	select {
	case err := <-ended:
		if err != nil {
			t.Errorf("Ctrl-C ends the desk with %v", err)
		}
	case <-time.After(20 * time.Second):
		t.Error("Ctrl-C does not end the desk")
	}
}

func TestDeskRefusals(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "job.toml")
	if err := os.WriteFile(file, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args   []string
		status int
		says   string
	}{
		{[]string{filepath.Join(dir, "none")}, exitIO, "there is no such folder"},
		{[]string{file}, exitUsage, "takes the folder"},
		{[]string{dir, "--port", "70000"}, exitUsage, "0 to 65535"},
		{[]string{dir, "more"}, exitUsage, ""},
	} {
		var out, errOut strings.Builder
		status := run(append([]string{"desk", "--no-open"}, c.args...), strings.NewReader(""), &out, &errOut)
		if status != c.status || !strings.Contains(errOut.String(), c.says) || out.Len() > 0 {
			t.Errorf("%q: status %d, %q, %q", c.args, status, out.String(), errOut.String())
		}
	}
}

// The program runs no other but the opener of an address: of all that is ours and
// linked into it, one file imports what could.
func TestNothingElseIsExecuted(t *testing.T) {
	var with []string
	for _, root := range []string{".", "../internal", "../../geom", "../../post", "../../toolpath"} {
		err := filepath.WalkDir(root, func(p string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || filepath.Ext(p) != ".go" || strings.HasSuffix(p, "_test.go") {
				return err
			}
			f, err := parser.ParseFile(token.NewFileSet(), p, nil, parser.ImportsOnly)
			if err != nil {
				return err
			}
			for _, i := range f.Imports {
				if i.Path.Value == `"os/exec"` {
					with = append(with, filepath.ToSlash(p))
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if !slices.Equal(with, []string{"cmd_desk.go"}) {
		t.Errorf("these can run other programs: %v", with)
	}
}

// Whatever system it is, only the desk's own address is handed to the opener.
func TestOpeners(t *testing.T) {
	for system, with := range openers {
		for _, a := range with {
			if strings.ContainsAny(a, " ;&|$`\"'") || a == "sh" || a == "cmd" {
				t.Errorf("%s: %q might carry out what stands in an address", system, with)
			}
		}
	}
}
