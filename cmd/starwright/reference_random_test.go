//go:build reference

package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"sync"
	"testing"

	"starwright/cmd/internal/jobgen"
)

// The random jobs of the reference test, and how they are shared out: starting
// the outside readers costs more than reading a packet.
const (
	randomJobs  = 300
	randomBatch = 15
	kitEvery    = 50 // every so many jobs have their whole jig kit cut
	flatEvery   = 10 // and of so many one has its segments cut on the CNC
)

// TestReferenceRandomJobs holds the packets of 300 random jobs against readers
// that are not part of the project. The seed is printed; STARWRIGHT_SEED
// repeats a run.
func TestReferenceRandomJobs(t *testing.T) {
	seed := seedOf(t)
	var total tally
	batches := make(chan int)
	var wg sync.WaitGroup
	for range 2 {
		wg.Go(func() {
			for first := range batches {
				randomPackets(t, seed, first, &total)
			}
		})
	}
	for first := 0; first < randomJobs; first += randomBatch {
		batches <- first
	}
	close(batches)
	wg.Wait()
	t.Logf("%d random jobs, %d more refused with a reason, %d drawings, %d programs, %d comparisons passed, %d failed",
		total.jobs, total.refused, total.drawings, total.programs, total.passed, total.failed)
	if total.jobs != randomJobs || total.failed > 0 || total.passed < 20*randomJobs {
		t.Error("not all of it was read and found the same")
	}
}

// tally adds up what was done.
type tally struct {
	sync.Mutex
	jobs, refused, drawings, programs, passed, failed int
}

var outsideSaid = regexp.MustCompile(`(?m): (\d+) drawings, (\d+) programs: (\d+) passed, (\d+) failed$`)

// randomPackets makes the packets of one batch and has everybody read them.
func randomPackets(t *testing.T, seed uint64, first int, total *tally) {
	dir, err := os.MkdirTemp("", "starwright-random")
	if err != nil {
		t.Error(err)
		return
	}
	defer os.RemoveAll(dir)
	var programs, readers []string
	refused := 0
	for i := first; i < first+randomBatch; i++ {
		packet, source, tries := randomPacket(t, dir, seed, i)
		if packet == "" {
			return
		}
		refused += tries
		found, err := filepath.Glob(filepath.Join(packet, "gcode", "*.nc"))
		if err != nil {
			t.Error(err)
			return
		}
		programs = append(programs, found...)
		readers = append(readers, packet, filepath.Join(dir, fmt.Sprintf("plan%d.json", i)), filepath.Join(dir, "moves.jsonl"))
		defer func() {
			if t.Failed() {
				t.Logf("job %d:\n%s", i, source)
			}
		}()
	}
	cmd := exec.Command("node", append([]string{"../../.ci/replay.cjs"}, programs...)...)
	cmd.Stderr = os.Stderr
	moves, err := cmd.Output()
	if err != nil {
		t.Errorf("gcode-toolpath: %v", err)
		return
	}
	compareMoves(t, moves)
	if err := os.WriteFile(filepath.Join(dir, "moves.jsonl"), moves, 0o644); err != nil {
		t.Error(err)
		return
	}
	said, err := exec.Command("/usr/bin/python3", append([]string{"../../.ci/outside.py"}, readers...)...).CombinedOutput()
	if err != nil {
		t.Errorf("jobs %d to %d: outside readers: %v\n%s", first, first+randomBatch-1, err, said)
	}
	total.Lock()
	defer total.Unlock()
	total.refused += refused
	for _, m := range outsideSaid.FindAllSubmatch(said, -1) {
		n := [4]int{}
		for k := range n {
			n[k], _ = strconv.Atoi(string(m[k+1]))
		}
		total.jobs, total.drawings, total.programs = total.jobs+1, total.drawings+n[0], total.programs+n[1]
		total.passed, total.failed = total.passed+n[2], total.failed+n[3]
	}
}

// randomPacket makes the packet and the plan of random job number i: of the
// first of its kind that the program takes.
func randomPacket(t *testing.T, dir string, seed uint64, i int) (packet, source string, refused int) {
	rng := rand.New(rand.NewPCG(seed, uint64(i)))
	packet = filepath.Join(dir, fmt.Sprintf("packet%d", i))
	file := filepath.Join(dir, fmt.Sprintf("job%d.toml", i))
	for ; refused < 50; refused++ {
		pick := func(_ string, n int) int { return rng.IntN(n) }
		if source = jobgen.Job(pick, i%kitEvery == 0); i%flatEvery == flatEvery-1 {
			source = jobgen.Flat(pick)
		}
		if err := os.WriteFile(file, []byte(source), 0o644); err != nil {
			t.Error(err)
			return "", source, refused
		}
		var out, errOut bytes.Buffer
		status := run([]string{"make", "-o", packet, file}, nil, &out, &errOut)
		if status == exitUsage { // asks for more than its wood holds
			continue
		}
		if status != exitOK {
			t.Errorf("job %d: make: exit %d\n%s\n%s", i, status, errOut.String(), source)
			return "", source, refused
		}
		if status := run([]string{"check", packet}, nil, &out, &errOut); status != exitOK {
			t.Errorf("job %d: check: exit %d\n%s\n%s", i, status, errOut.String(), source)
			return "", source, refused
		}
		out.Reset()
		if status := run([]string{"plan", "--json", file}, nil, &out, &errOut); status != exitOK {
			t.Errorf("job %d: plan: exit %d\n%s", i, status, errOut.String())
			return "", source, refused
		}
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("plan%d.json", i)), out.Bytes(), 0o644); err != nil {
			t.Error(err)
			return "", source, refused
		}
		return packet, source, refused
	}
	t.Errorf("job %d: 50 jobs in a row were refused, the last one\n%s", i, source)
	return "", source, refused
}
