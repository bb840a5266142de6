package main

import (
	"errors"
	"io"

	"github.com/spf13/cobra"

	"starwright/geom/words"
)

// app is one call of the program.
type app struct {
	in       io.Reader
	out, err io.Writer
	json     bool
}

// run carries one command line out and returns the exit status.
func run(args []string, in io.Reader, out, errOut io.Writer) int {
	cobra.MousetrapHelpText = "" // a double click opens the desk
	page := &keeper{w: out}
	a := &app{in: in, out: page, err: errOut}
	root := a.root()
	root.SetArgs(args)
	root.SetOut(page)
	root.SetErr(errOut)
	err := root.Execute()
	var e *exitError
	switch {
	case page.err != nil:
		e = &exitError{status: exitIO, lines: []string{words.OneLine("standard output: " + page.err.Error())}}
		a.json = false
	case err == nil:
		return exitOK
	case !errors.As(err, &e):
		e = usage(err) // cobra's own: an unknown flag or command
	}
	a.report(e)
	return e.status
}

// keeper keeps the first error of a writer, which nobody who prints asks for.
type keeper struct {
	w   io.Writer
	err error
}

func (k *keeper) Write(p []byte) (int, error) {
	n, err := k.w.Write(p)
	if k.err == nil {
		k.err = err
	}
	return n, err
}

func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "starwright",
		Short: "Batches of solid wooden stars, from a job file to a checked packet",
		Long: `starwright turns a job file of a dozen lines into every number of a batch of
solid wooden stars, and into a packet of outlines and slot programs of which
each file has been read back from disk and back-plotted before it is released.

Start with:  starwright init         write a job file to edit
             starwright plan         say every number of it
             starwright make         make the packet
             starwright check packet prove the packet as it lies on disk
or all of it on a page:
             starwright desk         opens in your browser

Without a job file, plan and make use a job that is built in.`,
		SilenceUsage:  true,
		SilenceErrors: true,
		Args:          cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if doubleClicked() { // a double click on Windows
				return a.desk(".", 0, false)
			}
			return c.Help()
		},
	}
	root.CompletionOptions.HiddenDefaultCmd = true
	root.AddCommand(a.planCommand(), a.makeCommand(), a.checkCommand(), a.initCommand(), a.fitCommand(), a.deskCommand(), a.versionCommand())
	return root
}

// jsonFlag adds --json to a command.
func (a *app) jsonFlag(c *cobra.Command) {
	c.Flags().BoolVar(&a.json, "json", false, "one JSON document on standard output, and nothing else there")
}
