package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// Imports run one way: cmd, rules, analysis, netlist. Only netlist reads TOML, only analysis uses
// gonum, only the command reads flags. Test files may do as they need.
func TestImportsRunOneWay(t *testing.T) {
	level := map[string]int{"netlist": 0, "analysis": 1, "rules": 2, "cmd": 3}
	home := map[string]string{"github.com/BurntSushi/toml": "netlist", "gonum.org/v1/gonum": "analysis", "github.com/spf13/pflag": "cmd", "github.com/spf13/cobra": "cmd"}
	files := 0
	err := filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		files++
		rel, err := filepath.Rel("../..", path)
		if err != nil {
			return err
		}
		top, _, _ := strings.Cut(filepath.ToSlash(rel), "/")
		parsed, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, i := range parsed.Imports {
			name, err := strconv.Unquote(i.Path.Value)
			if err != nil {
				return err
			}
			if own, ok := strings.CutPrefix(name, "coldcheck/"); ok {
				other, _, _ := strings.Cut(own, "/")
				if level[other] > level[top] {
					t.Errorf("%s imports %s", rel, name)
				}
			}
			for module, only := range home {
				if strings.HasPrefix(name, module) && top != only {
					t.Errorf("%s imports %s, which belongs to %s", rel, name, only)
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if files == 0 {
		t.Fatal("no source was read")
	}
}
