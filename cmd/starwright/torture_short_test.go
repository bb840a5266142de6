//go:build !torture

package main

// How hard the torture tests are: this much with every go test.
const (
	killCount   = 20
	keptKills   = 3
	vanishCount = 2
	brokenJobs  = 50
	checkCount  = 5
	extremeJobs = 5
	crowdCount  = 1
	diskSteps   = 4 // parts of a packet by which a full disk gets roomier
)
