package packet

import (
	"encoding/binary"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"starwright/cmd/internal/jobgen"
	"starwright/cmd/internal/release"
	"starwright/geom"
	"starwright/toolpath"
)

// picks has a job made from a few bytes that rapid chooses: rapid's own choices
// crowd about the ends of every range, and so do its numbers.
func picks(t *rapid.T) jobgen.Pick {
	seed := rapid.SliceOfN(rapid.Byte(), 8, 8).Draw(t, "seed")
	r := rand.New(rand.NewPCG(binary.LittleEndian.Uint64(seed), 0))
	return func(_ string, n int) int { return r.IntN(n) }
}

// proofsOf writes drawings and programs of a job, reads them back and returns
// the proofs, of all files or of some.
func proofsOf(t failer, w *Work, only map[string]bool) []Proof {
	t.Helper()
	top, err := os.MkdirTemp(inMemory(), "starwright-random")
	if err != nil {
		t.Fatalf("%v", err)
	}
	defer os.RemoveAll(top)
	st, err := release.Begin(filepath.Join(top, "packet"), nil)
	if err != nil {
		t.Fatalf("%v", err)
	}
	defer st.Abort()
	if err := w.writeFiles(st); err != nil {
		t.Fatalf("%v\n%s", err, w.Source)
	}
	proofs, err := w.Prove(st.Dir(), only)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return proofs
}

// inMemory returns a folder on a disk in memory where there is one: syncing
// thousands of small files to a real disk proves nothing here.
func inMemory() string {
	const shm = "/dev/shm"
	if info, err := os.Stat(shm); err == nil && info.IsDir() {
		return shm
	}
	return ""
}

type failer interface {
	Helper()
	Fatalf(format string, args ...any)
	Errorf(format string, args ...any)
}

// Every job that is taken gives a packet that passes, and no limit of the job
// is broken by the rounding in its files; every other job is refused with a
// line for people.
func TestRandomJobsPass(t *testing.T) {
	seen := map[string]bool{}
	taken, jobs, refused, width := 0, 0, map[string]int{}, [2]float64{math.Inf(1), 0}
	rapid.Check(t, func(t *rapid.T) {
		jobs++
		source := jobgen.Job(picks(t), false)
		seen[source] = true
		w, errs := load("job.toml", []byte(source))
		if len(errs) > 0 {
			for _, e := range errs {
				if e.Why == "" || e.Line < 0 || strings.ContainsAny(e.Error(), "\n\x1b") {
					t.Errorf("not a line for people: %+v", e)
				}
				refused[e.Table+"."+e.Key]++
			}
			return
		}
		taken++
		wide := w.Order.Units[0].Width()
		width = [2]float64{min(width[0], wide), max(width[1], wide)}
		passes(t, w)
	})
	t.Logf("%d jobs, %d of them different: %d taken and passed, stars from %.0f mm to %.0f mm, refused %v",
		jobs, len(seen), taken, width[0], width[1], refused)
	if tooFew(taken, jobs) {
		t.Errorf("only %d of %d jobs were taken", taken, jobs)
	}
}

// tooFew reports whether so few of the jobs were taken that the test says
// nothing. Of a handful all may be refused by chance.
func tooFew(taken, jobs int) bool { return jobs >= 20 && taken < jobs/2 }

// passes demands that every file of a job passes, and keeps to the job's limits.
func passes(t failer, w *Work) {
	t.Helper()
	for _, p := range proofsOf(t, w, nil) {
		if !p.OK() {
			t.Fatalf("%s: %v\n%+v\n%s", p.Path, p.Findings, p.Checks, w.Source)
		}
		if len(p.Moves) > 0 {
			withinLimits(t, w, &p)
		}
	}
}

