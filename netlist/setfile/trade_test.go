package setfile

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/filetest"
)

// Sets as someone who knows the trade writes them without having looked at any help: all that is wrong with the
// first writing is told in one go, each with what would be right, and the file that is written again by that is
// taken.
func TestOneRoundOfCorrection(t *testing.T) {
	firsts := filetest.Fixtures(t, "testdata/trade/*-first.toml")
	if len(firsts) < 3 {
		t.Fatalf("only %d files are tried", len(firsts))
	}
	for _, file := range firsts {
		t.Run(filetest.Name(file), func(t *testing.T) {
			first, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			set, err := Load(file, bytes.NewReader(first))
			var got []told
			lines := map[int]bool{}
			for _, p := range problemsOf(t, set, err) {
				got = append(got, told{p.Pos, p.Text})
				checkVoice(t, p.Text)
				if !saysWhatIsRight(p.Text) {
					t.Errorf("%v does not say what would be right", p)
				}
				lines[p.Pos.Line] = lines[p.Pos.Line] || !strings.HasSuffix(p.Text, "above it") // a header goes there, and the line stays
			}
			compare(t, got, readWanted(t, string(first)))

			again, err := os.ReadFile(strings.Replace(file, "-first", "-again", 1))
			if err != nil {
				t.Fatal(err)
			}
			if set, err = Load(file, bytes.NewReader(again)); err != nil {
				t.Fatal(err)
			}
			var notices []told
			for _, n := range set.Notices {
				notices = append(notices, told{n.Pos, n.Text})
			}
			compare(t, notices, readWanted(t, string(again)))
			checkChanges(t, string(first), string(again), lines)
		})
	}
}

// saysWhatIsRight reports whether a problem goes on, behind what is wrong, to what would be right.
func saysWhatIsRight(text string) bool {
	_, right, found := strings.Cut(text, "; ")
	return found && right != "" || strings.Contains(text, " is written ") || strings.HasPrefix(text, "write ") || strings.HasPrefix(text, "a comma is missing before ")
}

// checkChanges: of the first writing, every line that was told of is another now, and every line that was not told
// of stands as it stood. A header may stand where the lines that were under it have gone.
func checkChanges(t *testing.T, first, again string, told map[int]bool) {
	t.Helper()
	now := map[string]bool{}
	for line := range strings.Lines(again) {
		now[strings.TrimSpace(line)] = true
	}
	for i, line := range strings.Split(first, "\n") {
		line = strings.TrimSpace(line)
		switch {
		case line == "" || strings.HasPrefix(line, "#"):
		case told[i+1] && now[line]:
			t.Errorf("line %d was told of and stands as it did: %s", i+1, line)
		case !told[i+1] && !now[line] && !strings.HasPrefix(line, "["):
			t.Errorf("line %d was not told of and has changed: %s", i+1, line)
		}
	}
}

// Every spelling of the format page, in a file, is read as what it says.
func TestSpellingsInAFile(t *testing.T) {
	value := func(s *netlist.Set, part string) float64 {
		switch d := s.Part(part).Detail.(type) {
		case *netlist.Resistor:
			return d.Ohms
		case *netlist.Capacitor:
			return d.Farads
		}
		return 0
	}
	for text, want := range map[string]float64{
		`"220k"`: 220e3, `"220 kohm"`: 220e3, `"2.2 meg"`: 2.2e6, `"4k7"`: 4700, `"2M2"`: 2.2e6, `"1/2 meg"`: 5e5, `"220,000"`: 220e3, `470`: 470, `"250M"`: 250e6,
		`"0.05 uF"`: 0.05e-6, `".05 mfd"`: 0.05e-6, `"0.05 µF"`: 0.05e-6, `"250 mmf"`: 250e-12, `"47 nF"`: 47e-9, `"20 mfd"`: 20e-6, `"20 MF"`: 20e-6, `"1/2 mfd"`: 0.5e-6,
	} {
		kind := "resistor"
		if strings.ContainsAny(text, "fF") {
			kind = "capacitor"
		}
		set, err := Load("f", strings.NewReader(filetest.BenchHead+"X1 = { kind = \""+kind+"\", ends = [\"line 1\", \"chassis\"], value = "+text+" }\n"))
		if err != nil {
			t.Errorf("%s: %v", text, err)
			continue
		}
		if got := value(set, "X1"); got < want*(1-1e-9) || got > want*(1+1e-9) {
			t.Errorf("%s is %g, want %g", text, got, want)
		}
		if asked := len(set.Notices) > 0; asked != (text == `"250M"`) {
			t.Errorf("%s: notices %v", text, set.Notices)
		}
	}
}
