package main

import (
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"starwright/cmd/internal/job"
)

// shopFlag adds --shop to a command.
func (a *app) shopFlag(c *cobra.Command) {
	c.Flags().StringVar(&a.shop, "shop", "", "file that says what your shop has (left out: shop.toml beside the job, then the one in your configuration folder)")
	if err := c.MarkFlagFilename("shop", "toml"); err != nil {
		panic(err) // there is the flag, two lines above
	}
	c.PreRun = func(*cobra.Command, []string) { a.shopGiven = c.Flags().Changed("shop") }
}

// findShop reads the shop's file for a job file: the one that was named, else
// shop.toml beside the job, else the one in the user's configuration folder. It
// is nil where there is none, where the name is empty, and for the built-in job,
// which brings its own shop, unless one was named.
func (a *app) findShop(jobFile string) (*job.File, error) {
	name := a.shop
	switch {
	case name != "":
	case a.shopGiven, jobFile == "":
		return nil, nil
	default:
		if name = usualShop(jobFile); name == "" {
			return nil, nil
		}
	}
	f, err := readSettings(name, "shop")
	if err != nil {
		return nil, err
	}
	return &f, nil
}

// usualShop returns the shop file that is taken where none is named, "" for
// none.
func usualShop(jobFile string) string {
	beside := filepath.Join(filepath.Dir(jobFile), job.ShopName)
	if plainFile(beside) && !sameFile(beside, jobFile) {
		return beside
	}
	return ownShop()
}

// ownShop returns the shop file in the user's configuration folder, "" for none.
func ownShop() string {
	if dir, err := os.UserConfigDir(); err == nil {
		if of := filepath.Join(dir, "starwright", job.ShopName); plainFile(of) {
			return of
		}
	}
	return ""
}

// plainFile reports whether there is a file of that name.
func plainFile(name string) bool {
	info, err := os.Stat(name)
	return err == nil && info.Mode().IsRegular()
}

// sameFile reports whether two names are of one file.
func sameFile(a, b string) bool {
	x, err := os.Stat(a)
	if err != nil {
		return false
	}
	y, err := os.Stat(b)
	return err == nil && os.SameFile(x, y)
}
