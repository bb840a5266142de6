//go:build linux

package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"starwright/cmd/internal/job"
	"starwright/cmd/internal/jobgen"
)

// What a job may cost that asks for the most that its keys allow. Its file is
// of some hundred bytes, so no more than one of 1 MB may.
const (
	extremeTime   = 10  // s of processors
	extremeMemory = 512 // MB
)

// greedyJobs were found to run for minutes, or to fail their own check.
var greedyJobs = []string{
	"[star]\nboard_width = 400\nthickness = 100\n[slot]\nwidth = 50\nstations = 50\nloads = 200\n[cutter]\ndiameter = 0.5\ndepth_per_pass = 0.1\n",
	"[star]\nboard_width = 30\ncount = 10000\n[sheet]\nwidth = 5000\nheight = 5000\n[cutter]\ndiameter = 2\n[jigs]\nmake = []\n",
	"[star]\nboard_width = 100\ncount = 10000\n[sheet]\nwidth = 5000\nheight = 5000\n[cutter]\ndepth_per_pass = 0.1\ndiameter = 1\n[spline]\nthickness = 3\n[slot]\nwidth = 3.15\n",
	"[star]\nboard_width = 30\n[cutter]\nplunge_feed = 1\n",
}

// A job at the ends of what its keys may say is refused or made, in bounded
// time and memory.
func TestTortureExtremeJobs(t *testing.T) {
	s, seed := newShop(t), seedOf(t)
	made, refused, mostTime, mostMemory := 0, 0, 0.0, 0
	for i := range extremeJobs {
		rng := rand.New(rand.NewPCG(seed, uint64(i)))
		source := sensible(jobgen.Extreme(func(_ string, n int) int { return rng.IntN(n) }))
		if i < len(greedyJobs) {
			source = greedyJobs[i]
		}
		if err := os.WriteFile(filepath.Join(s.dir, "extreme.toml"), []byte(source), 0o644); err != nil {
			t.Fatal(err)
		}
		os.RemoveAll(filepath.Join(s.dir, "extreme"))
		// The shell's limit ends a run that would not come to an end.
		cmd := exec.Command("sh", "-c", fmt.Sprintf(`ulimit -t %d; exec "$0" make -o extreme extreme.toml`, 2*extremeTime), s.bin)
		cmd.Dir = s.dir
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		peak := watchMemory(cmd.Process.Pid)
		exit, mb := exitOf(t, cmd.Wait()), <-peak
		cpu := (cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()).Seconds()
		mostTime, mostMemory = max(mostTime, cpu), max(mostMemory, mb)
		switch exit {
		case exitOK:
			made++
		case exitUsage:
			refused++
		}
		if exit != exitOK && exit != exitUsage || cpu > extremeTime || mb > extremeMemory {
			t.Errorf("job %d: exit %d, %.1f s of processors, %d MB\n%s", i, exit, cpu, mb, source)
		}
	}
	t.Logf("%d extreme jobs: %d made, %d refused, at most %.1f s of processors and %d MB", extremeJobs, made, refused, mostTime, mostMemory)
}

// sensible takes lines out of a job until what its keys say of each other is
// taken, or nothing is left that could be taken out.
func sensible(source string) string {
	for range 30 {
		_, _, errs := job.Load(job.Input{Job: job.File{Name: "job.toml", Data: []byte(source)}})
		if len(errs) == 0 {
			break
		}
		lines := strings.Split(source, "\n")
		at := errs[len(errs)-1].Line - 1
		if at < 0 || strings.HasPrefix(lines[at], "board_width") || strings.HasPrefix(lines[at], "[") {
			break
		}
		source = strings.Join(append(lines[:at], lines[at+1:]...), "\n")
	}
	return source
}

// watchMemory sends the most memory that a process has had, in MB, when it has
// ended. What the system tells afterwards would count this test's own.
func watchMemory(pid int) <-chan int {
	peak := make(chan int, 1)
	go func() {
		most := 0
		for {
			status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
			_, line, found := strings.Cut(string(status), "VmHWM:")
			if err != nil || !found { // ended
				peak <- most >> 10
				return
			}
			var kb int
			fmt.Sscan(line, &kb)
			most = max(most, kb)
			time.Sleep(2 * time.Millisecond)
		}
	}()
	return peak
}
