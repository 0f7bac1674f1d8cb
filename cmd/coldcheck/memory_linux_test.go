package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// mostMemory is what a run may take at its most, in KiB as Linux tells it.
const mostMemory = 512 << 10

// TestMemory: no command takes over 512 MiB on sets that are large in one way or the other: many
// switch positions, or many touch points.
func TestMemory(t *testing.T) {
	touch := func(n int) string {
		return strings.Replace(hostileHead, "[parts]", lines(n, func(i int) string { return fmt.Sprintf(`t%d = { touch = "fastener" }`, i) })+"[parts]", 1) +
			lines(n, func(i int) string {
				return fmt.Sprintf(`C%d = { kind = "capacitor", ends = [%q, "t%d"], value = "1 nF" }`, i, []string{"L", "N"}[i%2], i)
			})
	}
	positions := func(switches int) string {
		return hostileHead + lines(switches, func(i int) string {
			return fmt.Sprintf("S%d = { kind = \"switch\", ends = [\"a%d\", \"L\"] }\nQ%d = { kind = \"resistor\", ends = [\"a%d\", \"b\"], value = \"100k\" }", i, i, i, i)
		}) + lines(30, func(i int) string {
			return fmt.Sprintf(`X%d = { kind = "resistor", ends = ["r%d", "b"], value = "%dk" }`, i, i, i+1)
		}) + `D1 = { kind = "rectifier", anode = "b", cathode = "chassis" }`
	}
	for name, c := range map[string]struct {
		commands []string
		text     string
	}{
		"512 positions":     {[]string{"inspect", "inspect --format html"}, positions(9)},
		"256 positions":     {[]string{"rework --propose"}, positions(8)},
		"100 touch points":  {[]string{"inspect --format html", "checklist"}, touch(100)},
		"1000 touch points": {[]string{"checklist"}, touch(1000)},
	} {
		t.Run(name, func(t *testing.T) {
			file := filepath.Join(t.TempDir(), "set.toml")
			if err := os.WriteFile(file, []byte(c.text), 0o666); err != nil {
				t.Fatal(err)
			}
			for _, command := range c.commands {
				c := process(t, append(strings.Fields(command), file)...)
				var exit *exec.ExitError
				if err := c.Run(); err != nil && (!errors.As(err, &exit) || exit.ExitCode() != statusFound) {
					t.Fatalf("%s: %v", command, err)
				}
				if took := c.ProcessState.SysUsage().(*syscall.Rusage).Maxrss; took > mostMemory {
					t.Errorf("%s takes %d MiB", command, took>>10)
				}
			}
		})
	}
}
