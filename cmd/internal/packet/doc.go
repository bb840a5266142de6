// Package packet carries one job through the whole house: job file, star
// model, drawings and programs, files on disk, and the proof of each file from
// the bytes that were read back. It releases a packet whole or not at all.
//
// [Load] turns a job file into [Work], which knows every file the packet is
// to hold and what each has to be true of. [Make] writes the files beside the
// target, proves them there and swaps them in; [Check] proves a packet as it
// lies on disk now. Both use the same proof and neither trusts what was
// planned: only what was read.
//
// The package plans nothing itself and draws nothing itself.
package packet
