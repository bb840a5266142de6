package main

import "github.com/spf13/cobra"

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
