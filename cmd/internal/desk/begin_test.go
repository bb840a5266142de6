package desk

import (
	"bytes"
	"encoding/json"
	"net/http"
	"os"
	"path/filepath"
	"testing"

	"starwright/cmd/internal/deskpage"
	"starwright/cmd/internal/engine"
	"starwright/cmd/internal/job"
)

// The first answer holds what the single questions would have given.
func TestBegin(t *testing.T) {
	type begun struct {
		Listing Listing
		Shop    *Opened
		Job     *Opened
		Glance  *engine.Glance
		About   engine.About
	}
	shop := "units = \"in\"\n[saw]\nkerf = \"1/8 in\"\n"
	order := "[[star]]\nname = \"a\"\nboard_width = \"3 in\"\n"
	for _, c := range []struct {
		name   string
		files  map[string]string
		job    string
		glance bool
	}{
		{"nothing", nil, "", false},
		{"a job and the shop", map[string]string{"job.toml": string(job.BuiltIn()), "a.toml": order, "shop.toml": shop}, "job.toml", true},
		{"an order", map[string]string{"b.toml": order, "c.toml": "x"}, "b.toml", true},
		{"a job that cannot be read", map[string]string{"job.toml": "\xff\xfe"}, "", false},
		{"a job that is wrong", map[string]string{"job.toml": "[star]\npoints = 99\n"}, "job.toml", true},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := open(t)
			for name, text := range c.files {
				if err := os.WriteFile(filepath.Join(d.dir, name), []byte(text), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			var b begun
			if f := d.call(t, "begin", map[string]string{}, &b); f != nil {
				t.Fatal(f)
			}
			if b.About.Starter != string(job.Starter()) || b.Listing.Folder != d.dir {
				t.Errorf("%+v", b.Listing)
			}
			if (b.Job == nil) != (c.job == "") || (b.Glance != nil) != c.glance || (b.Shop != nil) != (c.files["shop.toml"] != "") {
				t.Fatalf("job %v, glance %v, shop %v", b.Job, b.Glance != nil, b.Shop)
			}
			if b.Job == nil {
				return
			}
			var opened Opened
			var g engine.Glance
			if f := d.call(t, "open", map[string]string{"name": c.job}, &opened); f != nil || opened != *b.Job {
				t.Errorf("opened by itself: %v, %+v", f, opened)
			}
			if f := d.call(t, "glance", engine.Draft{Name: c.job, Source: opened.Source, Shop: c.files["shop.toml"]}, &g); f != nil {
				t.Fatal(f)
			}
			one, _ := json.Marshal(b.Glance)
			other, _ := json.Marshal(g)
			if !bytes.Equal(one, other) {
				t.Errorf("at once\n%.300s\nby itself\n%.300s", one, other)
			}
		})
	}
}

// The page asks for its modules as one script, which holds them all.
func TestPageAsServed(t *testing.T) {
	d := open(t)
	_, page, _ := d.do(t, "GET", "/", nil, nil)
	if !bytes.Contains(page, []byte(`src="`+deskpage.Joined+`"`)) || bytes.Contains(page, []byte("module")) {
		t.Errorf("the page: %s", page)
	}
	status, script, h := d.do(t, "GET", "/"+deskpage.Joined, nil, nil)
	want, err := deskpage.Script()
	if err != nil || status != http.StatusOK || string(script) != want || h.Get("Content-Type") != "text/javascript; charset=utf-8" {
		t.Errorf("%v, %d, %s, %d bytes", err, status, h.Get("Content-Type"), len(script))
	}
}
