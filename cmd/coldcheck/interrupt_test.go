package main

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"io/fs"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"

	"coldcheck/netlist/examples"
	"coldcheck/netlist/settest"
)

// process is the program in a process of its own.
func process(t *testing.T, args ...string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	return &exec.Cmd{Path: self, Args: append([]string{"coldcheck"}, args...), Dir: t.TempDir()}
}

// TestInterrupt: interrupted, the program says so, ends with status 2 and leaves no file.
func TestInterrupt(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no interrupt can be sent there")
	}
	cmd := process(t, "inspect", "--write", "report.txt", "-")
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	stdin, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	// More than a pipe holds: once it is taken, the program is past its start and reading.
	if _, err := stdin.Write(bytes.Repeat([]byte("# not yet whole\n"), 1<<14)); err != nil {
		t.Fatal(err)
	}
	if err := cmd.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	var ended *exec.ExitError
	if err := cmd.Wait(); !errors.As(err, &ended) || ended.ExitCode() != statusBad {
		t.Errorf("ended with %v, want status %d", err, statusBad)
	}
	if out.Len() > 0 || !strings.HasPrefix(errs.String(), "coldcheck: interrupted;") || strings.Count(errs.String(), "\n") != 1 {
		t.Errorf("printed %q and %q", &out, &errs)
	}
	if left, err := os.ReadDir(cmd.Dir); err != nil || len(left) > 0 {
		t.Errorf("left %v, %v", left, err)
	}
}

// TestInterruptOfTheBench: interrupted, the live bench closes, says so, ends with the same status and leaves no file. What
// would keep it from opening is told with that status too.
func TestInterruptOfTheBench(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no interrupt can be sent there")
	}
	cmd := process(t, "bench", "--no-open", "set.toml") // its example, with no browser
	e, _ := examples.FindSet("line-bypass")
	if err := os.WriteFile(filepath.Join(cmd.Dir, "set.toml"), []byte(e.Text), 0o666); err != nil {
		t.Fatal(err)
	}
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	address, err := bufio.NewReader(out).ReadString('\n')
	if err != nil || !strings.HasPrefix(address, "http://127.0.0.1:") {
		t.Fatalf("printed %q, %v", address, err)
	}
	page, err := http.Get(strings.TrimSpace(address))
	if err != nil {
		t.Fatal(err)
	}
	page.Body.Close()
	port := regexp.MustCompile(`:([0-9]+)/`).FindStringSubmatch(address)[1]
	var taken bytes.Buffer
	status := run([]string{"bench", "--no-open", "--port", port, filepath.Join(cmd.Dir, "set.toml")}, nil, io.Discard, &taken)
	if status != statusBad || page.StatusCode != http.StatusOK || !strings.Contains(taken.String(), "is taken by another program") {
		t.Errorf("page %d; on the same port status %d, %q", page.StatusCode, status, &taken)
	}
	if err := cmd.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	var ended *exec.ExitError
	if err := cmd.Wait(); !errors.As(err, &ended) || ended.ExitCode() != statusBad {
		t.Errorf("ended with %v, want status %d", err, statusBad)
	}
	if !strings.Contains(errs.String(), "coldcheck: interrupted; the bench is closed") || strings.Count(errs.String(), "\n") != 2 {
		t.Errorf("said %q", &errs)
	}
	if left, err := os.ReadDir(cmd.Dir); err != nil || len(left) != 1 {
		t.Errorf("left %v, %v", left, err)
	}
}

// TestUnwritable: a file or a folder that cannot be written or read is told with status 2, and
// nothing is left behind.
func TestUnwritable(t *testing.T) {
	t.Chdir(t.TempDir())
	e, _ := examples.FindSet("line-bypass")
	if err := os.WriteFile("set.toml", []byte(e.Text), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir("closed", 0o500); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile("secret.toml", []byte(e.Text), 0o000); err != nil {
		t.Fatal(err)
	}
	tests := [][]string{{"inspect", "--write", "set.toml/report.txt", "set.toml"}, {"checklist", "--write", "no/such/folder.txt", "set.toml"},
		{"example", "--write", "closed", "hot-chassis"}, {"inspect", "set.toml/x"}}
	if _, err := os.ReadFile("secret.toml"); errors.Is(err, fs.ErrPermission) { // not so for root
		tests = append(tests, []string{"inspect", "secret.toml"}, []string{"states", "secret.toml"}, []string{"inspect", "--write", "closed/report.txt", "set.toml"})
	}
	for _, args := range tests {
		var out, errs bytes.Buffer
		if status := run(args, nil, &out, &errs); status != statusBad || out.Len() > 0 || errs.Len() == 0 || strings.Contains(errs.String(), "goroutine") {
			t.Errorf("%q: status %d, %q, %q", args, status, &out, &errs)
		}
	}
	if left, err := filepath.Glob("*/*"); err != nil || len(left) > 0 {
		t.Errorf("left %v, %v", left, err)
	}
}

// failing takes some bytes and then fails, as a full disk does.
type failing struct {
	room int
	err  error
}

func (f *failing) Write(p []byte) (int, error) {
	if len(p) > f.room {
		n := f.room
		f.room = 0
		return n, f.err
	}
	f.room -= len(p)
	return len(p), nil
}

// TestFullDisk: wherever the disk is full, every command says so once and ends with status 2. A
// reader that goes away is no error.
func TestFullDisk(t *testing.T) {
	small := settest.With("W1 = { kind = \"wire\", ends = [\"N\", \"chassis\"] }\n", "chassis")
	full := errors.New("no space left on device")
	for i, args := range [][]string{{"inspect", "-"}, {"inspect", "--format", "json", "-"}, {"inspect", "--format", "html", "-"}, {"states", "-"},
		{"states", "--format", "json", "-"}, {"trace", "-"}, {"checklist", "-"}, {"example"}, {"example", "hot-chassis"}, {"part"}, {"why"},
		{"schema", "set"}, {"completion", "zsh"}, {"help"}, {"help", "--manual"}, {}} {
		for k, room := range []int{0, 100} {
			if k == i%2 && i > 0 { // the one or the other of a command, both of the first
				continue
			}
			var errs bytes.Buffer
			status := run(args, strings.NewReader(small), &failing{room, full}, &errs)
			if want := "coldcheck: cannot write the result: no space left on device\n"; status != statusBad || errs.String() != want {
				t.Errorf("%q with room for %d: status %d, %q", args, room, status, &errs)
			}
			errs.Reset()
			if status := run(args, strings.NewReader(small), &failing{room, &fs.PathError{Op: "write", Path: "|1", Err: io.ErrClosedPipe}}, &errs); status == statusBad || errs.Len() > 0 {
				t.Errorf("%q with a reader gone after %d: status %d, %q", args, room, status, &errs)
			}
		}
	}
}
