// Package engine is what stands behind the desk's page: a handful of calls that
// take bytes and return bytes.
//
// A [Call] has a name, arguments as JSON and perhaps files; its [Reply] is JSON
// and perhaps files. [Handle] carries out those that need nothing but the job:
// the numbers and the star at each keystroke (glance), the whole plan with kit,
// sheets and programs (plan), the same job with one thing different (compare), a
// packet in memory (make, check, pages), the test fit (fit). The local server
// and the WebAssembly in the page run this same code; [ReadCall] and
// [WriteReply] are how a call travels to both.
//
// The package opens no file and asks the system for nothing. Where jobs and
// packets are kept is the caller's to know.
package engine
