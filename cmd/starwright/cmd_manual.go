package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"starwright/cmd/internal/packet"
	"starwright/geom/words"
)

func (a *app) manualCommand() *cobra.Command {
	return &cobra.Command{
		Use:    "manual",
		Short:  "Print the manual page, for man",
		Long:   "manual prints the manual page. Keep it where man looks, or read it at once:\n\n    starwright manual >starwright.1 && man ./starwright.1",
		Hidden: true, // for those who install programs for others
		Args:   cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			_, err := fmt.Fprint(a.out, manual(c.Root()))
			return err
		},
	}
}

// Parts of the manual page that no command says.
const (
	manualFiles = `[job.toml]The job file that plan, make and fit take where none is named. starwright init writes one to start from.
[shop.toml]What your shop has: machines, saw, cutters, boards. starwright init --shop writes one. The one beside the job counts, else the one in your configuration folder.
[NAME-packet]The packet of NAME.toml, a folder. manifest.json in it lists every file with its hash and the figures of its proof.`

	manualStatus = `[0]All is well.
[1]A file fails its check; with make, nothing is released.
[2]The job or the command line is wrong.
[3]Reading or writing failed.
[129, 130, 143]Stopped by a closed terminal, by Ctrl-C, by the system. A packet in the making is thrown away.`

	manualCare = `This work can hurt. Keep the guards on, clamp small pieces, and make the first run an air cut with one hand at the stop. The manual of the machine, the rules of the place where you work and people licensed to know better come before anything that this program says.`
)

// manual returns the manual page of all commands, in the macros of man(7). It
// carries no date: the same program prints the same page.
//
// It is written here and not by cobra's doc package, which would bring a reader of
// Markdown along to turn these few paragraphs into macros.
func manual(root *cobra.Command) string {
	var m roff
	m.line(".TH %s 1 \"\" %s \"User commands\"", quoted(strings.ToUpper(root.Name())), quoted(root.Name()+" "+packet.Version()))
	m.head("NAME")
	m.text(root.Name() + " - " + lowerFirst(root.Short))
	m.head("SYNOPSIS")
	commands := []*cobra.Command{}
	for _, c := range root.Commands() {
		if c.IsAvailableCommand() && c.Name() != "help" {
			commands = append(commands, c)
		}
	}
	for _, c := range commands {
		m.line(".B %s", quoted(c.UseLine()))
		m.line(".br")
	}
	m.head("DESCRIPTION")
	m.paragraphs(root.Long)
	m.head("COMMANDS")
	for _, c := range commands {
		m.command(c)
	}
	for _, s := range [][2]string{{"FILES", manualFiles}, {"EXIT STATUS", manualStatus}} {
		m.head(s[0])
		for l := range strings.Lines(s[1]) {
			name, text, _ := strings.Cut(strings.TrimPrefix(strings.TrimSpace(l), "["), "]")
			m.item(name, text)
		}
	}
	m.head("BEFORE YOU CUT")
	m.text(manualCare)
	return m.String()
}

// roff is a manual page in the making.
type roff struct{ strings.Builder }

func (m *roff) line(format string, values ...any) { fmt.Fprintf(m, format+"\n", values...) }

func (m *roff) head(title string) { m.line(".SH %s", quoted(title)) }

// text writes a filled paragraph.
func (m *roff) text(s string) {
	for l := range strings.Lines(s) {
		m.line("%s", escaped(strings.TrimSpace(l)))
	}
}

// item writes a name with what there is to say of it, set in.
func (m *roff) item(name, text string) {
	m.line(".TP")
	m.line(".B %s", quoted(name))
	m.text(text)
}

// paragraphs writes text as --help prints it: what is set in stays as it is.
func (m *roff) paragraphs(s string) {
	for i, p := range strings.Split(s, "\n\n") {
		if i > 0 {
			m.line(".PP")
		}
		if !strings.Contains("\n"+p, "\n ") {
			m.text(p)
			continue
		}
		m.line(".nf")
		for l := range strings.Lines(p) {
			m.line("%s", escaped(strings.TrimRight(l, "\n")))
		}
		m.line(".fi")
	}
}

// command writes what a command does, with its flags.
func (m *roff) command(c *cobra.Command) {
	m.line(".SS %s", quoted(c.UseLine()))
	m.text(strings.TrimSuffix(c.Short, ".") + ".")
	if c.Long != "" {
		m.line(".PP")
		m.paragraphs(c.Long)
	}
	for _, f := range flagLine().FindAllStringSubmatch(c.LocalFlags().FlagUsages(), -1) {
		name, kind, usage := f[1], f[2], f[3]
		switch kind {
		case "":
		case "int", "float":
			name += " N"
		default:
			name += " VALUE"
		}
		m.item(name, strings.ToUpper(usage[:1])+usage[1:]+".")
	}
}

// flagLine is a flag in the list that --help prints: how it is written, what kind
// of value it takes, what it does.
var flagLine = words.Pattern(`(?m)^ +((?:-[a-z], )?--[a-z-]+)(?: ([a-z]+))? {2,}(.+)$`)

// escaped returns a line of text for roff: backslashes and hyphens as they are
// typed, and no line that looks like a macro.
func escaped(s string) string {
	s = strings.NewReplacer(`\`, `\e`, "-", `\-`).Replace(s)
	if strings.HasPrefix(s, ".") || strings.HasPrefix(s, "'") {
		s = `\&` + s
	}
	return s
}

// quoted returns text as one argument of a macro.
func quoted(s string) string { return `"` + strings.ReplaceAll(escaped(s), `"`, `\(dq`) + `"` }

func lowerFirst(s string) string { return strings.ToLower(s[:1]) + s[1:] }
