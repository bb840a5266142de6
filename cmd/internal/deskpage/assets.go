package deskpage

import (
	"bytes"
	"embed"
	"fmt"
	"path"
	"strings"
	"sync"

	"starwright/post/page"
	"starwright/post/screens"
)

//go:embed assets
var assets embed.FS

// kinds are the kinds of files that the page is made of.
var kinds = map[string]string{
	".html": "text/html; charset=utf-8",
	".css":  "text/css; charset=utf-8",
	".js":   "text/javascript; charset=utf-8",
	".svg":  "image/svg+xml",
}

// Joined is the name of all modules as one script: a page is there sooner by one
// request than by twenty, each of which names the next.
const Joined = "desk.js"

var joined = sync.OnceValues(Script)

// Page returns the page as the desk serves it, which asks for the joined script.
func Page() ([]byte, error) {
	data, err := assets.ReadFile("assets/desk.html")
	if err == nil && bytes.Count(data, moduleTag) != 1 {
		err = fmt.Errorf("desk.html has no %s", moduleTag)
	}
	return bytes.Replace(data, moduleTag, []byte(`<script defer src="`+Joined+`"></script>`), 1), err
}

// moduleTag is how desk.html asks for its modules.
var moduleTag = []byte(`<script type="module" src="js/main.js"></script>`)

// Asset returns a part of the page by its name, desk.css for one, and its
// media type.
func Asset(name string) (data []byte, kind string, ok bool) {
	if name == Joined {
		script, err := joined()
		return []byte(script), kinds[".js"], err == nil
	}
	return part(name)
}

// part is [Asset] of what stands as a file of its own.
func part(name string) (data []byte, kind string, ok bool) {
	kind, ok = kinds[path.Ext(name)]
	if !ok || path.Clean(name) != name || strings.HasPrefix(name, ".") {
		return nil, "", false
	}
	data, err := assets.ReadFile("assets/" + name)
	return data, kind, err == nil
}

// Policy is the page's content security policy (W3C, Content Security Policy
// Level 3): its own scripts, style sheet and calls, and the pages of a packet,
// which the desk opens and which inherit this policy, by their hashes.
var Policy = sync.OnceValue(func() string {
	scripts, styles := packetPages()
	return "default-src 'none'; script-src 'self' " + scripts + "; style-src 'self' " + styles +
		"; img-src 'self' blob: data:; connect-src 'self'; frame-src blob:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
})

// packetPages returns the hashes of the scripts and style sheets of the pages
// that stand in a packet.
func packetPages() (scripts, styles string) {
	scripts, styles = page.Hashes()
	script, style := screens.Hashes()
	return scripts + " " + script, styles + " " + style
}
