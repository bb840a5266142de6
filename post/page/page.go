package page

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"fmt"
	"html"
	"io"
	"strings"
)

//go:embed assets
var assets embed.FS

// scripts are the parts of the page's script in the order they are joined.
var scripts = [...]string{"data", "view", "wood", "draft", "path", "plan", "section", "strip", "lines", "panel", "hand", "state", "cutter", "frame", "main"}

// Build writes the page. Data that cannot be shown is refused, with the
// program and the line, before anything is written; else the error is w's.
func Build(w io.Writer, d Data) error {
	if err := check(d); err != nil {
		return err
	}
	frame, style, script, err := parts()
	if err != nil {
		return err
	}
	words := strings.NewReplacer(
		"{{policy}}", policy(style, script),
		"{{title}}", html.EscapeString(plain(d.Title)),
		"{{style}}", style,
		"{{script}}", script,
	)
	before, after, _ := strings.Cut(frame, "{{data}}")
	if _, err := words.WriteString(w, before); err != nil {
		return err
	}
	// The encoder writes <, >, & and the line ends of Unicode as \u escapes, so
	// that no text can close the element it stands in.
	if err := encode(w, d); err != nil {
		return fmt.Errorf("back-plot page: %w", err)
	}
	_, err = words.WriteString(w, after)
	return err
}

// parts returns the page's frame, its style sheet and its script.
func parts() (frame, style, script string, err error) {
	read := func(name string) string {
		b, e := assets.ReadFile("assets/" + name)
		if e != nil && err == nil {
			err = fmt.Errorf("back-plot page: %w", e)
		}
		return string(b)
	}
	frame, style = read("page.html"), read("style.css")
	var b bytes.Buffer
	b.WriteString("(() => {\n\"use strict\";\n")
	for _, s := range scripts {
		b.WriteString(read("js/" + s + ".js"))
	}
	b.WriteString("})();\n")
	return frame, style, b.String(), err
}

// policy is the page's content security policy (W3C, Content Security Policy
// Level 3, sections 6.1 and 8.3): this script, this style sheet, nothing else.
func policy(style, script string) string {
	return "default-src 'none'; script-src " + hashOf(script) + "; style-src " + hashOf(style) +
		"; base-uri 'none'; form-action 'none'"
}

// Hashes returns what a content security policy has to allow for the page to
// run where it inherits one: its scripts and its style sheets.
func Hashes() (scripts, styles string) {
	_, style, script, err := parts()
	if err != nil {
		return "", ""
	}
	return hashOf(script), hashOf(style)
}

// hashOf is the source expression of an inline script or style sheet.
func hashOf(s string) string {
	sum := sha256.Sum256([]byte(s))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}
