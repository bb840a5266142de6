package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"starwright/cmd/internal/job"
	"starwright/cmd/internal/packet"
	"starwright/cmd/internal/release"
	"starwright/geom/words"
)

func (a *app) initCommand() *cobra.Command {
	var shop, order bool
	c := &cobra.Command{
		Use:   "init [FILE]",
		Short: "Write a commented job file, with --order one of several sizes, or with --shop a shop file; never overwrites",
		Args:  atMostOne("file"),
		RunE: func(_ *cobra.Command, args []string) error {
			name, content := usualName(shop), job.Starter()
			switch {
			case shop && order:
				return &exitError{status: exitUsage, lines: []string{"init writes one file: --shop or --order. Try: starwright init --order"}}
			case shop:
				content = job.ShopStarter()
			case order:
				content = job.OrderStarter()
			}
			if len(args) > 0 {
				name = args[0]
			}
			if why, instead := packet.NameFault(filepath.Base(name)); why != "" {
				return &exitError{status: exitUsage, lines: []string{fmt.Sprintf("%s: this name %s. Try: starwright init %s", name, why, filepath.Join(filepath.Dir(name), instead))}}
			}
			content = calledBy(content, filepath.Base(name))
			f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
			if info, e := os.Stat(name); e == nil && info.IsDir() {
				return &exitError{status: exitUsage, lines: []string{fmt.Sprintf("%s: this is a folder; name the file to write in it. Try: %s", words.OneLine(name), filepath.Join(name, usualName(shop)))}}
			}
			if errors.Is(err, fs.ErrExist) {
				return &exitError{status: exitUsage, lines: []string{words.OneLine(name) + ": there is a file of this name, which is left alone; give another name"}}
			}
			if errors.Is(err, fs.ErrPermission) {
				err = &fs.PathError{Op: release.OpChange, Path: filepath.Dir(name), Err: err}
			}
			if err != nil {
				return failure(err)
			}
			_, err = f.Write(content)
			if err = errors.Join(err, f.Close()); err != nil {
				os.Remove(name) // half a job file is worse than none
				return failure(err)
			}
			if shop {
				fmt.Fprintf(a.out, "wrote %s; say in it what you have. Next: starwright init\n", words.OneLine(name))
				return nil
			}
			fmt.Fprintf(a.out, "wrote %s; edit it, then run: starwright plan %s\n", words.OneLine(name), typed(name))
			return nil
		},
	}
	c.Flags().BoolVar(&shop, "shop", false, "write a file of what your shop has, for every job")
	c.Flags().BoolVar(&order, "order", false, "write a job of several sizes of star")
	return c
}

// calledBy is a file to start from whose notes call it by its own name.
func calledBy(content []byte, name string) []byte {
	for _, command := range []string{"starwright plan ", "starwright make "} {
		content = bytes.ReplaceAll(content, []byte(command+usualJob), []byte(command+typed(name)))
	}
	return content
}

// typed is a name as it is typed in a command: in quotes where it has a space.
func typed(name string) string {
	if s := words.OneLine(name); strings.Contains(s, " ") {
		return `"` + s + `"`
	}
	return words.OneLine(name)
}

// usualName is the name of the file that init writes.
func usualName(shop bool) string {
	if shop {
		return job.ShopName
	}
	return usualJob
}
