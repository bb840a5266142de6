package main

import (
	"errors"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"starwright/cmd/internal/release"
)

// A run that is killed at any instant leaves the old packet or the new one,
// and what it leaves beside them is cleaned by the next run.
func TestTortureKilled(t *testing.T) {
	s := newShop(t)
	stands, count := 1, map[string]int{}
	for i := range killCount {
		next := 1 - stands
		cmd, _ := s.command("make", "-o", "packet", s.job(next))
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		s.instant()
		cmd.Process.Kill()
		if exitOf(t, cmd.Wait()) == 0 {
			count["had finished"]++
		}
		now := s.which("packet")
		if now < 0 {
			t.Fatalf("kill %d: the packet is neither the old nor the new one: %v", i, slices.Sorted(maps.Keys(s.tree("packet"))))
		}
		if now == next {
			count["new packet"]++
		} else {
			count["old packet"]++
		}
		stands = now
		if left := s.beside(); len(left) > 0 {
			count["left something"]++
			for _, l := range left {
				if strings.Contains(l, ".making-") || strings.Contains(l, ".gone-") {
					count["left a folder"]++
				}
				if strings.Contains(l, "edited") {
					t.Fatalf("kill %d: nobody has edited anything: %v", i, left)
				}
			}
		}
		if i%4 == 3 {
			s.must(0, "make", "-o", "packet", s.job(1-stands))
			s.clean("after the next run")
			if stands = 1 - stands; s.which("packet") != stands {
				t.Fatal("the next run did not make its packet")
			}
		}
	}
	t.Logf("%d kills survived: %v", killCount, count)
	if count["old packet"] == 0 || count["left a folder"] == 0 {
		t.Errorf("the kills did not meet the program at work: %v", count)
	}
}

