package main

import (
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// The commands are driven whole, by the scripts in testdata/script.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"starwright": main})
}

func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("HOME", e.WorkDir)
			return os.MkdirAll(e.WorkDir, 0o755)
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"status":    status,
			"replace":   replace,
			"editsheet": editSheet,
			"named":     named,
		},
	})
}
