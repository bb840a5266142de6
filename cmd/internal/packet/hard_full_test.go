//go:build torture

package packet

// sameJobs is how many random jobs the slower properties look at.
const sameJobs = 1 << 30 // as many as rapid gives

// kitJobs is how many random jobs have their whole jig kit cut.
const kitJobs = 40

// wholePackets is how many random jobs have their whole packet made, twice.
const wholePackets = 15
