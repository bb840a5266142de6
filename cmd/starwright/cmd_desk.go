package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"runtime"

	"github.com/spf13/cobra"

	"starwright/cmd/internal/desk"
	"starwright/cmd/internal/release"
)

func (a *app) deskCommand() *cobra.Command {
	var port int
	var noOpen bool
	c := &cobra.Command{
		Use:   "desk [FOLDER]",
		Short: "Design the star in the browser, with the job files of a folder",
		Long: `desk opens a page in your browser, served by this machine to nobody else. On it
you see the star change as you type, decide, and make and check packets. It
reads and writes job files, the shop file and packets of FOLDER (left out: the
folder you are in) and nothing else.

The first line it prints is the address with the key to it. Ctrl-C ends it.`,
		Args: atMostOne("folder"),
		RunE: func(_ *cobra.Command, args []string) error {
			folder := "."
			if len(args) > 0 {
				folder = args[0]
			}
			return a.desk(folder, port, noOpen)
		},
	}
	c.Flags().IntVar(&port, "port", 0, "port to serve at; 0 takes one that is free")
	c.Flags().BoolVar(&noOpen, "no-open", false, "print the address and do not open the browser")
	return c
}

// desk serves the desk until somebody ends it.
func (a *app) desk(path string, port int, noOpen bool) error {
	if port < 0 || port > 65535 {
		return &exitError{status: exitUsage, lines: []string{fmt.Sprintf("--port: a port is a number from 0 to 65535 (got %d). Try: --port 0", port)}}
	}
	if info, err := os.Stat(path); err == nil && !info.IsDir() {
		return &exitError{status: exitUsage, lines: []string{path + ": this is a file; the desk takes the folder it lies in"}}
	}
	folder, err := desk.OpenFolder(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return &exitError{status: exitIO, lines: []string{path + ": there is no such folder; make it first, or name another"}}
	case err != nil:
		return failure(err)
	}
	defer folder.Close()
	if own := ownShop(); own != "" {
		shop, err := readSettings(own, "shop")
		if err != nil {
			return err
		}
		folder.Usual = &shop
	}
	s, err := desk.Open(folder, port)
	if err != nil {
		if port != 0 {
			return &exitError{status: exitIO, lines: []string{fmt.Sprintf("--port: another program is at port %d. Try: --port 0", port)}}
		}
		return failure(err)
	}
	ctx, stop := a.untilStopped()
	defer stop()
	if _, err := fmt.Fprintln(a.out, s.Address()); err != nil {
		return failure(err)
	}
	fmt.Fprintln(a.out, "Open this address in your browser if it has not opened by itself. Ctrl-C ends the desk.")
	if !noOpen {
		openBrowser(s.Address())
	}
	err = s.Serve(ctx)
	release.Stop() // a packet that is still in the making is thrown away
	if err != nil {
		return failure(err)
	}
	return nil
}

// openers are the programs that open an address in the user's browser, by
// system. The address, which is the desk's own, is the last argument.
var openers = map[string][]string{
	"darwin":  {"open"},
	"windows": {"rundll32", "url.dll,FileProtocolHandler"},
}

// openBrowser opens the desk's address. Where that fails, the address stands on
// the screen.
func openBrowser(address string) {
	with, ok := openers[runtime.GOOS]
	if !ok {
		with = []string{"xdg-open"}
	}
	c := exec.Command(with[0], append(with[1:], address)...)
	if c.Start() == nil {
		go c.Wait()
	}
}
