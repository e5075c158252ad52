package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"stopgap": main})
}

// TestScripts runs the command lines of testdata/script: exit statuses, what
// is printed where, and the files that are written or not written. $SCORES is
// the folder of the project's own scores.
func TestScripts(t *testing.T) {
	scores, err := filepath.Abs("../../testdata")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		UpdateScripts:       os.Getenv("UPDATE_SCRIPTS") != "",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("SCORES", scores)
			env.Setenv("STOPGAP_ORGAN", "")
			env.Setenv("COLUMNS", "80")
			return nil
		},
	})
}
