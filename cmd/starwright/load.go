package main

import (
	"errors"
	"io"
	"io/fs"
	"os"

	"starwright/cmd/internal/job"
	"starwright/cmd/internal/packet"
)

// maxJobFile is the largest job file that is read, in bytes; a job of every
// key there is has a few thousand.
const maxJobFile = 1 << 20

// load reads the job that a command names, or the built-in one. watch hears
// how far the work is, and may be nil.
func load(args []string, watch packet.Progress) (*packet.Work, error) {
	name, source := job.BuiltInName, job.BuiltIn()
	if len(args) > 0 {
		name = args[0]
		info, err := os.Stat(name)
		if errors.Is(err, fs.ErrNotExist) {
			return nil, &exitError{status: exitIO, lines: []string{name + ": there is no such file; starwright init writes a job file to start from"}}
		}
		if err != nil {
			return nil, failure(err)
		}
		if info.IsDir() {
			return nil, &exitError{status: exitUsage, lines: []string{name + ": this is a folder; name the job file in it, as in " + name + "/job.toml"}}
		}
		if source, err = readUpTo(name, maxJobFile+1); err != nil {
			return nil, failure(err)
		}
		if len(source) > maxJobFile {
			return nil, &exitError{status: exitUsage, lines: []string{name + ": too large for a job file, which has at most 1 MB"}}
		}
	}
	w, errs := packet.LoadWatched(name, source, watch)
	if len(errs) > 0 {
		return nil, jobErrors(errs)
	}
	return w, nil
}

// readUpTo reads the beginning of a file, which may be a pipe without an end.
func readUpTo(name string, most int64) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, most))
}
