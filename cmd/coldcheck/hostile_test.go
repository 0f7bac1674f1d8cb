package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"

	"coldcheck/netlist"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/setfile"
)

// readers are the commands that read one set file, in every format.
var readers = [][]string{
	{"inspect"}, {"inspect", "--brief"}, {"inspect", "--format", "json"}, {"inspect", "--format", "html"}, {"states", "--faults", "0"},
	{"states", "--faults", "0", "--format", "json"}, {"trace"}, {"trace", "--format", "json"}, {"checklist"}, {"checklist", "--format", "json"},
}

// attempt runs a command on a text. It must end with one of the three statuses, with a result or a
// message but not with a trace of the stack.
func attempt(t *testing.T, input string, args ...string) (stdout, stderr string, status int) {
	t.Helper()
	var out, errs bytes.Buffer
	status = run(args, strings.NewReader(input), &out, &errs)
	stdout, stderr = out.String(), errs.String()
	switch {
	case status == statusBad && (stdout != "" || stderr == ""), status != statusBad && (stdout == "" || stderr != ""), status < 0 || status > 2:
		t.Errorf("%q: status %d with %d bytes of result and the message %.300q", args, status, len(stdout), stderr)
	case strings.Contains(stdout+stderr, "goroutine "):
		t.Errorf("%q: %.300s", args, stdout+stderr)
	}
	checkShows(t, args, stdout)
	checkShows(t, args, stderr)
	return stdout, stderr, status
}

// checkShows: nothing is printed that a terminal acts upon or does not show.
func checkShows(t *testing.T, args []string, text string) {
	t.Helper()
	for line := range strings.Lines(text) {
		line = strings.TrimSuffix(line, "\n")
		if shown := netlist.Visible(strings.ReplaceAll(line, "\u00a0", "")); shown != strings.ReplaceAll(line, "\u00a0", "") {
			t.Errorf("%q prints %.200q", args, line)
			return
		}
	}
}

// oddNames are names that the format takes and that no terminal or page may take at their word.
var oddNames = []string{
	"\u202egnp.toml\u202c", "zero\u200bwidth", "</script><script>alert(1)</script>", `"quoted" & 'so'`, "<img src=x onerror=alert(1)>",
	"\ufeffmark", "\u2066isolate\u2069", "soft\u00adhyphen", "line\u2028separator", "{{.}}", "${HOME} $(id) `id`", "%s%n%d", "\U000e0041tag", "B\u0336\u0336",
}

// oddSet is a set that has an odd name wherever one may stand.
func oddSet(name string) string {
	q, err := json.Marshal(name)
	if err != nil {
		return ""
	}
	return strings.ReplaceAll(`[set]
name = NAME
note = NAME
[nodes]
chassis = { touch = "chassis", note = NAME }
NAME = { touch = "control", guard = "knob", note = NAME }
[parts]
PL1 = { kind = "plug", style = "polarized", hot = "line 1", neutral = "line 2", note = NAME }
S1 = { kind = "selector", common = "line 2", throws = ["B-", ""], positions = [NAME, "off"] }
R1 = { kind = "resistor", ends = ["B-", NAME], value = "220k", note = NAME }
C1 = { kind = "capacitor", ends = ["B-", "chassis"], value = "0.1 uF", type = "paper" }
T1 = { kind = "transformer", windings = { NAME = ["line 1", "B-"], other = ["chassis", NAME] }, volts = { NAME = 120, other = 6.3 } }
V1 = { kind = "tube", type = NAME, pins = { 3 = "line 1", 4 = "B-", 7 = NAME } }
[tube_types.NAME]
use = NAME
base = NAME
heater = { pins = [3, 4], volts = 120, amps = 0.15 }
cathodes = [7]
elements = { 7 = NAME }
[[readings]]
at = ["chassis", NAME]
volts = 60
`, "NAME", string(q))
}

// TestOddNames: names with marks of a terminal, of writing from right to left, or of a page are
// printed so that all of them shows, by every command in every format, and never as markup.
func TestOddNames(t *testing.T) {
	markup := regexp.MustCompile(`(?i)<script>alert|<img src=x|onerror=alert\(1\)>`)
	for _, name := range oddNames {
		text := oddSet(name)
		for _, args := range readers {
			out, message, status := attempt(t, text, append(args, "-")...)
			if status == statusBad {
				t.Fatalf("%q: %s", name, message)
			}
			if len(args) > 2 && args[2] == "html" && markup.MatchString(out) {
				t.Errorf("%q is markup on the page", name)
			}
		}
	}
}

