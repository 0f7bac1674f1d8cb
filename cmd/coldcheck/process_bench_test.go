package main

import (
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

// line is a program that prints one line: what any program takes.
const line = `package main

import "fmt"

func main() { fmt.Println("a line") }
`

// BenchmarkProcess times whole processes: those of 60 parts by the median, and against the median of
// one that only prints a line, as so many lines. COLDCHECK_LARGE names a folder with the larger sets,
// as go test ./netlist/settest -run TestWriteLarge writes them.
func BenchmarkProcess(b *testing.B) {
	folder := b.TempDir()
	source := filepath.Join(folder, "line.go")
	if err := os.WriteFile(source, []byte(line), 0o666); err != nil {
		b.Fatal(err)
	}
	build := func(name, what string) string {
		program := filepath.Join(folder, name)
		c := exec.Command("go", "build", "-o", program, what)
		c.Env = append(os.Environ(), "CGO_ENABLED=0")
		if out, err := c.CombinedOutput(); err != nil {
			b.Fatalf("%v\n%s", err, out)
		}
		return program
	}
	printer, coldcheck := build("line", source), build("coldcheck", ".")
	once := func(b *testing.B, program string, args ...string) time.Duration {
		c := exec.Command(program, args...)
		c.Stdout, c.Stderr = io.Discard, os.Stderr
		start := time.Now()
		err := c.Run()
		if exit, ok := err.(*exec.ExitError); err != nil && (!ok || exit.ExitCode() != statusFound) {
			b.Fatal(err)
		}
		return time.Since(start)
	}
	process := func(name, program string, args ...string) {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				once(b, program, args...)
			}
		})
	}
	// beside runs the line before each run, as the machine's speed changes, and compares the medians.
	beside := func(name string, args ...string) {
		b.Run(name, func(b *testing.B) {
			var lines, runs []time.Duration
			for b.Loop() {
				lines = append(lines, once(b, printer))
				runs = append(runs, once(b, coldcheck, args...))
			}
			slices.Sort(lines)
			slices.Sort(runs)
			half := len(runs) / 2
			b.ReportMetric(float64(runs[half])/float64(lines[half]), "lines")
			b.ReportMetric(float64(runs[half])/1e6, "ms")
		})
	}
	sixty := filepath.Join("..", "..", "testdata", "large", "sixty-parts.toml")
	beside("parts=60/faults=2", "inspect", "--brief", "--faults", "2", sixty)
	beside("parts=60/faults=3", "inspect", "--brief", "--faults", "3", sixty)
	beside("parts=60/remedies", "inspect", sixty)
	large := os.Getenv("COLDCHECK_LARGE")
	if large == "" {
		return
	}
	for _, parts := range []string{"500", "1000", "2000", "4000", "8000"} {
		process("parts="+parts+"/faults=1", coldcheck, "inspect", "--brief", "--faults", "1", filepath.Join(large, "parts-"+parts+".toml"))
	}
	process("parts=20000/trace", coldcheck, "trace", filepath.Join(large, "parts-19980.toml"))
	forty, err := filepath.Glob(filepath.Join(large, "forty", "*.toml"))
	if err != nil || len(forty) == 0 {
		b.Fatalf("no sets of forty parts in %s", large)
	}
	process("sets=1000/parts=40/faults=2", coldcheck, append([]string{"inspect", "--brief", "--faults", "2"}, forty...)...)
}
