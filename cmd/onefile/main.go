// Command onefile writes the desk as one HTML file with its engine in it.
//
//	go run ./cmd/onefile [-o starwright.html] [-version 1.2.3]
//
// It builds command engine for js/wasm with the go command, packs it with gzip
// and puts it into the page. The same sources give the same bytes.
package main

import (
	"bytes"
	"compress/gzip"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"starwright/cmd/internal/deskpage"
)

func main() {
	out := flag.String("o", "starwright.html", "file to write")
	version := flag.String("version", "", "version to say, for a release; left out, the one of the sources")
	flag.Parse()
	if err := run(*out, *version); err != nil {
		fmt.Fprintln(os.Stderr, "onefile:", err)
		os.Exit(1)
	}
}

func run(out, version string) error {
	dir, err := os.MkdirTemp("", "onefile-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	built := filepath.Join(dir, "engine.wasm")
	if err := build(built, version); err != nil {
		return err
	}
	wasm, err := os.ReadFile(built)
	if err != nil {
		return err
	}
	start, err := support()
	if err != nil {
		return err
	}
	packed, err := pack(wasm)
	if err != nil {
		return err
	}
	page, err := deskpage.OneFile(packed, start)
	if err != nil {
		return err
	}
	if err := os.WriteFile(out, page, 0o644); err != nil {
		return err
	}
	fmt.Printf("%s: %.2f MB; engine %.2f MB, %.2f MB packed\n", out, mb(page), mb(wasm), mb(packed))
	return nil
}

func mb(b []byte) float64 { return float64(len(b)) / 1e6 }

// build builds the engine, stripped, without the paths of this machine and the
// state of its sources.
func build(to, version string) error {
	link := "-s -w -buildid="
	if version != "" {
		link += " -X starwright/cmd/internal/packet.version=" + version
	}
	c := exec.Command("go", "build", "-trimpath", "-buildvcs=false", "-ldflags", link, "-o", to, "starwright/cmd/engine")
	c.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0")
	c.Stderr = os.Stderr
	return c.Run()
}

// support returns the script of the Go distribution that starts a program in a
// browser.
func support() ([]byte, error) {
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return nil, err
	}
	return os.ReadFile(filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js"))
}

// pack packs with gzip, without name and time.
func pack(data []byte) ([]byte, error) {
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := z.Write(data); err != nil {
		return nil, err
	}
	err = z.Close()
	return b.Bytes(), err
}
