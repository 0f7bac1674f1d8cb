package main

import (
	"bytes"
	"os"
	"os/exec"
	"strings"
	"testing"

	"coldcheck/cmd/coldcheck/usage"
	"coldcheck/netlist/examples"
)

// TestExamplesOfHelp runs every example that help gives, in a folder that has a set.toml where the
// example does not make one. Each must do what it says: no bad use, and something to show.
func TestExamplesOfHelp(t *testing.T) {
	hot, ok := examples.FindSet("hot-chassis")
	if !ok {
		t.Fatal("no such example")
	}
	for _, c := range commands() {
		if c.Name() == "bench" {
			continue // it runs until it is interrupted, as TestInterruptOfTheBench has it do
		}
		t.Run(c.Name(), func(t *testing.T) {
			t.Chdir(t.TempDir())
			if !strings.Contains(c.Example, "--write set.toml") {
				if err := os.WriteFile("set.toml", []byte(hot.Text), 0o666); err != nil {
					t.Fatal(err)
				}
			}
			shown, own := 0, false
			for line := range strings.SplitSeq(c.Example, "\n") {
				args := strings.Fields(line)
				if len(args) < 2 || args[0] != "coldcheck" {
					t.Fatalf("%q is no line that one can type", line)
				}
				own = own || args[1] == c.Name()
				var out, errs bytes.Buffer
				if status := run(args[1:], strings.NewReader(""), &out, &errs); status == statusBad || errs.Len() > 0 {
					t.Errorf("%s: status %d: %s", line, status, &errs)
				}
				shown += out.Len()
			}
			files, err := os.ReadDir(".")
			if err != nil {
				t.Fatal(err)
			}
			if !own || shown == 0 && len(files) < 2 {
				t.Errorf("the example does not show what %s does", c.Name())
			}
		})
	}
}

// TestManual: the page has all that help has, and the formatter finds nothing amiss in it.
func TestManual(t *testing.T) {
	page, _ := ran(t, "", "help", "--manual")
	plain := strings.NewReplacer(`\-`, "-", `\e`, `\`, `\&`, "", "\n", " ").Replace(page)
	flat := strings.Join(strings.Fields(plain), " ")
	for _, c := range commands() {
		wanted := append(strings.Split(c.Long, "\n\n"), strings.Split(c.Example, "\n")...)
		for _, f := range usage.Flags(c) {
			wanted = append(wanted, f.Usage, usage.Written(f))
		}
		for _, w := range wanted {
			if w = strings.ReplaceAll(strings.Join(strings.Fields(w), " "), "…", "..."); !strings.Contains(flat, w) {
				t.Errorf("%s: the page lacks %q", c.Name(), w)
			}
		}
	}
	groff, err := exec.LookPath("groff")
	if err != nil {
		t.Skip("no groff")
	}
	cmd := exec.Command(groff, "-man", "-Tutf8", "-ww", "-z", "-k")
	cmd.Stdin = strings.NewReader(page)
	if out, err := cmd.CombinedOutput(); err != nil || len(out) > 0 {
		t.Errorf("%v: %s", err, out)
	}
}