// TestOddWords: nor do the words of a command line act on a terminal, nor the name of a file.
func TestOddWords(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, odd := range append([]string{"\x1b[31mred\x1b]0;title\x07", "a\nb", "\x00", "\xff\xfe", "\r\b\b"}, oddNames[:4]...) {
		for _, args := range [][]string{
			{odd}, {"inspect", odd}, {"inspect", "--" + odd}, {"inspect", "--format", odd, "-"}, {"inspect", "--earthed", odd, "-"}, {"states", "--point", odd, "-"},
			{"states", "--switch", odd + "=" + odd, "-"}, {"trace", "--to", odd, "-"}, {"trace", "--from", odd, "-"}, {"why", odd}, {"part", odd}, {"example", odd},
			{"schema", odd}, {"completion", odd}, {"help", odd}, {"rework", odd, odd}, {"record", odd, odd}, {"bench", "--no-open", odd}, {"rework", "--propose", odd}, {"inspect", "--write", odd + "/" + odd, "-"},
		} {
			if _, _, status := attempt(t, hostileHead, args...); status != statusBad {
				t.Errorf("%q: status %d", args, status)
			}
		}
		if strings.ContainsAny(odd, "/\x00") {
			continue
		}
		if err := os.WriteFile(odd, []byte(hostileHead), 0o666); err != nil {
			continue // a name that this system does not take
		}
		for _, args := range readers {
			if _, message, status := attempt(t, "", append(args, "./"+odd)...); status == statusBad {
				t.Errorf("%q: %s", args, message)
			}
		}
	}
}

// lines are numbered lines of a file.
func lines(n int, line func(i int) string) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(line(i) + "\n")
	}
	return b.String()
}

const hostileHead = `[set]
name = "x"
[nodes]
chassis = { touch = "chassis" }
[parts]
PL1 = { kind = "plug", hot = "L", neutral = "N" }
R0 = { kind = "resistor", ends = ["L", "chassis"], value = "1 meg" }
`

// TestOverTheBounds: what is over a bound is refused with that bound, at once.
func TestOverTheBounds(t *testing.T) {
	wire := func(i int) string { return fmt.Sprintf(`W%d = { kind = "wire", ends = ["a%d", "a%d"] }`, i, i, i+1) }
	for name, c := range map[string]struct{ text, want string }{
		"a large file":       {hostileHead + "#" + strings.Repeat(" ", setfile.MaxFileBytes), "larger than 4 MiB"},
		"many parts":         {hostileHead + lines(netlist.MaxParts, wire), "20002 parts are more than the 20000"},
		"many poles":         {hostileHead + "S1 = { kind = \"switch\", poles = [" + strings.Repeat(`["L", "a"], `, netlist.MaxPoles+1) + "] }", "65 poles"},
		"many positions":     {hostileHead + lines(11, func(i int) string { return fmt.Sprintf(`S%d = { kind = "switch", ends = ["a%d", "L"] }`, i, i) }), "more than 1024 combinations"},
		"deep lists":         {hostileHead + "R1 = { kind = " + strings.Repeat("[", 100000), "too many brackets"},
		"deep tables":        {hostileHead + "R1 = " + strings.Repeat("{ a = ", 100000), "too many brackets"},
		"deep keys":          {strings.Repeat("a.", 100000) + "b = 1", "too many dots"},
		"deep headers":       {"[" + strings.Repeat("a.", 100000) + "b]", "too many dots"},
		"a long name":        {hostileHead + `W1 = { kind = "wire", ends = ["L", "` + strings.Repeat("x", 1<<20) + `"] }`, "longer than 64"},
		"a long word":        {hostileHead + `W1 = { kind = "` + strings.Repeat("x", 1<<20) + `", ends = ["L", "N"] }`, "is not known"},
		"a long number":      {hostileHead + `R1 = { kind = "resistor", ends = ["L", "N"], value = "` + strings.Repeat("9", 1<<20) + `" }`, "not a finite number"},
		"no end of a text":   {hostileHead + `R1 = { kind = """` + strings.Repeat("x\n", 1<<19), "quote"},
		"lines without end":  {strings.Repeat("= = = [[ {{ \"\n", 1<<17), ":1:"},
		"a control":          {hostileHead + "W1 = { kind = \"wire\", ends = [\"L\", \"\\u001b[31m\"] }", "control character"},
		"bytes that are not": {hostileHead + "\xff\xfe\xfd", "not UTF-8"},
		"nothing":            {"", "empty"},
		"zeros":              {strings.Repeat("\x00", 1<<16), "UTF-16"},
	} {
		t.Run(name, func(t *testing.T) {
			for _, args := range [][]string{{"inspect", "-"}, {"rework", "--propose", "-"}} {
				_, message, status := attempt(t, c.text, args...)
				if status != statusBad || !strings.Contains(message, c.want) {
					t.Errorf("%q: status %d, %.300s", args, status, message)
				}
				if len(message) > 1<<20 {
					t.Errorf("%q: a message of %d bytes", args, len(message))
				}
			}
		})
	}
}

