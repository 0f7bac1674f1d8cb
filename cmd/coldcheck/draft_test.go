package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"coldcheck/analysis"
	"coldcheck/netlist/draft"
	"coldcheck/netlist/setfile"
	"coldcheck/rules"
)

// floating are answers that leave nothing open: a set whose B-minus floats, with a transformer's questions aside.
const floating = `
name = "Loft set"
mains = "120 V 60 Hz"
earthed = "neutral"
plug = "plain"
entry = "string"
blade-1 = "fuse, string"
blade-2 = "switch, B-"
across-line = "none"
switch-on = "plastic"
fuse-amps = "1 A"
tubes = "35W4, 50C5, 12BE6, 12BA6, 12AV6"
lamp = "none"
dropper = "none"
rectifier = "tube"
circuit = "half-wave"
plate = "line"
surge = "none"
reservoirs = "47 uF 160 V"
b-minus = "both"
b-minus-capacitor = "4.7 nF 250 V AC Y1 ceramic"
b-minus-resistor = "2.2 meg"
metal = "chassis, handle"
loose = "handle"
antenna = "capacitor 250 pF Y1"
antenna-to = "chassis"
ground = "none"
else = "none"
replaced = "all"
`

func interviewOf(t *testing.T, answers string) *draft.Interview {
	t.Helper()
	i, err := draft.Read("answers.toml", []byte(answers))
	if err != nil {
		t.Fatal(err)
	}
	return i
}

// signalsOf are the strongest signal words of each touch point of a drafted set.
func signalsOf(t *testing.T, i *draft.Interview) map[string]rules.Signal {
	t.Helper()
	var b bytes.Buffer
	if err := i.Write(&b); err != nil {
		t.Fatal(err)
	}
	set, err := setfile.Load("draft.toml", &b)
	if err != nil {
		t.Fatal(err)
	}
	c, err := analysis.New(set, analysis.Bench{})
	if err != nil {
		t.Fatal(err)
	}
	signals := map[string]rules.Signal{}
	report := rules.Check(c, analysis.Options{Faults: 1})
	for _, f := range report.Findings {
		if f.Rule.Subject != rules.OfMetal && f.Rule.Subject != rules.OfEarth {
			continue
		}
		for _, node := range f.Nodes {
			signals[node] = max(signals[node], f.Signal)
		}
	}
	return signals
}

// others are the lines of an interview's answers but for one question.
func others(t *testing.T, i *draft.Interview, q *draft.Question) string {
	t.Helper()
	var b bytes.Buffer
	if err := i.WriteAnswers(&b, ""); err != nil {
		t.Fatal(err)
	}
	var kept []string
	for line := range strings.Lines(b.String()) {
		if strings.Contains(line, " = ") && !strings.HasPrefix(line, q.Key+" ") {
			kept = append(kept, line)
		}
	}
	return strings.Join(kept, "")
}

// TestUnknownHidesNothing: whatever is known of a thing, where it is not known the set shows no less, of any metal
// that was told, as long as all other answers are the same.
func TestUnknownHidesNothing(t *testing.T) {
	nothing := strings.Replace(strings.Replace(floating, `"both"`, `"nothing"`, 1), "b-minus-capacitor = \"4.7 nF 250 V AC Y1 ceramic\"\nb-minus-resistor = \"2.2 meg\"\n", "", 1)
	onChassis := strings.Replace(strings.Replace(nothing, `"switch, B-"`, `"switch, chassis"`, 1), "b-minus = \"nothing\"\nmetal", "metal", 1)
	onChassis = strings.Replace(onChassis, "antenna-to = \"chassis\"\n", "", 1)
	tried := 0
	seen := map[string]map[string]rules.Signal{} // by the set file
	of := func(i *draft.Interview) map[string]rules.Signal {
		var b bytes.Buffer
		if err := i.Write(&b); err != nil {
			t.Fatal(err)
		}
		if seen[b.String()] == nil {
			seen[b.String()] = signalsOf(t, i)
		}
		return seen[b.String()]
	}
	for n, base := range []string{floating, nothing, onChassis} {
		for _, q := range draft.Questions() {
			unknown := interviewOf(t, base)
			if _, _, err := unknown.Answer(q, draft.DontKnow); err != nil {
				continue // this is always known
			}
			shown := of(unknown)
			answers := append([]string{}, q.Examples...)
			for _, w := range unknown.Words(q) {
				answers = append(answers, w.Word)
			}
			for _, text := range answers {
				known := interviewOf(t, base)
				if _, _, err := known.Answer(q, text); err != nil || others(t, known, q) != others(t, unknown, q) {
					continue
				}
				tried++
				for node, signal := range of(known) {
					assumed, there := shown[strings.Replace(node, "tone", "volume", 1)] // either may be assumed
					if signal > rules.Notice && (!there || assumed < signal) && !(q.Key == "metal" && !there) {
						t.Errorf("base %d: with %s = %q there is %v of %s, not known %v", n, q.Key, text, signal, node, assumed)
					}
				}
			}
		}
	}
	if tried < 80 {
		t.Errorf("only %d answers were tried", tried)
	}
}

