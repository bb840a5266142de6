package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"starwright/geom/words"
)

// atMostOne refuses a second file or folder; what says what the one is.
func atMostOne(what string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) < 2 {
			return nil
		}
		return &exitError{status: exitUsage, lines: []string{words.OneLine(fmt.Sprintf("%s takes one %s (got %s: %s)", c.Name(), what, inWords(len(args)), quotedAll(args)))}}
	}
}

// inWords is a small number in words.
func inWords(n int) string {
	few := []string{"none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"}
	if n < len(few) {
		return few[n]
	}
	return strconv.Itoa(n)
}

func quotedAll(args []string) string {
	out := make([]string, len(args))
	for i, a := range args {
		out[i] = strconv.Quote(a)
	}
	return strings.Join(out, " ")
}

// noSuchCommand names the command that was meant.
func noSuchCommand(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	var names []string
	for _, k := range c.Commands() {
		if k.IsAvailableCommand() {
			names = append(names, k.Name())
		}
	}
	line := fmt.Sprintf("there is no command %q", args[0])
	switch near := words.Meant(args[0], names); {
	case near != "":
		line += ". Try: starwright " + near
	case strings.HasSuffix(args[0], ".toml"):
		line += ". Try: starwright plan " + args[0]
	default:
		line += "; the commands are " + strings.Join(names, ", ")
	}
	return &exitError{status: exitUsage, lines: []string{words.OneLine(line)}}
}

// flagName finds the flags in the list that --help prints of them.
var flagName = words.Pattern(`(?m)^ +(?:-[a-z], )?--([a-z-]+)`)

// flagError says what is wrong with a flag, and which one was meant.
func flagError(c *cobra.Command, err error) error {
	m := err.Error()
	if name, ok := strings.CutPrefix(m, "unknown flag: --"); ok {
		line := fmt.Sprintf("%s: there is no --%s", c.Name(), name)
		var names []string
		for _, f := range flagName().FindAllStringSubmatch(c.Flags().FlagUsages(), -1) {
			names = append(names, f[1])
		}
		if near := words.Meant(name, names); near != "" {
			line += ". Try: --" + near
		} else {
			line += "; starwright " + c.Name() + " --help lists them"
		}
		return &exitError{status: exitUsage, lines: []string{words.OneLine(line)}}
	}
	if name, ok := strings.CutPrefix(m, "flag needs an argument: "); ok {
		return &exitError{status: exitUsage, lines: []string{words.OneLine(fmt.Sprintf("%s: there is nothing behind %s; starwright %s --help says what goes there", c.Name(), name, c.Name()))}}
	}
	return err
}
