package main

import (
	"bytes"
	"os"
	"regexp"
	"strings"
	"testing"

	"coldcheck/netlist/setfile"
)

const readme = "../../README.md"

// What README shows as output is what the program prints.
func TestReadmeShowsRealOutput(t *testing.T) {
	text, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	blocks := regexp.MustCompile("(?s)```console\n\\$ coldcheck ([^\n]*)\n(.*?)```").FindAllStringSubmatch(string(text), -1)
	if len(blocks) == 0 {
		t.Fatal("README has no console block")
	}
	t.Chdir("../..")
	for _, b := range blocks {
		var out, errs bytes.Buffer
		run(strings.Fields(b[1]), strings.NewReader(""), &out, &errs)
		if errs.Len() > 0 {
			t.Errorf("coldcheck %s: %s", b[1], errs.String())
		}
		if out.String() != b[2] {
			t.Errorf("coldcheck %s prints\n%s\nREADME shows\n%s", b[1], out.String(), b[2])
		}
	}
}

// The set file that README shows loads.
func TestReadmeSetFile(t *testing.T) {
	text, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	block := regexp.MustCompile("(?s)```toml\n(\\[set\\].*?)```").FindStringSubmatch(string(text))
	if block == nil {
		t.Fatal("README shows no set file")
	}
	set, err := setfile.Load("README.toml", strings.NewReader(block[1]))
	if err != nil {
		t.Fatal(err)
	}
	if len(set.Notices) > 0 {
		t.Errorf("the set file of README has notices: %v", set.Notices)
	}
}
