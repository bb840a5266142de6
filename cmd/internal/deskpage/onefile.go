package deskpage

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"strings"

	"starwright/geom/words"
)

var (
	importLine = words.Pattern(`(?m)^import \{[^}]*\} from "\./([a-z]+\.js)";\n`)
	exportWord = words.Pattern(`(?m)^export `)
	topName    = words.Pattern(`(?m)^(?:async )?(?:function\*?|const|let|class) ([A-Za-z_$][\w$]*)`)
)

// Script returns all modules as one script, each after those that it imports.
// A name at the top of two modules is refused: joined they would be one.
func Script() (string, error) {
	var b strings.Builder
	b.WriteString("(() => {\n\"use strict\";\n")
	done, names := map[string]bool{}, map[string]string{}
	var add func(name string) error
	add = func(name string) error {
		if done[name] {
			return nil
		}
		done[name] = true
		data, _, ok := part("js/" + name)
		if !ok {
			return fmt.Errorf("%s is imported and is not there", name)
		}
		text := string(data)
		for _, m := range importLine().FindAllStringSubmatch(text, -1) {
			if err := add(m[1]); err != nil {
				return err
			}
		}
		text = exportWord().ReplaceAllString(importLine().ReplaceAllString(text, ""), "")
		if strings.Contains(text, "\nimport ") {
			return fmt.Errorf("%s: an import that is not on one line of its own", name)
		}
		for _, m := range topName().FindAllStringSubmatch(text, -1) {
			if other := names[m[1]]; other != "" {
				return fmt.Errorf("%s is a name of both %s and %s", m[1], other, name)
			}
			names[m[1]] = name
		}
		b.WriteString(text)
		return nil
	}
	if err := add("main.js"); err != nil {
		return "", err
	}
	b.WriteString("})();\n")
	return b.String(), nil
}

// OneFile returns the page with everything in it: engine is command engine as
// WebAssembly, packed with gzip, start the Go distribution's script that
// starts it.
func OneFile(engine, start []byte) ([]byte, error) {
	script, err := Script()
	if err != nil {
		return nil, err
	}
	read := func(name string) string {
		data, _, ok := Asset(name)
		if !ok && err == nil {
			err = fmt.Errorf("%s is missing", name)
		}
		return string(data)
	}
	frame, style, mark := read("desk.html"), read("desk.css"), read("mark.svg")
	worker := string(start) + "\n" + read("worker/worker.js")
	if err != nil {
		return nil, err
	}
	for _, text := range []string{script, worker} {
		if strings.Contains(strings.ToLower(text), "</script") {
			return nil, fmt.Errorf("a script ends its own element")
		}
	}
	scripts, styles := packetPages()
	policy := "default-src 'none'; script-src " + hashOf(script) + " " + scripts + " 'wasm-unsafe-eval' blob:; style-src " + hashOf(style) + " " + styles +
		"; img-src blob: data:; worker-src blob:; frame-src blob:; base-uri 'none'; form-action 'none'"
	put := func(old, with string) {
		if strings.Count(frame, old) != 1 && err == nil {
			err = fmt.Errorf("desk.html has no %s", old)
		}
		frame = strings.Replace(frame, old, with, 1)
	}
	put(`<meta name="referrer" content="no-referrer">`, `<meta http-equiv="Content-Security-Policy" content="`+policy+`">`)
	put(`<link rel="icon" href="mark.svg">`, `<link rel="icon" href="data:image/svg+xml;base64,`+base64.StdEncoding.EncodeToString([]byte(mark))+`">`)
	put(`<link rel="stylesheet" href="desk.css">`, "<style>"+style+"</style>")
	put(string(moduleTag), "{{engine}}")
	if err != nil {
		return nil, err
	}
	before, after, _ := strings.Cut(frame, "{{engine}}")
	var b bytes.Buffer
	b.WriteString(before)
	b.WriteString("<script type=\"text/plain\" id=\"engine-worker\">" + worker + "</script>\n<script type=\"text/plain\" id=\"engine\">")
	b.Write(signs(engine))
	b.WriteString("</script>\n<script>" + script + "</script>")
	b.WriteString(after)
	return b.Bytes(), nil
}

// hashOf is the source expression of an inline script or style sheet.
func hashOf(s string) string {
	sum := sha256.Sum256([]byte(s))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}
