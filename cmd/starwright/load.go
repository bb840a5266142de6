package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"starwright/cmd/internal/job"
	"starwright/cmd/internal/packet"
	"starwright/geom/words"
)

// maxJobFile is the largest job file that is read, in bytes; a job of every
// key there is has a few thousand.
const maxJobFile = 1 << 20

// usualJob is the job file that a command takes where none is named.
const usualJob = "job.toml"

// load reads the job that a command names; where it names none, the folder's
// job.toml if there is one, else the built-in job. watch hears how far the
// work is, and may be nil.
func (a *app) load(args []string, watch packet.Progress) (*packet.Work, error) {
	in := job.Input{Job: job.File{Name: job.BuiltInName, Data: job.BuiltIn()}}
	file := jobFile(args)
	var err error
	if file != "" {
		if in.Job, err = readSettings(file, "job"); err != nil {
			return nil, err
		}
	}
	if in.Shop, err = a.findShop(file); err != nil {
		return nil, err
	}
	w, err := packet.Load(context.Background(), in, watch)
	if err != nil {
		return nil, failure(err)
	}
	return w, nil
}

// jobFile returns the job file that is meant, "" for the built-in job.
func jobFile(args []string) string {
	switch {
	case len(args) > 0:
		return args[0]
	case isThere(usualJob):
		return usualJob
	}
	return ""
}

// isThere reports whether there is something of that name, be it only a link
// that leads nowhere.
func isThere(name string) bool {
	_, err := os.Lstat(name)
	return err == nil
}

// sayJob says which job a page is about, and which shop it is made in.
func (a *app) sayJob(args []string, w *packet.Work) {
	line := "The job " + words.OneLine(w.Job.Name)
	switch {
	case w.Job.Name == job.BuiltInName:
		line = fmt.Sprintf("The built-in job, for there is no %s in this folder. Your own: starwright init", usualJob)
	case len(args) == 0:
		line = "The job of this folder, " + usualJob
	}
	if w.Job.ShopFile != "" {
		line += ", in the shop of " + words.OneLine(w.Job.ShopFile)
	}
	fmt.Fprintln(a.out, line)
}

// readSettings reads a job file or a shop file.
func readSettings(name, what string) (job.File, error) {
	info, err := os.Stat(name)
	if errors.Is(err, fs.ErrNotExist) {
		make := "starwright init"
		if what == "shop" {
			make = "starwright init --shop"
		}
		return job.File{}, &exitError{status: exitIO, lines: []string{fmt.Sprintf("%s: there is no such file; %s writes a %s file to start from", name, make, what)}}
	}
	if err != nil {
		return job.File{}, failure(err)
	}
	if info.IsDir() {
		return job.File{}, &exitError{status: exitUsage, lines: []string{fmt.Sprintf("%s: this is a folder; name the %s file in it, as in %s/%s.toml", name, what, strings.TrimRight(name, "/"), what)}}
	}
	source, err := readUpTo(name, maxJobFile+1)
	if err != nil {
		return job.File{}, failure(err)
	}
	if len(source) > maxJobFile {
		return job.File{}, &exitError{status: exitUsage, lines: []string{fmt.Sprintf("%s: too large for a %s file, which has at most 1 MB", name, what)}}
	}
	return job.File{Name: name, Data: source}, nil
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
