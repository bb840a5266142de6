package main

import "os"

// stopSignals: a page has none.
var stopSignals = []os.Signal{}