// TestDraftInterrupted: interrupted, the answers that were given are kept with the set file as far as it goes, and
// the same command goes on.
func TestDraftInterrupted(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no interrupt can be sent there")
	}
	cmd := process(t, "draft", "loft.toml")
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	stdin, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	if _, err := io.WriteString(stdin, "Loft set\n230 V 50 Hz\n"); err != nil {
		t.Fatal(err)
	}
	kept := filepath.Join(cmd.Dir, "loft.answers.toml")
	for until := time.Now().Add(20 * time.Second); ; time.Sleep(10 * time.Millisecond) {
		if text, err := os.ReadFile(kept); err == nil && strings.Contains(string(text), "230 V") {
			break
		}
		if time.Now().After(until) {
			t.Fatal("no answer is kept")
		}
	}
	if err := cmd.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	var ended *exec.ExitError
	if err := cmd.Wait(); !errors.As(err, &ended) || ended.ExitCode() != statusBad {
		t.Errorf("ended with %v, want status %d", err, statusBad)
	}
	want := "coldcheck: interrupted; what was answered is in loft.toml and loft.answers.toml; coldcheck draft loft.toml goes on\n"
	if errs.String() != want {
		t.Errorf("said %q", &errs)
	}
	if _, err := setfile.LoadFile(filepath.Join(cmd.Dir, "loft.toml"), nil); err != nil {
		t.Error(err)
	}
	t.Chdir(cmd.Dir)
	more, status := ran(t, "midpoint\n", "draft", "loft.toml")
	if status != statusOK || strings.Contains(more, "mains [") || !strings.Contains(more, "earthed [neutral]: midpoint") {
		t.Errorf("it does not go on: %s", more)
	}
	if left, err := os.ReadDir("."); err != nil || len(left) != 2 {
		t.Errorf("left %v, %v", left, err)
	}
}

// TestDraftAgain: an answer whose line is changed is taken as soon as it is drafted again; a set file that was changed is
// kept.
func TestDraftAgain(t *testing.T) {
	t.Chdir(t.TempDir())
	change := func(file, old, is string) {
		t.Helper()
		text, err := os.ReadFile(file)
		if err != nil || !strings.Contains(string(text), old) {
			t.Fatalf("%s has no %q: %v", file, old, err)
		}
		if err := os.WriteFile(file, []byte(strings.Replace(string(text), old, is, 1)), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile("loft.answers.toml", []byte(floating), 0o666); err != nil {
		t.Fatal(err)
	}
	if _, status := ran(t, "", "draft", "loft.toml"); status != statusOK {
		t.Fatal("it is not drafted")
	}
	change("loft.answers.toml", `plug = "plain"`, `plug = "polarized"`)
	if _, status := ran(t, "", "draft", "loft.toml"); status != statusOK {
		t.Error("a changed answer is not taken")
	}
	change("loft.toml", `style = "polarized"`, `style = "plain"`)
	var out, errs bytes.Buffer
	if status := run([]string{"draft", "loft.toml"}, nil, &out, &errs); status != statusBad || !strings.Contains(errs.String(), "--force") {
		t.Error("a changed set file is overwritten")
	}
	change("loft.toml", `style = "plain"`, `style = "polarized"`)
	if _, status := ran(t, "", "draft", "loft.toml"); status != statusOK {
		t.Error("a set file that is as it was is not overwritten")
	}
}

// TestDraftWidths: whatever is asked keeps to the page, and nothing is shown that a terminal acts upon.
func TestDraftWidths(t *testing.T) {
	t.Chdir(t.TempDir())
	for k, width := range widths {
		for j, first := range []string{"string", "transformer", "autotransformer", "other"} {
			input := strings.Repeat("?\n\n", 4) + "?\nnonsense\n" + first + "\n" + strings.Repeat("?\nno\x1b[31m sense\n\n", 40)
			name := fmt.Sprintf("set-%d-%d.toml", k, j)
			out, status := ran(t, input, "draft", "--width", fmt.Sprint(width), name)
			if status != statusOK || strings.Contains(out, "Not answered") {
				t.Errorf("%s: %s", first, out[max(0, len(out)-2000):])
			}
			checkShows(t, []string{"draft", first}, out)
			for _, line := range tooWide(out, width) {
				if !strings.Contains(line, " [") { // with the answer behind the question
					t.Errorf("%s at %d columns: %s", first, width, line)
				}
			}
		}
	}
}

// TestDraftFullDisk: where the output cannot be shown that is said once; a reader that goes away is no error, and
// the answers are kept.
func TestDraftFullDisk(t *testing.T) {
	t.Chdir(t.TempDir())
	full := errors.New("no space left on device")
	for _, room := range []int{0, 100, 1000} {
		var errs bytes.Buffer
		status := run([]string{"draft", "full.toml", "--force"}, strings.NewReader("Attic set\n"), &failing{room, full}, &errs)
		if want := "coldcheck: cannot write the result: no space left on device\n"; status != statusBad || errs.String() != want {
			t.Errorf("with room for %d: status %d, %q", room, status, &errs)
		}
		errs.Reset()
		status = run([]string{"draft", "gone.toml", "--force"}, strings.NewReader("Attic set\n"), &failing{room, &fs.PathError{Op: "write", Path: "|1", Err: io.ErrClosedPipe}}, &errs)
		if text, err := os.ReadFile("gone.answers.toml"); status != statusOK || errs.Len() > 0 || err != nil || !strings.Contains(string(text), "Attic set") {
			t.Errorf("with a reader gone after %d: status %d, %q; %v", room, status, &errs, err)
		}
	}
}
