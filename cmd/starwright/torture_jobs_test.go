package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"starwright/cmd/internal/jobgen"
)

// Random jobs with something wrong in them: exit 2, a line for people on
// standard error, nothing on standard output and no file, made or changed.
func TestTortureBrokenJobs(t *testing.T) {
	rng := seeded(t)
	dir := t.TempDir()
	file, target := filepath.Join(dir, "job.toml"), filepath.Join(dir, "packet")
	for i := range brokenJobs {
		source := jobgen.Broken(func(_ string, n int) int { return rng.IntN(n) })
		if err := os.WriteFile(file, []byte(source), 0o644); err != nil {
			t.Fatal(err)
		}
		var out, errOut bytes.Buffer
		if exit := run([]string{"make", "-o", target, file}, nil, &out, &errOut); exit != exitUsage {
			t.Fatalf("job %d: exit %d\n%s\n%s", i, exit, errOut.String(), source)
		}
		if !strings.HasPrefix(errOut.String(), "starwright: ") || out.Len() > 0 {
			t.Errorf("job %d: %q and %q", i, out.String(), errOut.String())
		}
		if left, err := os.ReadDir(dir); err != nil || len(left) != 1 {
			t.Fatalf("job %d: there are %v, %v\n%s", i, left, err, source)
		}
	}
	t.Logf("%d broken jobs: an error each and no file", brokenJobs)
}
