//go:build mutation

package packet

import "testing"

// drawnJobs is how many of the jobs have their drawings changed too: those of
// other jobs differ in nothing but numbers.
const drawnJobs = 2

// eachKind is how many changes of a kind are made to a file: enough to meet every
// place where it makes a difference. All of them would take hours and find no more.
const eachKind = 20

// Changes of every kind to all files of all jobs, and the kill tables:
//
//	go test -tags mutation -run MutationWhole -v -timeout 60m ./cmd/internal/packet
//	go test -tags mutation -run MutationWhole/programs/arcs -v ./cmd/internal/packet
func TestMutationWhole(t *testing.T) {
	total := 0
	t.Run("programs", func(t *testing.T) {
		var k killTable
		for _, j := range mutationJobs {
			t.Run(j.name, func(t *testing.T) {
				n := mutatePrograms(t, &k, j.name, j.source, sampler{seed: 1, each: eachKind, sheets: 400})
				t.Logf("%d changes, %d astray so far", n, len(k.bad))
				total += n
			})
		}
		report(t, &k)
	})
	t.Run("long sheets", func(t *testing.T) {
		var k killTable
		for _, j := range mutationJobs {
			t.Run(j.name, func(t *testing.T) {
				total += mutatePrograms(t, &k, j.name, j.source, sampler{seed: 1, long: 24})
			})
		}
		report(t, &k)
	})
	t.Run("drawings", func(t *testing.T) {
		var k killTable
		for _, j := range mutationJobs[:drawnJobs] {
			t.Run(j.name, func(t *testing.T) {
				total += mutateDrawings(t, &k, j.name, j.source, sampler{seed: 1, each: eachKind})
			})
		}
		report(t, &k)
	})
	t.Logf("%d changes", total)
}
