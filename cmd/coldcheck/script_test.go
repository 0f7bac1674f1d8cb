package main

import (
	"encoding/json"
	"errors"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "rewrite the golden reports and what scripts compare with")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"coldcheck": main})
}

// TestScripts runs the program as a person would, one script a topic.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Files:               scripts(t),
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("ODD", "\x1b[31m.toml")
			return nil
		},
		Condition: func(name string) (bool, error) {
			path, ok := pathOf(name, "exists:")
			if !ok {
				return false, errors.New("unknown condition")
			}
			_, err := os.Stat(path)
			return err == nil, nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits": exits,
			"json":  isJSON,
		},
	})
}

func scripts(t *testing.T) []string {
	files, err := filepath.Glob("testdata/*.txtar")
	if err != nil || len(files) == 0 {
		t.Fatalf("no scripts: %v", err)
	}
	return files
}

func pathOf(name, prefix string) (string, bool) {
	if len(name) <= len(prefix) || name[:len(prefix)] != prefix {
		return "", false
	}
	return name[len(prefix):], true
}

// exits is the command "exits N program argument…": the program must end with that very status.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits STATUS program [argument…]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	var ended *exec.ExitError
	switch err := ts.Exec(args[1], args[2:]...); {
	case errors.As(err, &ended):
		got = ended.ExitCode()
	case err != nil:
		ts.Fatalf("%v", err)
	}
	if got != want {
		ts.Fatalf("exit status %d, want %d", got, want)
	}
}

// isJSON is the command "json FILE": the file must be one JSON value.
func isJSON(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: json FILE")
	}
	if !json.Valid([]byte(ts.ReadFile(args[0]))) {
		ts.Fatalf("%s is no JSON", args[0])
	}
}
