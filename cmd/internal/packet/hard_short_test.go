//go:build !torture

package packet

// sameJobs is how many random jobs the slower properties look at.
const sameJobs = 25

// kitJobs is how many random jobs have their whole jig kit cut.
const kitJobs = 4

// wholePackets is how many random jobs have their whole packet made, twice.
const wholePackets = 6
