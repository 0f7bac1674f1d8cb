package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// shellFolder is a folder with set files and others in it, to complete in.
func shellFolder(t *testing.T) string {
	t.Helper()
	folder := t.TempDir()
	for _, name := range []string{"kitchen.toml", "kit parts.toml", "notes.txt"} {
		if err := os.WriteFile(filepath.Join(folder, name), nil, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(folder, "attic"), 0o777); err != nil {
		t.Fatal(err)
	}
	return folder
}

// shellOr skips where the shell is not here.
func shellOr(t *testing.T, shell string) string {
	t.Helper()
	path, err := exec.LookPath(shell)
	if err != nil {
		t.Skip("no " + shell)
	}
	return path
}

// completions are lines, the last word of each what is completed, with some that must come and some
// that must not.
var completions = []struct {
	words []string
	want  []string
	not   []string
}{
	{[]string{"ins"}, []string{"inspect"}, []string{"states"}},
	{[]string{""}, []string{"inspect", "rework", "completion", "kitchen.toml"}, []string{"notes.txt"}},
	{[]string{"inspect", ""}, []string{"kitchen.toml", "kit parts.toml", "attic"}, []string{"notes.txt", "--format"}},
	{[]string{"inspect", "ki"}, []string{"kitchen.toml", "kit parts.toml"}, []string{"attic", "inspect"}},
	{[]string{"inspect", "--f"}, []string{"--faults", "--fail-on", "--format"}, []string{"--brief", "--plug"}},
	{[]string{"inspect", "--format", ""}, []string{"text", "json", "html"}, []string{"kitchen.toml"}},
	{[]string{"states", "--plug", ""}, []string{"as-marked", "reversed"}, []string{"kitchen.toml"}},
	{[]string{"inspect", "--write", "no"}, []string{"notes.txt"}, nil},
	{[]string{"why", "hot"}, []string{"hot-chassis"}, []string{"kitchen.toml"}},
	{[]string{"part", "35"}, []string{"35W4", "35Z5GT"}, nil},
	{[]string{"example", "hot"}, []string{"hot-chassis", "hot-chassis-plan"}, nil},
	{[]string{"schema", ""}, []string{"set", "plan", "inspect", "checklist"}, []string{"example"}},
	{[]string{"completion", ""}, []string{"bash", "fish", "zsh"}, nil},
	{[]string{"help", "re"}, []string{"rework"}, []string{"inspect"}},
	{[]string{"kitchen.toml", "--br"}, []string{"--brief"}, nil},
}

func checkCompletions(t *testing.T, complete func(words []string) []string) {
	t.Helper()
	for _, c := range completions {
		got := complete(c.words)
		for _, w := range c.want {
			if !slices.Contains(got, w) {
				t.Errorf("%q: %q does not come, but %q", c.words, w, got)
			}
		}
		for _, w := range c.not {
			if slices.Contains(got, w) {
				t.Errorf("%q: %q comes", c.words, w)
			}
		}
	}
}

func TestBashCompletes(t *testing.T) {
	shell, folder := shellOr(t, "bash"), shellFolder(t)
	complete := func(words []string) []string {
		cmd := exec.Command(shell, append([]string{"--norc", "-c", bashScript() + `
COMP_WORDS=(coldcheck "$@")
COMP_CWORD=$#
_coldcheck
printf '%s\n' "${COMPREPLY[@]}"`, "bash"}, words...)...)
		cmd.Dir = folder
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("%q: %v", words, err)
		}
		return strings.Split(strings.TrimSuffix(string(out), "\n"), "\n")
	}
	checkCompletions(t, complete)
	// A value behind "=", which bash takes for a word by itself.
	for _, words := range [][]string{{"inspect", "--format", "="}, {"inspect", "--format", "=", "js"}} {
		if got := complete(words); !slices.Contains(got, "json") {
			t.Errorf("%q: %q", words, got)
		}
	}
}

func TestFishCompletes(t *testing.T) {
	shell, folder := shellOr(t, "fish"), shellFolder(t)
	script := filepath.Join(folder, "coldcheck.fish")
	if err := os.WriteFile(script, []byte(fishScript()), 0o666); err != nil {
		t.Fatal(err)
	}
	checkCompletions(t, func(words []string) []string {
		line := "coldcheck " + strings.Join(words, " ")
		cmd := exec.Command(shell, "--no-config", "-c", "source coldcheck.fish; complete -C '"+line+"'")
		cmd.Dir = folder
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("%s: %v", line, err)
		}
		var got []string
		for l := range strings.Lines(string(out)) {
			word, _, _ := strings.Cut(strings.TrimSuffix(l, "\n"), "\t")
			got = append(got, strings.TrimSuffix(strings.ReplaceAll(word, `\ `, " "), "/"))
		}
		return got
	})
}

// TestZshReads: zsh reads the script without complaint.
func TestZshReads(t *testing.T) {
	cmd := exec.Command(shellOr(t, "zsh"), "-f", "-n")
	cmd.Stdin = strings.NewReader(zshScript())
	if out, err := cmd.CombinedOutput(); err != nil || len(out) > 0 {
		t.Errorf("%v: %s", err, out)
	}
}

// TestCompletionsNameFlags: every script names every command, every flag, every choice of each.
func TestCompletionsNameFlags(t *testing.T) {
	for _, script := range []string{bashScript(), zshScript(), fishScript()} {
		for _, c := range commands() {
			if !strings.Contains(script, c.name) {
				t.Errorf("no %s in\n%s", c.name, script)
			}
			for _, f := range c.flags {
				if !strings.Contains(script, "--"+f.name) && !strings.Contains(script, "-l "+f.name+" ") {
					t.Errorf("no --%s of %s in\n%s", f.name, c.name, script)
				}
				for _, w := range f.argument().words {
					if !strings.Contains(script, w) {
						t.Errorf("no %s of --%s in\n%s", w, f.name, script)
					}
				}
			}
		}
	}
}
