package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"coldcheck/netlist/setfile"
)

const readme = "../../README.md"

var (
	// readmeBlock is a file, or a command with what it prints.
	readmeBlock = regexp.MustCompile("(?s)```(console|toml)\n(.*?)```")
	// readmeFile begins a file that README shows, or what is added to one.
	readmeFile = regexp.MustCompile(`^# (added to )?(\S+\.toml)\n`)
	// typed is an answer that a person types in what README shows.
	typed = regexp.MustCompile(`(?m)^[a-z0-9-]+ \[.*?\]: (.*)$`)
)

// What README shows as output is what the program prints, of the files that README shows and of the examples, one after another as they
// stand there. Every set file that it shows loads, without a notice.
func TestReadmeShowsRealOutput(t *testing.T) {
	text, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	if err := os.CopyFS(filepath.Join(folder, "netlist", "examples"), os.DirFS("../../netlist/examples")); err != nil {
		t.Fatal(err)
	}
	t.Chdir(folder)
	commands, sets := 0, 0
	for _, b := range readmeBlock.FindAllStringSubmatch(string(text), -1) {
		if b[1] == "toml" {
			sets += readmeWrites(t, b[2])
			continue
		}
		line, want, _ := strings.Cut(strings.TrimPrefix(b[2], "$ coldcheck "), "\n")
		var input strings.Builder
		for _, answer := range typed.FindAllStringSubmatch(want, -1) {
			input.WriteString(answer[1] + "\n")
		}
		var out, errs bytes.Buffer
		run(strings.Fields(line), strings.NewReader(input.String()), &out, &errs)
		commands++
		if errs.Len() > 0 {
			t.Errorf("coldcheck %s: %s", line, errs.String())
		}
		if out.String() != want {
			t.Errorf("coldcheck %s prints\n%s\nREADME shows\n%s", line, out.String(), want)
		}
	}
	if commands == 0 || sets == 0 {
		t.Fatalf("README has %d console blocks and shows %d set files", commands, sets)
	}
}

// readmeWrites writes a file that README shows, or adds to one. A set file must load as it is then; it returns how
// many did.
func readmeWrites(t *testing.T, block string) int {
	t.Helper()
	head := readmeFile.FindStringSubmatch(block)
	if head == nil {
		t.Errorf("a file without a name:\n%s", block)
		return 0
	}
	var old []byte
	if head[1] != "" {
		var err error
		if old, err = os.ReadFile(head[2]); err != nil {
			t.Error(err)
		}
	}
	if err := os.WriteFile(head[2], append(old, block...), 0o666); err != nil {
		t.Fatal(err)
	}
	if strings.HasSuffix(head[2], answersSuffix) {
		return 0
	}
	set, err := setfile.LoadFile(head[2], nil)
	if err != nil {
		t.Error(err)
		return 0
	}
	if len(set.Notices) > 0 {
		t.Errorf("%s has notices: %v", head[2], set.Notices)
	}
	return 1
}
