package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"syscall"

	"starwright/cmd/internal/job"
	"starwright/cmd/internal/packet"
	"starwright/cmd/internal/release"
	"starwright/geom"
	"starwright/geom/words"
	"starwright/toolpath/finding"
)

// The exit statuses.
const (
	exitOK    = 0
	exitFail  = 1 // a file fails its check
	exitUsage = 2 // the job or the command line is wrong
	exitIO    = 3 // reading or writing failed
)

// exitError is how a command ends that does not end well.
type exitError struct {
	status int
	lines  []string
	said   bool // the command has printed its document and lines itself
}

func (e *exitError) Error() string { return strings.Join(e.lines, "\n") }

func usage(err error) *exitError {
	return &exitError{status: exitUsage, lines: []string{words.OneLine(err.Error()) + "; starwright --help shows what there is"}}
}

// jobErrors are errors of the job file.
func jobErrors(errs []job.Error) *exitError {
	e := &exitError{status: exitUsage}
	for _, one := range errs {
		e.lines = append(e.lines, words.OneLine(one.Error()))
	}
	return e
}

// failure turns any error of the packet into an exit.
func failure(err error) *exitError {
	var e *exitError
	var inJob packet.JobErrors
	var refused *packet.RefusedError
	switch {
	case errors.As(err, &e):
		return e
	case errors.As(err, &inJob):
		return jobErrors(inJob)
	case errors.As(err, &refused):
		return &exitError{status: exitUsage, lines: []string{words.OneLine(err.Error())}}
	case errors.Is(err, release.ErrBusy):
		return &exitError{status: exitIO, lines: []string{words.OneLine(err.Error())}}
	}
	return &exitError{status: exitIO, lines: []string{words.OneLine(plainIO(err))}}
}

// plainIO words a system error for somebody at a bench.
func plainIO(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		switch {
		case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
			return p.Path + ": there is no room left on this disk, so nothing was changed"
		case errors.Is(err, syscall.EFBIG):
			return p.Path + ": no file may be so large here, so nothing was changed; see ulimit -f"
		case errors.Is(err, syscall.EROFS):
			return p.Path + ": this disk is read-only"
		case errors.Is(err, syscall.ELOOP):
			return p.Path + ": the links here lead round in a circle, or are too many"
		case errors.Is(err, fs.ErrNotExist):
			return p.Path + ": there is no such file or folder"
		case errors.Is(err, fs.ErrPermission):
			return p.Path + ": " + mayNot(p.Op)
		}
	}
	return err.Error()
}

// mayNot says what the system does not permit, by its name for it.
func mayNot(op string) string {
	switch strings.TrimSuffix(op, "at") {
	case "open", "read", "stat", "st", "lstat", "lst", "readdirent", "fdopendir", "CreateFile", "GetFileAttributesEx":
		return "you may not read this"
	case release.OpChange, "mkdir":
		return `you may not write in this folder. Try: -o "FOLDER OF YOURS"`
	}
	return "you may not change this"
}

// report prints how a command ended, if it has not done so itself.
func (a *app) report(e *exitError) {
	if e.said {
		return
	}
	for _, l := range e.lines {
		fmt.Fprintln(a.err, "starwright: "+words.OneLine(l))
	}
	if a.json {
		a.document(struct {
			OK     bool     `json:"ok"`
			Status int      `json:"status"`
			Errors []string `json:"errors"`
		}{false, e.status, e.lines})
	}
}

// document prints the one JSON document.
func (a *app) document(v any) error {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return err
	}
	_, err := a.out.Write(packet.PlainJSON(b.Bytes()))
	return err
}

// table prints the proofs as a short table, then what was found.
func (a *app) table(proofs []packet.Proof, u geom.Unit) {
	width := 0
	for i := range proofs {
		width = max(width, len(proofs[i].Path))
	}
	for i := range proofs {
		p := &proofs[i]
		word := "passes"
		if !p.OK() {
			word = "FAILS"
		}
		fmt.Fprintf(a.out, "  %-*s  %-6s  %s\n", width, words.OneLine(p.Path), word, figures(p.Checks, u))
	}
}

// figures picks the figures of a proof that a person asks for, in the job's unit.
func figures(checks []finding.Check, u geom.Unit) string {
	decimals := 3
	if u == geom.Inch {
		decimals = 4
	}
	names := map[string]string{
		"off the outline": "off the outline", "cut outside outline": "outside", "cut into parts": "into parts",
		"cut below floor": "too deep", "left standing": "left", "deepest bite": "deepest bite",
	}
	var out []string
	for _, c := range checks {
		if short, ok := names[c.Name]; ok {
			out = append(out, fmt.Sprintf("%s %.*f", short, decimals, c.Value/u.MM()))
		}
	}
	if len(out) == 0 {
		return ""
	}
	return strings.Join(out, ", ") + " " + u.String()
}

// findings prints the first of all findings on standard error.
func (a *app) findings(proofs []packet.Proof) {
	const most = 10
	shown, all := 0, 0
	for i := range proofs {
		for _, f := range proofs[i].Findings {
			if all++; shown < most {
				fmt.Fprintln(a.err, words.OneLine(f.String()))
				shown++
			}
		}
	}
	if all > shown {
		fmt.Fprintf(a.err, "and %d more; --json lists all\n", all-shown)
	}
}
