//go:build !js

package main

import (
	"os"
	"syscall"
)

// stopSignals are those that tell the program to stop.
var stopSignals = []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP}
