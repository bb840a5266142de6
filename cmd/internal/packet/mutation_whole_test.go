//go:build mutation

package packet

import "testing"

// All changes to all files of all jobs, and the kill table:
//
//	go test -tags mutation -run MutationWhole -v ./cmd/internal/packet
func TestMutationWhole(t *testing.T) {
	var k killTable
	n := 0
	for _, j := range mutationJobs {
		n += mutateJob(t, &k, j.name, j.source, 1)
	}
	t.Logf("%d changes", n)
	if n < 20000 {
		t.Errorf("%d changes are too few; 20,000 are asked for", n)
	}
	report(t, &k)
}
