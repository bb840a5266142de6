package main

import (
	"errors"
	"io"
	"sync"
	"sync/atomic"

	"github.com/spf13/cobra"

	"starwright/geom/words"
)

// app is one call of the program.
type app struct {
	in       io.Reader
	page     *keeper // standard output
	out, err io.Writer
	json     bool
	bar      atomic.Pointer[bar] // the one that stands on the terminal, if any
	atEase   func()              // has a signal no longer end the program
	stopping sync.Mutex          // held for good by the one who ends the program

	shop      string // --shop, as typed
	shopGiven bool   // whether it was; "" is no shop file at all
}

func newApp(in io.Reader, out, errOut io.Writer) *app {
	page := &keeper{w: out}
	return &app{in: in, page: page, out: page, err: errOut}
}

func (a *app) run(args []string) int {
	cobra.MousetrapHelpText = "" // a double click opens the desk
	root := a.root()
	root.SetArgs(args)
	root.SetOut(a.out)
	root.SetErr(a.err)
	err := root.Execute()
	a.stopping.Lock() // where a signal has come first, it has the last word
	var e *exitError
	switch failed := a.page.failed(); {
	case failed != nil:
		e = &exitError{status: exitIO, lines: []string{words.OneLine("standard output: " + failed.Error())}}
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
	w io.Writer

	mu     sync.Mutex
	err    error
	closed bool // nothing more is printed
	used   bool
}

func (k *keeper) Write(p []byte) (int, error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.closed {
		return len(p), nil
	}
	k.used = true
	n, err := k.w.Write(p)
	if k.err == nil {
		k.err = err
	}
	return n, err
}

func (k *keeper) failed() error {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.err
}

// close lets nothing more through, and reports whether anything was.
func (k *keeper) close() (used bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.closed = true
	return k.used
}

func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "starwright",
		Short: "Batches of solid wooden stars, from a job file to a checked packet",
		Long: `starwright turns a job file of a dozen lines into every number of a batch of
solid wooden stars, and into a packet of outlines and slot programs. Each file
is read back from disk and back-plotted before the packet is released.

Start with:  starwright init              write job.toml, then edit it
             starwright plan              print its numbers
             starwright make              make its packet, job-packet
             starwright check job-packet  prove the packet as it lies on disk
or all of it on a page:
             starwright desk              opens in your browser

Where you name no job file, plan, make and fit take job.toml of the folder you
are in. Where there is none, plan and make take a job that is built in, and say
so in their first line.

Your shell can complete commands, job files and the values of flags: see
starwright completion --help`,
		SilenceUsage:  true,
		SilenceErrors: true,
		Args:          noSuchCommand,
		RunE: func(c *cobra.Command, _ []string) error {
			if doubleClicked() { // a double click on Windows
				return a.desk(".", 0, false)
			}
			return c.Help()
		},
	}
	root.SetFlagErrorFunc(flagError)
	root.AddCommand(a.planCommand(), a.makeCommand(), a.checkCommand(), a.initCommand(), a.fitCommand(), a.deskCommand(), a.versionCommand(), a.manualCommand())
	inOurWords(root)
	return root
}

// jsonFlag adds --json to a command.
func (a *app) jsonFlag(c *cobra.Command) {
	c.Flags().BoolVar(&a.json, "json", false, "one JSON document on standard output, and nothing else there")
}
