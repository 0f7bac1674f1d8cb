package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/cobra"

	"coldcheck/cmd/coldcheck/text"
	"coldcheck/cmd/coldcheck/usage"
	"coldcheck/netlist/examples"
)

// ran is what a run of the program writes, and its exit status. What reads its set from standard input is run
// once, however many tests ask: TestRepeatable says that it comes out alike.
func ran(t *testing.T, stdin string, args ...string) (stdout string, status int) {
	t.Helper()
	if len(args) == 0 || stdin == "" || args[len(args)-1] != "-" {
		return ranAnew(t, stdin, args...)
	}
	key := stdin + "\x00" + strings.Join(args, "\x00")
	if was, ok := ranBefore.Load(key); ok {
		x := was.(outcome)
		return x.stdout, x.status
	}
	stdout, status = ranAnew(t, stdin, args...)
	ranBefore.Store(key, outcome{stdout, status})
	return stdout, status
}

// outcome is what a run wrote, and its exit status.
type outcome struct {
	stdout string
	status int
}

// ranBefore are runs by their standard input and arguments.
var ranBefore sync.Map

// ranAnew is ran, whether it ran before or not.
func ranAnew(t *testing.T, stdin string, args ...string) (stdout string, status int) {
	t.Helper()
	var out, errs bytes.Buffer
	status = run(args, strings.NewReader(stdin), &out, &errs)
	if errs.Len() > 0 {
		t.Fatalf("coldcheck %s: %s", strings.Join(args, " "), &errs)
	}
	return out.String(), status
}

// TestGolden holds the whole report of every example, text and JSON, against the one that was read
// and found right.
func TestGolden(t *testing.T) {
	examples := examples.Sets()
	if len(examples) == 0 {
		t.Fatal("no examples")
	}
	folder, err := filepath.Abs(filepath.Join("..", "..", "testdata", "golden"))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range examples {
		t.Run(e.Name, func(t *testing.T) {
			for format, ending := range map[string]string{formatText: ".txt", formatJSON: ".json"} {
				got, _ := ran(t, e.Text, "inspect", "--format", format, "-")
				want := filepath.Join(folder, e.Name+ending)
				golden(t, want, got)
			}
		})
	}
}

// golden holds a text against a golden file, or writes the file with -update.
func golden(t *testing.T, want, got string) {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(want), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(want, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	text, err := os.ReadFile(want)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(text), got); diff != "" {
		t.Errorf("%s differs (-want +got):\n%s", filepath.Base(want), diff)
	}
}

// TestRepeatable: the same set gives the same bytes, in every command and format.
func TestRepeatable(t *testing.T) {
	const times = 8
	e, ok := examples.FindSet("three-way-portable")
	if !ok {
		t.Fatal("no such example")
	}
	for _, args := range [][]string{
		{"inspect", "--format", "json", "-"}, {"inspect", "-"}, {"states", "-"}, {"states", "--format", "json", "-"},
		{"trace", "-"}, {"trace", "--format", "json", "-"},
	} {
		t.Run(strings.Join(args, " "), func(t *testing.T) {
			first, _ := ranAnew(t, e.Text, args...)
			for range times - 1 {
				if again, _ := ranAnew(t, e.Text, args...); again != first {
					t.Fatalf("two runs differ (-first +again):\n%s", cmp.Diff(first, again))
				}
			}
		})
	}
}

// TestFits: no line of a report is wider than the page, and none promises safety.
func TestFits(t *testing.T) {
	for _, e := range examples.Sets() {
		for _, name := range []string{"inspect", "states", "trace"} {
			out, _ := ran(t, e.Text, name, "-")
			for line := range strings.Lines(out) {
				if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > text.Width {
					t.Errorf("%s %s: %d columns: %s", name, e.Name, n, line)
				}
			}
			for _, promise := range []string{"is safe", "are safe", "safe to"} {
				if strings.Contains(strings.ToLower(out), promise) {
					t.Errorf("%s %s says %q", name, e.Name, promise)
				}
			}
		}
	}
}

// commands are the commands, ready to be looked at.
func commands() []*cobra.Command { return newProgram(nil, nil, nil).commands }

// TestHelpNamesFlags: help tells every command, and each command's help every flag of it.
func TestHelpNamesFlags(t *testing.T) {
	list, _ := ran(t, "", "help")
	for _, c := range commands() {
		if !strings.Contains(list, "\n  "+c.Name()+" ") {
			t.Errorf("help does not tell %s", c.Name())
		}
		out, _ := ran(t, "", "help", c.Name())
		for _, f := range usage.Flags(c) {
			if !strings.Contains(out, "--"+f.Name) {
				t.Errorf("help %s does not tell --%s", c.Name(), f.Name)
			}
		}
		if !strings.Contains(out, "coldcheck "+c.Name()) || c.Example == "" || c.Run == nil {
			t.Errorf("help %s is not whole", c.Name())
		}
	}
}
