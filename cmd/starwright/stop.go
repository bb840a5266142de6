package main

import (
	"context"
	"os"
	"os/signal"
	"slices"
	"strings"
	"syscall"

	"starwright/cmd/internal/release"
)

// heedSignals has the program clean up before it ends where somebody stops it:
// by Ctrl-C, by the system, by a terminal that is closed. A second signal ends
// it where it stands. Signals that the caller has turned off, as nohup does,
// stay off.
func (a *app) heedSignals() {
	came := make(chan os.Signal, 1)
	heeded := notIgnored()
	if len(heeded) == 0 {
		return // Notify would take none for all
	}
	signal.Notify(came, heeded...)
	a.atEase = func() { signal.Stop(came) }
	go func() {
		s := <-came
		signal.Reset(heeded...)
		a.stop(s)
	}()
}

// untilStopped is for a command that works until somebody stops it, and then
// comes to its end by itself.
func (a *app) untilStopped() (context.Context, context.CancelFunc) {
	heeded := notIgnored()
	if len(heeded) == 0 {
		return context.WithCancel(context.Background())
	}
	ctx, stop := signal.NotifyContext(context.Background(), heeded...)
	if a.atEase != nil {
		a.atEase()
	}
	return ctx, stop
}

func notIgnored() []os.Signal {
	return slices.DeleteFunc(slices.Clone(stopSignals), signal.Ignored)
}

// unlessStopped does nothing where nobody has stopped the program, and else waits
// for its end.
func (a *app) unlessStopped() {
	a.stopping.Lock()
	defer a.stopping.Unlock()
}

// stop throws away what is in the making, says so and ends the program. It does
// nothing where the command has come to its end just before.
func (a *app) stop(s os.Signal) {
	const beyond = 128 // a shell's status for a signal is its number more
	if !a.stopping.TryLock() {
		return
	}
	thrown, released := release.Stop()
	words := "stopped"
	switch {
	case len(released) > 0:
		words += "; " + strings.Join(released, ", ") + " had been released by then"
	case len(thrown) > 0:
		words += "; nothing was changed"
	}
	a.bar.Load().end()
	e := &exitError{status: beyond + int(syscall.SIGINT), lines: []string{words}}
	if n, ok := s.(syscall.Signal); ok {
		e.status = beyond + int(n)
	}
	printed := a.page.close()
	last := &app{out: a.page.w, err: a.err, json: a.json && !printed}
	last.report(e)
	os.Exit(e.status)
}
