package main

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"reflect"
	"runtime"
	"strings"
	"testing"

	"golang.org/x/sys/unix"
)

// What is allocated after takeRoom lies in memory that the system was asked to hand
// out in huge pages, and the room itself is not in use. It is tried in a process
// of its own: what other tests leave behind would be filled first.
func TestTakeRoom(t *testing.T) {
	if unix.Madvise(make([]byte, 1<<20), unix.MADV_HUGEPAGE) != nil {
		t.Skip("this system has no huge pages")
	}
	const alone = "STARWRIGHT_TEST_ALONE"
	if os.Getenv(alone) == "" {
		c := exec.Command(os.Args[0], "-test.run=^TestTakeRoom$")
		c.Env = append(os.Environ(), alone+"=1")
		if out, err := c.CombinedOutput(); err != nil {
			t.Errorf("%v\n%s", err, out)
		}
		return
	}
	takeRoom()
	var m runtime.MemStats
	if runtime.ReadMemStats(&m); m.HeapAlloc > roomBytes/2 {
		t.Errorf("%d MB in use after the room was given up", m.HeapAlloc>>20)
	}
	const size = 16 << 20
	b := make([]byte, size)
	if flags := flagsOf(t, reflect.ValueOf(b).Pointer()+size/2); !strings.Contains(flags, " hg") {
		t.Errorf("memory with the flags%s, want hg among them", flags)
	}
	runtime.KeepAlive(b)
}

// flagsOf returns what the system says of the memory at an address.
func flagsOf(t *testing.T, at uintptr) string {
	f, err := os.Open("/proc/self/smaps")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	in := false
	for s := bufio.NewScanner(f); s.Scan(); {
		var from, to uintptr
		if n, _ := fmt.Sscanf(s.Text(), "%x-%x", &from, &to); n == 2 {
			in = from <= at && at < to
		} else if flags, ok := strings.CutPrefix(s.Text(), "VmFlags:"); ok && in {
			return flags
		}
	}
	t.Fatal("/proc/self/smaps has no such memory")
	return ""
}

// Advice on memory that is there is heeded, on memory that is not it is not.
func TestAdvise(t *testing.T) {
	b, err := unix.Mmap(-1, 0, 2*hugeBytes, unix.PROT_READ|unix.PROT_WRITE, unix.MAP_ANON|unix.MAP_PRIVATE)
	if err != nil {
		t.Fatal(err)
	}
	at := reflect.ValueOf(b).Pointer()
	if !advise(at, 2*hugeBytes, unix.MADV_HUGEPAGE) {
		t.Skip("this system has no huge pages")
	}
	if flags := flagsOf(t, at); !strings.Contains(flags, " hg") {
		t.Errorf("memory with the flags%s, want hg among them", flags)
	}
	if err := unix.Munmap(b); err != nil {
		t.Fatal(err)
	}
	if advise(0, hugeBytes, unix.MADV_HUGEPAGE) {
		t.Error("advice was heeded where nothing ever lies")
	}
}
