package setfile

import (
	"fmt"
	"strings"
	"testing"

	"coldcheck/netlist/internal/filetest"
)

// TestEdges: what stands right at a bound of the format is taken, and one step over it is refused. The
// bounds are written out here: they are the format's, whatever a constant says.
func TestEdges(t *testing.T) {
	wire := func(name, node string) string {
		return fmt.Sprintf("%s = { kind = \"wire\", ends = [%q, \"line 1\"] }\n", name, node)
	}
	list := func(n int, item string) string { return strings.Repeat(item+", ", n) }
	windings := func(n int) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, "w%d = [\"line 1\", \"a\"], ", i)
		}
		return "T1 = { kind = \"transformer\", windings = { " + strings.TrimSuffix(b.String(), ", ") + " } }\n"
	}
	decks := func(n int) string {
		return "SL1 = { kind = \"selector\", decks = [" + list(n, `{ common = "line 1", throws = ["a", "b"] }`) + "] }\n"
	}
	mains := func(text string) string {
		return strings.Replace(filetest.BenchHead, "[nodes]", "mains = \""+text+"\"\n[nodes]", 1)
	}
	tube := func(pin int) string {
		return filetest.BenchHead + fmt.Sprintf("[tube_types.X]\ncathodes = [%d]\n", pin)
	}
	tap := func(volts string) string {
		return filetest.BenchHead + "[tube_types.X]\nheater = { pins = [3, 4], volts = 35, amps = 0.15, tap = { pin = 6, volts = " + volts + ", from = 4 } }\n"
	}
	resistor := func(tolerance string) string {
		return filetest.BenchHead + "R1 = { kind = \"resistor\", ends = [\"line 1\", \"a\"], value = \"1k\", tolerance = " + tolerance + " }\n"
	}
	tests := []struct{ name, at, over, want string }{
		{"characters of a point's name", filetest.BenchHead + wire("W1", strings.Repeat("b", 64)), filetest.BenchHead + wire("W1", strings.Repeat("b", 65)),
			"the name of a point is longer than 64 characters"},
		{"characters of two bytes", filetest.BenchHead + wire("W1", strings.Repeat("Ω", 64)), filetest.BenchHead + wire("W1", strings.Repeat("Ω", 65)),
			"the name of a point is longer than 64 characters"},
		{"blanks around a name do not count", filetest.BenchHead + wire("W1", "  "+strings.Repeat("b", 64)+" "), filetest.BenchHead + wire("W1", " "+strings.Repeat("b", 65)),
			"the name of a point is longer than 64 characters"},
		{"characters of a part's name", filetest.BenchHead + wire(strings.Repeat("W", 32), "a"), filetest.BenchHead + wire(strings.Repeat("W", 33), "a"),
			"is not a part's name; use 1 to 32 letters"},
		{"windings", filetest.BenchHead + windings(64), filetest.BenchHead + windings(65), "has 65 windings, more than the 64"},
		{"decks", filetest.BenchHead + decks(64), filetest.BenchHead + decks(65), "has 65 decks, more than the 64"},
		{"volts of the mains", mains("1000 V 60 Hz"), mains("1001 V 60 Hz"), "is beyond belief"},
		{"hertz of the mains", mains("120 V 1000 Hz"), mains("120 V 1001 Hz"), "is beyond belief"},
		{"a tube's pin", tube(99), tube(100), "pins are numbered 1 to 99"},
		{"a tolerance", resistor("100"), resistor("100.1"), "is not between 0 and 100 per cent"},
		{"volts of a heater's tap", tap("34.9"), tap("35"), "tap of heater of tube type \"X\" has 35 V, and the whole heater 35 V; a tap has less"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if _, err := Load("f", strings.NewReader(tt.at)); err != nil {
				t.Errorf("at the bound: %v", err)
			}
			set, err := Load("f", strings.NewReader(tt.over))
			if problems := problemsOf(t, set, err); len(problems) != 1 || !strings.Contains(problems[0].Text, tt.want) {
				t.Errorf("over the bound: got %v, want %s", problems, tt.want)
			}
		})
	}
}
