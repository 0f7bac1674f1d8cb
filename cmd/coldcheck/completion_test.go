package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"

	"coldcheck/cmd/coldcheck/flags"
	"coldcheck/cmd/coldcheck/usage"
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
	{[]string{"draft", "--answers", "no"}, []string{"notes.txt"}, nil},
	{[]string{"why", "hot"}, []string{"hot-chassis"}, []string{"kitchen.toml"}},
	{[]string{"part", "35"}, []string{"35W4", "35Z5GT"}, nil},
	{[]string{"example", "hot"}, []string{"hot-chassis", "hot-chassis-plan"}, nil},
	{[]string{"schema", ""}, []string{"set", "plan", "inspect", "checklist"}, []string{"example"}},
	{[]string{"completion", ""}, []string{"bash", "fish", "powershell", "zsh"}, nil},
	{[]string{"help", "re"}, []string{"rework"}, []string{"inspect"}},
	{[]string{"kitchen.toml", "--br"}, []string{"--brief"}, nil},
}

// shellFinds is the environment of a shell that finds the program under its name, and nothing of the
// user's own completions.
func shellFinds(t *testing.T) []string {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	if err := os.Symlink(self, filepath.Join(folder, "coldcheck")); err != nil {
		t.Skip(err)
	}
	return append(os.Environ(), "PATH="+folder+string(os.PathListSeparator)+os.Getenv("PATH"), "HOME="+folder)
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

// completed are the lines of an answer without what they stand for, and without the stroke of a folder.
func completed(out []byte, stands string) []string {
	var words []string
	for l := range strings.Lines(string(out)) {
		word, _, _ := strings.Cut(strings.TrimSuffix(l, "\n"), stands)
		words = append(words, strings.TrimSuffix(strings.ReplaceAll(strings.TrimRight(word, " "), `\ `, " "), "/"))
	}
	return words
}

// TestCompletionAnswers: what the shells are told, whichever it is.
func TestCompletionAnswers(t *testing.T) {
	t.Chdir(shellFolder(t))
	checkCompletions(t, func(typed []string) []string {
		var out, errs bytes.Buffer
		if status := run(append([]string{cobra.ShellCompRequestCmd}, typed...), nil, &out, &errs); status != statusOK || errs.Len() > 0 {
			t.Errorf("%q: status %d, %s", typed, status, &errs)
		}
		return completed(out.Bytes(), "\t")
	})
}

func TestBashCompletes(t *testing.T) {
	shell, folder, env := shellOr(t, "bash"), shellFolder(t), shellFinds(t)
	script, _ := ran(t, "", "completion", "bash")
	complete := func(words []string) []string {
		cmd := exec.Command(shell, append([]string{"--norc", "-c", script + `
COMP_WORDS=(coldcheck "$@")
COMP_CWORD=$#
__start_coldcheck
printf '%s\n' "${COMPREPLY[@]}"`, "bash"}, words...)...)
		cmd.Dir, cmd.Env = folder, append(env, "COLUMNS=80")
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("%q: %v", words, err)
		}
		return completed(out, "  (")
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
	shell, folder, env := shellOr(t, "fish"), shellFolder(t), shellFinds(t)
	text, _ := ran(t, "", "completion", "fish")
	script := filepath.Join(t.TempDir(), "coldcheck.fish")
	if err := os.WriteFile(script, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	checkCompletions(t, func(words []string) []string {
		line := "coldcheck " + strings.Join(words, " ")
		cmd := exec.Command(shell, "--no-config", "-c", "source "+script+"; complete -C '"+line+"'")
		cmd.Dir, cmd.Env = folder, env
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("%s: %v", line, err)
		}
		return completed(out, "\t")
	})
}

// TestZshReads: zsh reads the script without complaint.
func TestZshReads(t *testing.T) {
	script, _ := ran(t, "", "completion", "zsh")
	cmd := exec.Command(shellOr(t, "zsh"), "-f", "-n")
	cmd.Stdin = strings.NewReader(script)
	if out, err := cmd.CombinedOutput(); err != nil || len(out) > 0 {
		t.Errorf("%v: %s", err, out)
	}
}

// TestEveryShellAsks: the script of every shell asks the program itself.
func TestEveryShellAsks(t *testing.T) {
	for _, s := range shells {
		script, _ := ran(t, "", "completion", s.name)
		if !strings.Contains(script, cobra.ShellCompRequestCmd) {
			t.Errorf("%s does not ask", s.name)
		}
	}
}

// TestCompletionsNameFlags: every command is offered, every flag of it, every choice of each.
func TestCompletionsNameFlags(t *testing.T) {
	answer := func(typed ...string) []string {
		out, _ := ran(t, "", append([]string{cobra.ShellCompNoDescRequestCmd}, typed...)...)
		return strings.Split(out, "\n")
	}
	first := answer("")
	for _, c := range commands() {
		if !slices.Contains(first, c.Name()) {
			t.Errorf("no %s in %q", c.Name(), first)
		}
		offered := answer(c.Name(), "--")
		for _, f := range usage.Flags(c) {
			if !slices.Contains(offered, "--"+f.Name) {
				t.Errorf("no --%s of %s in %q", f.Name, c.Name(), offered)
			}
			for _, w := range flags.Choices(f.Value) {
				if values := answer(c.Name(), "--"+f.Name, ""); !slices.Contains(values, w) {
					t.Errorf("no %s of --%s of %s in %q", w, f.Name, c.Name(), values)
				}
			}
		}
	}
}
