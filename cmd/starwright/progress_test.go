package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// screen is what a terminal shows of one line, by what a carriage return does
// on any: the next letters overwrite the line from its beginning.
func screen(text string) string {
	var line []byte
	at := 0
	for _, c := range []byte(text) {
		if c == '\r' {
			at = 0
			continue
		}
		if at == len(line) {
			line = append(line, 0)
		}
		line[at] = c
		at++
	}
	return strings.TrimRight(string(line), " ")
}

func TestBar(t *testing.T) {
	var out bytes.Buffer
	ticks := make(chan time.Time)
	b := newBar(&out, ticks)
	tick := func(n int) {
		for range n {
			ticks <- time.Time{}
		}
	}
	b.tell("proving", 40, 400)
	tick(barFirst)
	b.tell("proving", 200, 400)
	b.tell("proving", 190, 400) // told late
	tick(2)                     // the second is taken in only when the first is drawn
	b.tell("writing", 0, 7)
	tick(2)
	b.end()
	b.end() // a second time changes nothing
	got := out.String()
	first, rest, _ := strings.Cut(strings.TrimPrefix(got, "\r"), "\r")
	if want := "[###############---------------]  50 % proving"; first != want {
		t.Errorf("first %q, want %q", first, want)
	}
	if second, _, _ := strings.Cut(strings.ReplaceAll(rest, first+"\r", ""), "\r"); second != "[------------------------------]   0 % writing" {
		t.Errorf("then %q", second)
	}
	if s := screen(got); s != "" {
		t.Errorf("%q is left on the line", s)
	}
	if strings.Contains(got, "\n") {
		t.Error("the bar begins a new line")
	}
}

// Work that is done within the first second says nothing, and neither does
// work of which nothing is known.
func TestBarOfShortWork(t *testing.T) {
	for name, c := range map[string]struct {
		ticks int
		told  bool
	}{"no tick": {0, true}, "under a second": {barFirst, true}, "nothing told": {barFirst + 3, false}} {
		t.Run(name, func(t *testing.T) {
			var out bytes.Buffer
			ticks := make(chan time.Time)
			b := newBar(&out, ticks)
			if c.told {
				b.tell("proving", 1, 2)
			}
			for range c.ticks {
				ticks <- time.Time{}
			}
			b.end()
			if out.Len() > 0 {
				t.Errorf("%q was written", out.String())
			}
		})
	}
}

// A bar is drawn for nobody who reads a file, a pipe or a document, and what
// draws it can be called all the same.
func TestNoBar(t *testing.T) {
	file, err := os.Create(filepath.Join(t.TempDir(), "log"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	defer w.Close()
	for name, a := range map[string]*app{
		"file": {err: file}, "pipe": {err: w}, "buffer": {err: &bytes.Buffer{}},
	} {
		b := a.progress()
		if b != nil {
			t.Errorf("%s: a bar is drawn", name)
		}
		b.tell("proving", 1, 2)
		b.end()
	}
}
