package main

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// mounted puts a small disk in memory in the shop's place and moves the
// packet and the jobs there. Where the system does not let the test mount
// anything it returns false: then TestTortureSmallFiles is what meets failing
// writes.
func (s *shop) mounted(options string) bool {
	s.t.Helper()
	disk := filepath.Join(s.t.TempDir(), "disk")
	if err := os.Mkdir(disk, 0o755); err != nil {
		s.t.Fatal(err)
	}
	err := syscall.Mount("tmpfs", disk, "tmpfs", 0, options)
	if errors.Is(err, syscall.EPERM) || errors.Is(err, syscall.EACCES) {
		s.t.Logf("mounting is not permitted here (%v); failing writes are met by TestTortureSmallFiles alone", err)
		return false
	}
	if err != nil {
		s.t.Fatal(err)
	}
	s.t.Cleanup(func() { syscall.Unmount(disk, 0) })
	if err := os.CopyFS(disk, os.DirFS(s.dir)); err != nil {
		s.t.Fatal(err)
	}
	s.dir = disk
	return true
}

// On a disk with too little room the old packet stays; with enough the new one
// comes.
func TestTortureFullDisk(t *testing.T) {
	s := newShop(t)
	if !s.mounted("size=16m") {
		return
	}
	filler := filepath.Join(s.dir, "filler.toml")
	size := 0
	for _, data := range s.want[0] {
		size += len(data)
	}
	refused, step := 0, size/diskSteps
	for room := 0; ; room += step {
		fill(t, s.dir, filler, room)
		cmd, said := s.command("make", "-o", "packet", s.job(0))
		exit := exitOf(t, cmd.Run())
		if exit == 0 {
			break
		}
		refused++
		if exit != 3 || s.which("packet") != 1 || !strings.Contains(said.String(), "no room left on this disk, so nothing was changed") ||
			strings.Contains(said.String(), ".packet") {
			t.Fatalf("%d bytes of room: exit %d, the packet is %d\n%s", room, exit, s.which("packet"), said)
		}
		s.clean("after a full disk")
	}
	if refused < 2 || s.which("packet") != 0 {
		t.Errorf("refused %d times, then the packet is %d", refused, s.which("packet"))
	}
	s.clean("at the end")
	t.Logf("%d runs met a full disk", refused)
}

// fill writes a file that leaves so much room on its disk.
func fill(t *testing.T, dir, filler string, room int) {
	t.Helper()
	os.Remove(filler)
	var st syscall.Statfs_t
	if err := syscall.Statfs(dir, &st); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filler, make([]byte, int(st.Bavail)*int(st.Bsize)-room), 0o644); err != nil {
		t.Fatal(err)
	}
}

// A folder in which the maker may not write: by its mode, as somebody who is
// not root, and by its disk.
func TestTortureReadOnly(t *testing.T) {
	s := newShop(t)
	if err := os.Chmod(s.dir, 0o555); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(s.dir, 0o755)
	cmd, said := s.command("make", "-o", "packet", s.job(0))
	if os.Geteuid() == 0 { // whom no mode stops
		cmd.Path = openBin(t, s.bin)
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
	}
	if exit := exitOf(t, cmd.Run()); exit != 3 || s.which("packet") != 1 || !strings.Contains(said.String(), s.dir+": you may not write in this folder") {
		t.Errorf("exit %d, the packet is %d: %s", exit, s.which("packet"), said)
	}
	os.Chmod(s.dir, 0o755)
	s.clean("after a folder without permission")
	if !s.mounted("size=16m") {
		return
	}
	if err := syscall.Mount("", s.dir, "", syscall.MS_REMOUNT|syscall.MS_RDONLY, "size=16m"); err != nil {
		t.Fatal(err)
	}
	if said := s.must(3, "make", "-o", "packet", s.job(0)); !strings.Contains(said, "this disk is read-only") {
		t.Errorf("said %q", said)
	}
	if s.which("packet") != 1 {
		t.Error("the packet has changed")
	}
	s.must(0, "check", "packet")
}

// openBin returns a program that everybody may run.
func openBin(t *testing.T, bin string) string {
	t.Helper()
	own := t.TempDir()
	for _, d := range []string{filepath.Dir(own), own} {
		if err := os.Chmod(d, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	data, err := os.ReadFile(bin)
	if err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(own, "starwright")
	if err := os.WriteFile(to, data, 0o755); err != nil {
		t.Fatal(err)
	}
	return to
}

// What cannot be printed is an error too.
func TestTorturePrinting(t *testing.T) {
	s := newShop(t)
	for _, args := range [][]string{{"plan", s.job(0)}, {"plan", "--json", s.job(0)}, {"check", "packet"}, {"make", "-o", "other", s.job(0)}, {"version"}, {"--help"}} {
		full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
		if err != nil {
			t.Fatal(err)
		}
		cmd, said := s.command(args...)
		cmd.Stdout = full
		exit := exitOf(t, cmd.Run())
		full.Close()
		if exit != 3 || !strings.Contains(said.String(), "standard output: ") {
			t.Errorf("%v: exit %d: %s", args, exit, said)
		}
	}
}
