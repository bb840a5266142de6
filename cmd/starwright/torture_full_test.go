//go:build torture

package main

// How hard the torture tests are: all of it, in .ci/torture.
const (
	killCount   = 200
	keptKills   = 60
	vanishCount = 40
	brokenJobs  = 1000
	checkCount  = 100
	extremeJobs = 100
	crowdCount  = 15
	diskSteps   = 40 // parts of a packet by which a full disk gets roomier
)
