package main

import "github.com/inconshreveable/mousetrap"

// doubleClicked reports whether the program was started by a double click and
// not from a command line.
func doubleClicked() bool { return mousetrap.StartedByExplorer() }
