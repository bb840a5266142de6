package main

import "github.com/spf13/cobra"

// inOurWords gives the commands and flags that the library adds words of the shop.
func inOurWords(root *cobra.Command) {
	root.InitDefaultHelpCmd()
	root.InitDefaultCompletionCmd()
	for _, c := range append(root.Commands(), root) {
		switch c.Name() {
		case "help":
			c.Short, c.Long = "Explain a command", "help explains a command, as --help behind it does."
		case "completion":
			c.Short = "Print what your shell needs to complete commands, job files and flags"
			c.Long = `completion prints what your shell needs to complete commands, job files and the
values of flags when you press Tab. Say which shell; its --help says where to put
what is printed. To try it in bash, in this window alone:

    source <(starwright completion bash)`
			for _, shell := range c.Commands() {
				shell.Short = "Print it for " + shell.Name()
			}
		}
		c.InitDefaultHelpFlag()
		c.Flags().Lookup("help").Usage = "explain this command"
	}
}

// offerFiles has the shell offer the job files of a folder.
func offerFiles(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
}

// offer has the shell offer the values of a flag. It stops the program where
// there is no such flag, which any call shows.
func offer(c *cobra.Command, flag string, values ...string) {
	err := c.RegisterFlagCompletionFunc(flag, func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return values, cobra.ShellCompDirectiveNoFileComp
	})
	if err != nil {
		panic(err)
	}
}
