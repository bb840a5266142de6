package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// Two small jobs whose packets differ in every file.
var tortureJobs = [2]string{
	"title = \"first\"\n[star]\nboard_width = \"100 mm\"\n[jigs]\nmake = []\n",
	"title = \"second\"\nunits = \"in\"\n[star]\npoints = 6\nboard_width = \"3 1/2 in\"\n[jigs]\nmake = []\n",
}

// tree is a folder's content: what each file in it holds.
type tree map[string]string

// shop is a folder with two jobs in it, the packet of each known, in which the
// program is run as a process.
type shop struct {
	t     *testing.T
	dir   string
	bin   string
	rng   *rand.Rand
	want  [2]tree
	quick time.Duration // of a run that nobody disturbs
}

// seedOf returns the seed of a test's random numbers. It is printed, and taken
// from STARWRIGHT_SEED where that is given.
func seedOf(t *testing.T) uint64 {
	t.Helper()
	seed := uint64(time.Now().UnixNano())
	if s := os.Getenv("STARWRIGHT_SEED"); s != "" {
		n, err := strconv.ParseUint(s, 10, 64)
		if err != nil {
			t.Fatal(err)
		}
		seed = n
	}
	t.Logf("STARWRIGHT_SEED=%d", seed)
	return seed
}

// seeded returns a source of random numbers of that seed.
func seeded(t *testing.T) *rand.Rand {
	t.Helper()
	return rand.New(rand.NewPCG(seedOf(t), 1))
}

// newShop makes both packets once.
func newShop(t *testing.T) *shop {
	t.Helper()
	rng := seeded(t)
	s := &shop{t: t, dir: shopFolder(t), rng: rng}
	var err error
	if s.bin, err = exec.LookPath("starwright"); err != nil {
		t.Fatal(err)
	}
	for i, source := range tortureJobs {
		if err := os.MkdirAll(filepath.Dir(filepath.Join(s.dir, s.job(i))), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(s.dir, s.job(i)), []byte(source), 0o644); err != nil {
			t.Fatal(err)
		}
		start := time.Now()
		s.must(0, "make", "-o", "packet", s.job(i))
		if took := time.Since(start); i == 0 || took < s.quick {
			s.quick = took
		}
		s.want[i] = s.tree("packet")
		if len(s.want[i]) < 5 {
			t.Fatalf("a packet of %d files", len(s.want[i]))
		}
	}
	return s // the second packet stands
}

// shopFolder returns a new folder, on a disk in memory where there is one: a
// process that is killed leaves the same there, and syncing takes no time.
func shopFolder(t *testing.T) string {
	t.Helper()
	on := ""
	if info, err := os.Stat("/dev/shm"); err == nil && info.IsDir() {
		on = "/dev/shm"
	}
	dir, err := os.MkdirTemp(on, "starwright-test")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	return dir
}

// job is the name of a job file. Both have one name, so that either may replace
// the packet of the other.
func (s *shop) job(i int) string { return fmt.Sprintf("jobs%d/stars.toml", i) }

// command prepares a run of the program in the shop.
func (s *shop) command(args ...string) (*exec.Cmd, *bytes.Buffer) {
	cmd := exec.Command(s.bin, args...)
	cmd.Dir = s.dir
	var said bytes.Buffer
	cmd.Stderr = &said
	return cmd, &said
}

// must runs the program and asks for an exit status; it returns what was said
// on standard error.
func (s *shop) must(want int, args ...string) string {
	s.t.Helper()
	cmd, said := s.command(args...)
	if got := exitOf(s.t, cmd.Run()); got != want {
		s.t.Fatalf("starwright %v: exit %d, want %d\n%s", args, got, want, said)
	}
	return said.String()
}

// exitOf returns an exit status, -1 for a process that was killed.
func exitOf(t *testing.T, err error) int {
	t.Helper()
	var exit *exec.ExitError
	switch {
	case err == nil:
		return 0
	case errors.As(err, &exit):
		return exit.ExitCode()
	}
	t.Fatal(err)
	return 0
}

// tree reads a folder of the shop, nil where there is none.
func (s *shop) tree(name string) tree {
	s.t.Helper()
	root := filepath.Join(s.dir, name)
	if _, err := os.Lstat(root); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	out := tree{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		rel, _ := filepath.Rel(root, path)
		out[rel] = string(data)
		return err
	})
	if err != nil {
		s.t.Fatal(err)
	}
	return out
}

// which says which of the two packets a folder is, -1 for none of them.
func (s *shop) which(name string) int {
	s.t.Helper()
	got := s.tree(name)
	for i, want := range s.want {
		if sameTree(got, want) {
			return i
		}
	}
	return -1
}

func sameTree(a, b tree) bool {
	if len(a) != len(b) {
		return false
	}
	for path, data := range a {
		if other, ok := b[path]; !ok || other != data {
			return false
		}
	}
	return true
}

// beside lists what stands in the shop that the test has not put there.
func (s *shop) beside() []string {
	s.t.Helper()
	entries, err := os.ReadDir(s.dir)
	if err != nil {
		s.t.Fatal(err)
	}
	var out []string
	for _, e := range entries {
		if n := e.Name(); n != "packet" && !strings.HasPrefix(n, "jobs") && !strings.HasSuffix(n, ".toml") {
			out = append(out, n)
		}
	}
	return out
}

// clean demands that nothing is left beside the packet.
func (s *shop) clean(when string) {
	s.t.Helper()
	if rest := s.beside(); len(rest) > 0 {
		s.t.Fatalf("%s: left beside the packet: %v", when, rest)
	}
}

// instant returns a moment of a run: anywhere in it, or, one time in three, the
// end of it, where the folders are swapped; that waits for the manifest, the
// last file that is written, and a little more.
func (s *shop) instant() {
	if s.rng.IntN(3) > 0 {
		time.Sleep(time.Duration(s.rng.Int64N(int64(s.quick + s.quick/10))))
		return
	}
	deadline := time.Now().Add(4 * s.quick)
	for time.Now().Before(deadline) {
		if found, _ := filepath.Glob(filepath.Join(s.dir, ".packet.making-*", "manifest.json")); len(found) > 0 {
			break
		}
	}
	time.Sleep(time.Duration(s.rng.Int64N(int64(3 * time.Millisecond))))
}
