package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist/examples"
)

// recordLines is how long a record may be: a page of small print.
const recordLines = 74

// promises are words that no record says.
var promises = regexp.MustCompile(`(?i)\b(safe|safely|passed|certif\w+)\b`)

// TestRecords: the record of every example plan fits a page, in every form says nothing that promises, names the
// set as reworked and each part that was put in with its value, and is the same each time.
func TestRecords(t *testing.T) {
	reworkExamples(t, func(t *testing.T, name string) {
		out, status := ran(t, "", "record", "set.toml", "plan.toml")
		if status != statusOK {
			t.Errorf("status %d", status)
		}
		lines := strings.Split(strings.TrimSuffix(out, "\n"), "\n")
		if len(lines) > recordLines {
			t.Errorf("%d lines", len(lines))
		}
		for _, line := range lines {
			if n := utf8.RuneCountInString(line); n > text.Width {
				t.Errorf("%d columns: %s", n, line)
			}
		}
		if first := lines[0]; !strings.Contains(first, ", reworked ") || strings.Contains(first, "as found") {
			t.Errorf("the set is called %q", first)
		}
		if again, _ := ran(t, "", "record", "set.toml", "plan.toml"); again != out {
			t.Error("two runs differ")
		}
		page, _ := ran(t, "", "record", "--format", "html", "set.toml", "plan.toml")
		data, _ := ran(t, "", "record", "--format", "json", "set.toml", "plan.toml")
		for form, told := range map[string]string{"text": out, "html": page, "json": data} {
			told = strings.ReplaceAll(told, "\u00a0", " ")
			if said := promises.FindString(told); said != "" {
				t.Errorf("%s says %q", form, said)
			}
			for _, want := range []string{"A serviced set is no new one", "Outlet: 120 V 60 Hz"} {
				if !strings.Contains(told, want) {
					t.Errorf("%s lacks %q", form, want)
				}
			}
		}
		steps := 0
		for line := range strings.Lines(readAll(t, "plan.toml")) {
			if class := regexp.MustCompile(`class = "(\w+)"`).FindStringSubmatch(line); class != nil {
				if steps++; !strings.Contains(strings.Join(strings.Fields(out), " "), "class "+class[1]) {
					t.Errorf("does not tell the class of %s", line)
				}
			}
		}
		if steps == 0 && name != "isolated-conversion-plan" && name != "line-bypass-plan" {
			t.Error("no class in the plan")
		}
	})
}

func readAll(t *testing.T, file string) string {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// TestRecordsOfSetsAsTheyAre: a set against itself was not worked on, and what is live of it is told first to its
// owner; no such record promises either.
func TestRecordsOfSetsAsTheyAre(t *testing.T) {
	live := 0
	for i, e := range examples.Sets() {
		if i%3 != 1 {
			continue // rules/record has them all
		}
		t.Chdir(t.TempDir())
		if err := os.WriteFile("set.toml", []byte(e.Text), 0o666); err != nil {
			t.Fatal(err)
		}
		out, _ := ran(t, "", "record", "set.toml", "set.toml")
		if said := promises.FindString(out); said != "" {
			t.Errorf("%s: says %q", e.Name, said)
		}
		_, owner, _ := strings.Cut(out, "\nWhat the owner has to know\n")
		if danger := strings.Contains(out, "\nDANGER "); danger {
			live++
			if !strings.Contains(unwrapped(owner), "Pull the plug and leave it out. The set is not fit to be used") {
				t.Errorf("%s: the owner of a set that is live is told\n%s", e.Name, owner)
			}
		} else if strings.Contains(owner, "not fit to be used") {
			t.Errorf("%s: not fit, and no DANGER", e.Name)
		}
		if !strings.Contains(out, "Nothing: both files have the same wiring.") {
			t.Errorf("%s: something was done", e.Name)
		}
	}
	if live < 3 {
		t.Errorf("only %d examples are live", live)
	}
}

// TestGoldenRecord holds a whole record against the one that was read and found right.
func TestGoldenRecord(t *testing.T) {
	folder, err := filepath.Abs(filepath.Join("testdata", "record"))
	if err != nil {
		t.Fatal(err)
	}
	reworkExamples(t, func(t *testing.T, name string) {
		if name != "floating-b-minus-plan" {
			return
		}
		for format, ending := range map[string]string{formatText: ".txt", formatJSON: ".json"} {
			out, _ := ran(t, "", "record", "--format", format, "set.toml", "plan.toml")
			golden(t, filepath.Join(folder, "floating-b-minus"+ending), out)
		}
	})
}
