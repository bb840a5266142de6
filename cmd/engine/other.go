//go:build !(js && wasm)

// Command engine is package engine as WebAssembly, for the page that is one
// file; see main.go. Built for anything else it only says so.
package main

import (
	"fmt"
	"os"
)

func main() {
	fmt.Fprintln(os.Stderr, "engine runs in a browser: go run ./cmd/onefile builds it into the page")
	os.Exit(2)
}