// TestAtTheBounds: what is just within the bounds is worked through, whole or by a search that says
// how it was cut, in every format.
func TestAtTheBounds(t *testing.T) {
	chains := func(kind string, n, deep int) string {
		return lines(n*deep, func(i int) string {
			ends := [2]string{fmt.Sprintf("c%d_%d", i/deep, i%deep-1), fmt.Sprintf("c%d_%d", i/deep, i%deep)}
			if i%deep == 0 {
				ends[0] = []string{"L", "N"}[i/deep%2]
			}
			if i%deep == deep-1 {
				ends[1] = "chassis"
			}
			return fmt.Sprintf(`C%d = { kind = "capacitor", ends = [%q, %q], value = "47 pF", type = %q }`, i, ends[0], ends[1], kind)
		})
	}
	switches := lines(10, func(i int) string { return fmt.Sprintf(`S%d = { kind = "switch", ends = ["a%d", "L"] }`, i, i) }) +
		lines(10, func(i int) string {
			return fmt.Sprintf(`Q%d = { kind = "resistor", ends = ["a%d", "b"], value = "100k" }`, i, i)
		})
	windings := func(at func(i int) string) string { return strings.TrimSuffix(lines(24, at), "\n") }
	for name, text := range map[string]string{
		"1024 positions": hostileHead + switches + `CB = { kind = "capacitor", ends = ["b", "chassis"], value = "1 nF", class = "Y2" }`,
		"64 poles": hostileHead + "S1 = { kind = \"switch\", poles = [" +
			lines(64, func(i int) string { return fmt.Sprintf(`["p%d", "p%d"],`, i, i+1) }) + "] }\n" +
			"RA = { kind = \"resistor\", ends = [\"N\", \"p0\"], value = \"100k\" }\nRB = { kind = \"resistor\", ends = [\"p64\", \"chassis\"], value = \"100k\" }",
		"hundreds of suspects": hostileHead + chains("paper", 60, 4),
		"24 windings": hostileHead + "[parts.T1]\nkind = \"transformer\"\n[parts.T1.windings]\n" +
			windings(func(i int) string { return fmt.Sprintf(`w%d = ["s%d", "e%d"]`, i, i, i) }) + "\n[parts.T2]\nkind = \"wire\"\nends = [\"s0\", \"L\"]\n" +
			"[parts.T3]\nkind = \"wire\"\nends = [\"e0\", \"N\"]\n[parts.T4]\nkind = \"wire\"\nends = [\"e5\", \"chassis\"]\n",
		"40 touch points": strings.Replace(hostileHead, "[parts]", lines(40, func(i int) string { return fmt.Sprintf(`t%d = { touch = "fastener" }`, i) })+"[parts]", 1) +
			lines(40, func(i int) string {
				return fmt.Sprintf(`C%d = { kind = "capacitor", ends = [%q, "t%d"], value = "1 nF" }`, i, []string{"L", "N"}[i%2], i)
			}),
		"200 parts in a row": hostileHead + lines(200, func(i int) string {
			return fmt.Sprintf(`X%d = { kind = "resistor", ends = ["r%d", "r%d"], value = 100 }`, i, i, i+1)
		}) + "XA = { kind = \"wire\", ends = [\"L\", \"r0\"] }\nXB = { kind = \"wire\", ends = [\"N\", \"r200\"] }",
	} {
		t.Run(name, func(t *testing.T) {
			for _, args := range [][]string{{"inspect", "--format", "json"}, {"inspect", "--format", "html"}, {"trace"}, {"checklist", "--format", "json"}} {
				if (name == "1024 positions" || name == "hundreds of suspects") && !slices.Equal(args, []string{"inspect", "--format", "json"}) {
					continue // the search is what is hard about them
				}
				out, message, status := attempt(t, text, append(args, "-")...)
				if status == statusBad {
					t.Fatalf("%q: %s", args, message)
				}
				if len(args) > 2 && args[2] == "json" && !json.Valid([]byte(out)) {
					t.Errorf("%q: no JSON", args)
				}
			}
		})
	}
}