// withinLimits holds the numbers that stand in a file against the job's own,
// without the tolerance of the back-plot. A feed is never higher; a level or a
// ramp, which may lie between two numbers that can be written, is off by no
// more than the last digit.
func withinLimits(t failer, w *Work, p *Proof) {
	t.Helper()
	const slack = 1e-9 // mm, of turning decimals into float64
	c := w.Job.Cutter
	digit := 0.001 // mm
	if w.Job.Output.GCodeUnits == geom.Inch {
		digit = 0.0001 * geom.MMPerInch
	}
	feeds := 0.0
	for i := range p.Moves {
		m := &p.Moves[i]
		if !m.Cuts() {
			continue
		}
		feeds = math.Max(feeds, m.Feed)
		if m.Feed > c.Feed+slack {
			t.Errorf("%s:%d: feed %v, the job has %v\n%s", p.Path, m.Line, m.Feed, c.Feed, w.Source)
		}
		fall := m.From.Z - m.To.Z
		if fall <= 0 || m.From.Z > slack { // upwards, level, or in the air
			continue
		}
		if down := m.Feed * fall / m.Length(); down > c.PlungeFeed*(1+1e-3) {
			t.Errorf("%s:%d: sinks at %v mm/min, the job has %v\n%s", p.Path, m.Line, down, c.PlungeFeed, w.Source)
		}
		// On sheets a cutter also comes down behind a tab, through air.
		if strings.Contains(p.Path, "slot") && fall > c.DepthPerPass+digit+slack {
			t.Errorf("%s:%d: sinks %v mm at once, the job has %v\n%s", p.Path, m.Line, fall, c.DepthPerPass, w.Source)
		}
	}
	if feeds == 0 {
		t.Errorf("%s: no cut\n%s", p.Path, w.Source)
	}
}

// A job with something wrong in it gives an error and no file.
func TestRandomBrokenJobs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		source := jobgen.Broken(picks(t))
		if w, errs := load("job.toml", []byte(source)); len(errs) == 0 || w != nil {
			t.Fatalf("taken:\n%s", source)
		}
	})
}

// A job with slips of the pen in it is refused with lines for people, or makes
// sense all the same: then its packet passes.
func TestRandomSlipsPassOrFail(t *testing.T) {
	taken, jobs := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		if jobs++; jobs > sameJobs {
			return
		}
		source := jobgen.Slipped(picks(t))
		w, errs := load("job.toml", []byte(source))
		if (w == nil) == (len(errs) == 0) {
			t.Fatalf("a job %v and %d errors\n%s", w != nil, len(errs), source)
		}
		for _, e := range errs {
			if e.Why == "" || e.Line < 0 || strings.ContainsAny(e.Error(), "\n\x1b") {
				t.Errorf("not a line for people: %+v\n%s", e, source)
			}
		}
		if w != nil {
			taken++
			passes(t, w)
		}
	})
	t.Logf("%d of %d jobs with slips refused, the others passed", jobs-taken, jobs)
}

// A packet of a random job is made, checks, and is the same when made again.
func TestRandomPackets(t *testing.T) {
	top := t.TempDir()
	n, jobs := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		if n >= wholePackets { // each is a whole packet, pictures and all
			return
		}
		jobs++
		source := jobgen.Job(picks(t), false)
		w, errs := load("job.toml", []byte(source))
		if len(errs) > 0 {
			return
		}
		n++
		dir := filepath.Join(top, "packet")
		os.RemoveAll(dir)
		for range 2 {
			m, err := Make(t.Context(), w, dir, false)
			if err != nil || !m.Released || m.Kept != "" {
				t.Fatalf("%+v, %v\n%s", m, err, source)
			}
		}
		c, err := Check(dir, Asked{})
		if err != nil || !c.OK() || len(c.Changes) > 0 {
			t.Fatalf("%+v, %v\n%s", c, err, source)
		}
		if left, _ := os.ReadDir(top); len(left) != 1 {
			t.Fatalf("left beside the packet: %v", left)
		}
	})
	t.Logf("%d packets made twice and checked", n)
	if tooFew(n, jobs) {
		t.Errorf("only %d packets of %d jobs", n, jobs)
	}
}

// movesOf returns the moves of the slot programs, as the reader found them on
// disk, by their paths.
func movesOf(t failer, w *Work) (left, right []toolpath.Move) {
	t.Helper()
	const l, r = "gcode/slot-left.nc", "gcode/slot-right.nc"
	for _, p := range proofsOf(t, w, map[string]bool{l: true, r: true}) {
		if p.Path == l {
			left = p.Moves
		} else {
			right = p.Moves
		}
	}
	return left, right
}

// The same for jobs with their whole jig kit, which is cut from sheet.
func TestRandomKitsPass(t *testing.T) {
	taken, kits := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		if kits++; kits > kitJobs {
			return
		}
		source := jobgen.Job(picks(t), true)
		w, errs := load("job.toml", []byte(source))
		if len(errs) > 0 {
			return
		}
		taken++
		passes(t, w)
	})
	kits = min(kits, kitJobs)
	t.Logf("%d kits passed, %d jobs refused", taken, kits-taken)
	if tooFew(taken, kits) {
		t.Errorf("only %d of %d kits were made", taken, kits)
	}
}
