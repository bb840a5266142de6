//go:build unix || windows

package release

import (
	"bufio"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
)

// target of the process that this test starts of itself, in its environment.
const childTarget = "STARWRIGHT_TEST_TARGET"

// TestMain is also the process that is killed: it begins a packet, says so and
// waits.
func TestMain(m *testing.M) {
	if target := os.Getenv(childTarget); target != "" {
		s, err := Begin(target, nil)
		if err == nil {
			err = s.Write("sub/file", []byte("half"))
		}
		if err != nil {
			os.Stdout.WriteString(err.Error() + "\n")
			os.Exit(3)
		}
		os.Stdout.WriteString("begun\n")
		bufio.NewReader(os.Stdin).ReadString('\n')
		os.Exit(3)
	}
	os.Exit(m.Run())
}

// The system frees the lock of a process that was killed, and the next run
// removes what that has left.
func TestKilledHolder(t *testing.T) {
	dir := t.TempDir()
	target := filepath.Join(dir, "packet")
	put(t, "old", target, "file")
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	child := exec.Command(self)
	child.Env = append(os.Environ(), childTarget+"="+target)
	in, err1 := child.StdinPipe()
	out, err2 := child.StdoutPipe()
	if err := errors.Join(err1, err2, child.Start()); err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	if said, err := bufio.NewReader(out).ReadString('\n'); said != "begun\n" {
		t.Fatalf("%q, %v", said, err)
	}
	if _, err := Begin(target, nil); !errors.Is(err, ErrBusy) {
		t.Errorf("a second one began: %v", err)
	}
	if err := child.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	child.Wait()
	if got := names(t, dir); len(got) < 2 {
		t.Fatalf("the killed one left nothing: %v", got)
	}
	if kept, err := begin(t, target).Commit(); err != nil || kept != "" {
		t.Fatalf("%q, %v", kept, err)
	}
	if got := names(t, dir); !slices.Equal(got, []string{"packet"}) || words(t, target, "sub", "file") != "new" {
		t.Errorf("there are %v", got)
	}
}