// TestCutSearchSaysSo: a search that is cut says so in text and in JSON, and one that is not does not.
func TestCutSearchSaysSo(t *testing.T) {
	few, many := hostileHead, hostileHead+lines(400, func(i int) string {
		return fmt.Sprintf(`C%d = { kind = "capacitor", ends = [%q, "m%d"], value = "100 pF", type = "paper" }`, i, []string{"L", "N"}[i%2], i)
	})
	for text, cut := range map[string]bool{few: false, many: true} {
		out, _, _ := attempt(t, text, "inspect", "-")
		asJSON, _, _ := attempt(t, text, "inspect", "--format", "json", "-")
		if strings.Contains(out, "too large to look at all failures at once") != cut || strings.Contains(asJSON, `"reduced"`) != cut {
			t.Errorf("cut: %v, and the report says\n%s", cut, out)
		}
	}
}

// checkPromise: no text says that anything is safe.
func checkPromise(t *testing.T, args []string, out string) {
	t.Helper()
	if m := regexp.MustCompile(`(?i)\bsafe(ly)?\b`).FindString(out); m != "" {
		t.Errorf("%q says %q", args, m)
	}
}

// TestNoOutputPromises: no command, in any format, of any example says that anything is safe.
func TestNoOutputPromises(t *testing.T) {
	for _, e := range examples.Sets() {
		t.Run(e.Name, func(t *testing.T) {
			t.Parallel()
			checkPromise(t, []string{"example", e.Name}, e.Text)
			for _, args := range [][]string{{"inspect", "--format", formatText}, {"inspect", "--format", "html"}, {"trace"}, {"checklist"}} {
				out, _ := ran(t, e.Text, append(args, "-")...)
				checkPromise(t, args, out)
			}
		})
	}
	for _, args := range [][]string{{}, {"help"}, {"help", "--manual"}, {"why"}, {"part"}, {"example"}, {"schema", "set"}, {"schema", "plan"}, {"completion", "bash"}} {
		out, _, _ := attempt(t, "", args...)
		checkPromise(t, args, out)
	}
}

// TestNoPlanPromises: nor does a plan, or what is said of it.
func TestNoPlanPromises(t *testing.T) {
	for _, p := range examples.Plans() {
		checkPromise(t, []string{"example", p.Name}, p.Text)
	}
	reworkExamples(t, func(t *testing.T, name string) {
		out, _, _ := attempt(t, "", "rework", "set.toml", "plan.toml")
		checkPromise(t, []string{"rework", name}, out)
	})
}

// TestNoWordsOfOthers: whatever is wrong with a command line, it is told in the program's own words,
// each line in its name, and none in those of the libraries that read it.
func TestNoWordsOfOthers(t *testing.T) {
	t.Chdir(t.TempDir())
	foreign := regexp.MustCompile(`(?i)unknown (command|flag|shorthand)|error:|usage:|invalid argument|bad flag syntax|needs an argument|does not exist|arg\(s\)|did you mean this|run '|strconv|this command`)
	for _, args := range [][]string{
		{"wibble"}, {"inspekt"}, {""}, {"wibble", "--x"}, {"--x"}, {"-x"}, {"-xyz"}, {"--=x"}, {"---"}, {"-test.v"}, {"inspect"}, {"inspect", "--x"}, {"inspect", "--format"},
		{"inspect", "--format", "x"}, {"inspect", "--brief=x"}, {"inspect", "--help=x"}, {"--version=x"}, {"states", "a", "b"}, {"trace"}, {"checklist"}, {"rework"}, {"record"}, {"record", "a", "b", "c"}, {"bench"}, {"bench", "-"}, {"bench", "a", "b"}, {"bench", "--port", "x", "a"}, {"bench", "--plan", "-", "a"},
		{"rework", "a", "b", "c"}, {"why", "a", "b"}, {"why", "x"}, {"part", "a", "b"}, {"example", "a", "b"}, {"schema"}, {"schema", "x"}, {"completion"}, {"completion", "x"},
		{"completion", "bash", "x"}, {"help", "x"}, {"help", "a", "b"}, {"help", "completion", "bash"}, {"--help", "x"},
		{cobra.ShellCompRequestCmd}, {cobra.ShellCompNoDescRequestCmd},
	} {
		_, message, status := attempt(t, "", args...)
		if status != statusBad {
			t.Errorf("%q: status %d", args, status)
		}
		for line := range strings.Lines(message) {
			if !strings.HasPrefix(line, "coldcheck: ") || foreign.MatchString(line) {
				t.Errorf("%q: %s", args, line)
			}
		}
	}
	for _, c := range commands() {
		out, _, _ := attempt(t, "", c.Name(), "--help")
		if m := foreign.FindString(out); m != "" || strings.Contains(out, "help for") {
			t.Errorf("%s --help says %q", c.Name(), m)
		}
	}
}