// An edited packet that --force replaces outlives every kill: it is the packet
// still, or kept beside it at the latest by the next run.
func TestTortureKilledKeeping(t *testing.T) {
	s := newShop(t)
	for i := range keptKills {
		s.must(0, "make", "-o", "packet", s.job(1))
		mine := filepath.Join(s.dir, "packet", "gcode", "slot-left.nc")
		if err := os.WriteFile(mine, []byte("(mine)\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		edited := s.tree("packet")
		cmd, _ := s.command("make", "--force", "-o", "packet", s.job(0))
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		s.instant()
		cmd.Process.Kill()
		cmd.Wait()
		s.must(0, "make", "--force", "-o", "packet", s.job(0))
		if s.which("packet") != 0 {
			t.Fatalf("kill %d: the packet is not the new one", i)
		}
		if rest := s.beside(); len(rest) != 1 || rest[0] != "packet.edited-1" {
			t.Fatalf("kill %d: beside the packet: %v", i, rest)
		}
		if !sameTree(s.tree("packet.edited-1"), edited) {
			t.Fatalf("kill %d: what was kept is not what was edited", i)
		}
		if err := os.RemoveAll(filepath.Join(s.dir, "packet.edited-1")); err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("%d edited packets kept through kills", keptKills)
}

// A packet that vanishes while another is made does no harm to either.
func TestTortureVanishing(t *testing.T) {
	s := newShop(t)
	for i := range vanishCount {
		s.must(0, "make", "-o", "packet", s.job(1))
		cmd, said := s.command("make", "-o", "packet", s.job(0))
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		s.instant()
		if err := os.Rename(filepath.Join(s.dir, "packet"), filepath.Join(s.dir, "away")); err != nil {
			t.Fatal(err)
		}
		if exit := exitOf(t, cmd.Wait()); exit != 0 {
			t.Fatalf("run %d: exit %d: %s", i, exit, said)
		}
		away, now := s.which("away"), s.tree("packet")
		switch {
		case away == 1 && s.which("packet") == 0: // vanished before the swap
		case away == 0 && now == nil: // and after it
		default:
			t.Fatalf("run %d: what was moved away is %d, what stands has %d files", i, away, len(now))
		}
		if err := os.RemoveAll(filepath.Join(s.dir, "away")); err != nil {
			t.Fatal(err)
		}
		s.clean("after a packet had vanished")
	}
	t.Logf("%d packets vanished", vanishCount)
}

// The whole folder vanishes: an error, and nothing is made elsewhere.
func TestTortureParentVanishes(t *testing.T) {
	s := newShop(t)
	said := s.must(3, "make", "-o", "gone/packet", s.job(0))
	if !strings.Contains(said, "gone") {
		t.Errorf("said %q", said)
	}
	s.clean("after a folder that is not there")
}

// The shop vanishes while a packet is made in it, as a disk that is pulled and
// put back: nothing is made in its place, and the packet in it is a whole one.
func TestTortureShopVanishes(t *testing.T) {
	s := newShop(t)
	away := s.dir + "-away"
	t.Cleanup(func() { os.RemoveAll(away) })
	lost := 0
	for i := range vanishCount {
		s.must(0, "make", "-o", "packet", s.job(1))
		cmd, said := s.command("make", "-o", "packet", s.job(0))
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(s.rng.Int64N(int64(s.quick))))
		if err := os.Rename(s.dir, away); err != nil {
			t.Fatal(err)
		}
		exit := exitOf(t, cmd.Wait())
		if _, err := os.Lstat(s.dir); !errors.Is(err, fs.ErrNotExist) {
			t.Fatalf("run %d: exit %d: something was made where the shop had been: %v", i, exit, err)
		}
		if err := os.Rename(away, s.dir); err != nil {
			t.Fatal(err)
		}
		switch now := s.which("packet"); {
		case exit == 3 && now == 1:
			lost++
		case (exit == 0 || exit == 3) && now == 0: // the swap came first
		default:
			t.Fatalf("run %d: exit %d, the packet is %d: %s", i, exit, now, said)
		}
		s.must(0, "make", "-o", "packet", s.job(0))
		s.clean("after a shop that had vanished")
	}
	t.Logf("%d shops vanished, %d of them before the packet was ready", vanishCount, lost)
}

// Of many runs on one packet at once each has it or says that another does.
func TestTortureTogether(t *testing.T) {
	s := newShop(t)
	const together = 4
	won, busy := 0, 0
	for range crowdCount {
		var wg sync.WaitGroup
		exits, words := [together]error{}, [together]string{}
		for k := range together {
			cmd, said := s.command("make", "-o", "packet", s.job(k%2))
			wg.Go(func() {
				exits[k] = cmd.Run()
				words[k] = said.String()
			})
		}
		wg.Wait()
		here := 0
		for k := range together {
			switch exit := exitOf(t, exits[k]); {
			case exit == 0:
				here++
			case exit == 3 && strings.Contains(words[k], "packet: another run is making this packet now"):
				busy++
			default:
				t.Fatalf("exit %d: %s", exit, words[k])
			}
		}
		won += here
		if here == 0 || s.which("packet") < 0 {
			t.Fatalf("%d runs have won, the packet is %d", here, s.which("packet"))
		}
		s.clean("after runs at once")
	}
	// One that surely meets another.
	st, err := release.Begin(filepath.Join(s.dir, "packet"), nil)
	if err != nil {
		t.Fatal(err)
	}
	stands := s.which("packet")
	if said := s.must(3, "make", "-o", "packet", s.job(1-stands)); !strings.Contains(said, "packet: another run is making this packet now; wait until it is done") {
		t.Errorf("said %q", said)
	}
	if s.which("packet") != stands {
		t.Error("the second run has changed the packet")
	}
	st.Abort()
	s.clean("after both")
	t.Logf("%d runs won, %d said that another was at work", won, busy+1)
}

// A check while other packets take the place of the one that it looks at finds
// a whole one: it never says that a file is missing, edited or wrong.
func TestTortureCheckWhileMade(t *testing.T) {
	s := newShop(t)
	stop := make(chan struct{})
	var wg sync.WaitGroup
	wg.Go(func() {
		for i := 0; ; i++ {
			select {
			case <-stop:
				return
			default:
			}
			cmd, _ := s.command("make", "-o", "packet", s.job(i%2))
			if err := cmd.Run(); err != nil {
				t.Error(err)
				return
			}
		}
	})
	for i := range checkCount {
		cmd, said := s.command("check", "packet")
		out, err := cmd.Output()
		if exit := exitOf(t, err); exit != 0 || strings.Contains(string(out), "notice") {
			t.Errorf("check %d: exit %d\n%s%s", i, exit, out, said)
		}
	}
	close(stop)
	wg.Wait()
	t.Logf("%d checks while packets were replaced", checkCount)
}

// A shell's limit on the size of files meets every write; so does a full disk.
func TestTortureSmallFiles(t *testing.T) {
	s := newShop(t)
	refused := 0
	for blocks := 0; ; blocks = blocks*4 + 1 { // of 512 bytes
		cmd := exec.Command("sh", "-c", `ulimit -f "$1"; shift; exec "$@"`, "sh", strconv.Itoa(blocks), s.bin, "make", "-o", "packet", s.job(0))
		cmd.Dir = s.dir
		cmd.Stdout = nil
		// Standard error is a pipe, which has no such limit.
		said, err := cmd.CombinedOutput()
		exit := exitOf(t, err)
		if exit == 0 {
			break
		}
		refused++
		if exit != 3 || s.which("packet") != 1 || !strings.Contains(string(said), "nothing was changed") || strings.Count(string(said), "\n") != 1 {
			t.Fatalf("%d blocks: exit %d, the packet is %d\n%s", blocks, exit, s.which("packet"), said)
		}
		s.clean("after a file too large")
	}
	if refused < 3 || s.which("packet") != 0 {
		t.Errorf("refused %d times, then the packet is %d", refused, s.which("packet"))
	}
	t.Logf("%d runs met the limit", refused)
}
