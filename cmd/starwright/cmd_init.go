package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"starwright/cmd/internal/job"
	"starwright/cmd/internal/packet"
	"starwright/cmd/internal/release"
	"starwright/geom/words"
)

func (a *app) initCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "init [FILE]",
		Short: "Write a commented job file to start from; never overwrites",
		Args:  cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			name := "job.toml"
			if len(args) > 0 {
				name = args[0]
			}
			if why, instead := packet.NameFault(filepath.Base(name)); why != "" {
				return &exitError{status: exitUsage, lines: []string{fmt.Sprintf("%s: this name %s. Try: starwright init %s", name, why, filepath.Join(filepath.Dir(name), instead))}}
			}
			f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
			if errors.Is(err, fs.ErrExist) {
				return &exitError{status: exitUsage, lines: []string{words.OneLine(name) + ": there is a file of this name, which is left alone; give another name"}}
			}
			if errors.Is(err, fs.ErrPermission) {
				err = &fs.PathError{Op: release.OpChange, Path: filepath.Dir(name), Err: err}
			}
			if err != nil {
				return failure(err)
			}
			_, err = f.Write(job.Starter())
			if err = errors.Join(err, f.Close()); err != nil {
				os.Remove(name) // half a job file is worse than none
				return failure(err)
			}
			fmt.Fprintf(a.out, "wrote %s; edit it, then run: starwright plan %s\n", words.OneLine(name), words.OneLine(name))
			return nil
		},
	}
}
