package main

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/analysis/grouping"
	"coldcheck/analysis/trace"
	browser "coldcheck/cmd/coldcheck/page"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/plan"
	"coldcheck/netlist/setfile"
	"coldcheck/rules"
	"coldcheck/rules/record"
	"coldcheck/rules/rework"
	"coldcheck/rules/rework/propose"
)

// widths are those at which every text is held to its page.
var widths = []int{text.LeastWidth, 80, text.Width}

// tellingsOf works a set out once, and gives the texts that are told of it by their commands, for pages of every
// width.
func tellingsOf(t *testing.T, set *netlist.Set, proposals bool) (*rules.Report, map[string]func(*text.Page)) {
	t.Helper()
	c, err := analysis.New(set, analysis.Bench{})
	if err != nil {
		t.Fatal(err)
	}
	report := rules.Check(c, analysis.Options{Faults: analysis.DefaultFaults})
	if proposals {
		propose.TryRemedies(report)
	}
	points := make([]int, len(c.Points))
	for i := range points {
		points[i] = i
	}
	table := grouping.New(c, points)
	c.EachState(1, analysis.Filter{}, func(row analysis.Row) bool {
		table.Add(row)
		return true
	})
	traces := trace.All(c, trace.Query{From: trace.FromHot, Paths: 3})
	checks := diagnose.Checks(c)
	all := map[string]func(*text.Page){
		"inspect":         func(p *text.Page) { p.Inspect(report, text.InspectOptions{}) },
		"inspect --brief": func(p *text.Page) { p.Inspect(report, text.InspectOptions{Brief: true}) },
		"states":          func(p *text.Page) { p.States(table, 1) },
		"trace":           func(p *text.Page) { p.Traces(c, traces) },
		"checklist":       func(p *text.Page) { p.Checklist(checks) },
	}
	if proposals {
		found := propose.Search(set, 8, propose.Wish{})
		all["rework --propose"] = func(p *text.Page) { p.Proposals(found) }
	}
	return report, all
}

func loaded(t *testing.T, e examples.Example) *netlist.Set {
	t.Helper()
	set, err := setfile.Load(e.Name, strings.NewReader(e.Text))
	if err != nil {
		t.Fatal(err)
	}
	return set
}

// toCopy is a line of a file, which stays one line.
var toCopy = regexp.MustCompile(`^ *["\w]+[\w ."-]* *= `)

// escape is a colour of a terminal.
var escape = regexp.MustCompile("\x1b\\[[0-9;]*m")

// tooWide are the lines that are wider than a page; a line to copy into a file may be.
func tooWide(out string, width int) (lines []string) {
	for line := range strings.Lines(escape.ReplaceAllString(out, "")) {
		line = strings.TrimSuffix(line, "\n")
		if utf8.RuneCountInString(line) > width && !toCopy.MatchString(line) {
			lines = append(lines, line)
		}
	}
	return lines
}

// ofMarked says how a plug is marked.
var ofMarked = regexp.MustCompile(`as.marked|plug reversed|\breversed;|PL\d (hot|neutral)\b`)

// saysMarked is what a text says of a plug as marked, with what stands around it, "" where nothing.
func saysMarked(out string) string {
	out = strings.Join(strings.Fields(out), " ")
	if at := ofMarked.FindStringIndex(out); at != nil {
		return out[max(0, at[0]-40):at[1]]
	}
	return ""
}

// TestWidths: whatever is told of any example keeps to the page, at every width, and promises nothing; of a
// plug that nothing marks no text and no page says how it is marked.
func TestWidths(t *testing.T) {
	plain := 0
	for i, e := range examples.Sets() {
		slow := i%3 == 0 // what is slow is done for every third
		t.Run(e.Name, func(t *testing.T) {
			set := loaded(t, e)
			report, all := tellingsOf(t, set, slow)
			if _, plug := set.Plug(); plug.Style == "plain" {
				plain++
				plainPlug(t, report, all, slow)
			}
			for _, change := range examples.Plans() {
				if strings.TrimSuffix(change.Name, "-plan") != e.Name {
					continue
				}
				steps, err := plan.Parse(change.Name, []byte(change.Text))
				if err != nil {
					t.Fatal(err)
				}
				c, _, err := rework.Run(set, steps)
				if err != nil {
					t.Fatal(err)
				}
				all["rework"] = func(p *text.Page) { p.Rework(c) }
				job, err := record.OfPlan(set, steps)
				if err != nil {
					t.Fatal(err)
				}
				all["record"] = func(p *text.Page) { p.Record(job) }
			}
			for name, tell := range all {
				for _, width := range widths {
					var b bytes.Buffer
					tell(text.NewPage(&b, false, width))
					for _, line := range tooWide(b.String(), width) {
						t.Errorf("%s at %d columns: %s", name, width, line)
					}
					if b.Len() == 0 || regexp.MustCompile(`(?i)\bsafe\b`).MatchString(b.String()) {
						t.Errorf("%s at %d columns tells nothing, or promises", name, width)
					}
				}
			}
		})
	}
	if plain < 5 {
		t.Errorf("%d examples have a plain plug", plain)
	}
}

// plainPlug holds all that is told of a set to the words of a plug that nothing marks, but for what is proposed,
// which may have another plug.
func plainPlug(t *testing.T, report *rules.Report, all map[string]func(*text.Page), page bool) {
	t.Helper()
	for name, tell := range all {
		var b bytes.Buffer
		tell(text.NewPage(&b, false, text.Width))
		if said := saysMarked(b.String()); said != "" && name != "rework --propose" {
			t.Errorf("%s says %q", name, said)
		}
	}
	if !page {
		return
	}
	var b bytes.Buffer
	if err := browser.Inspect(&b, []*rules.Report{report}); err != nil {
		t.Fatal(err)
	}
	if said := saysMarked(plugKey.ReplaceAllString(b.String(), "")); said != "" {
		t.Errorf("the page says %q", said)
	}
}

// plugKey is how a set file has it, in the readings that a page gives out.
var plugKey = regexp.MustCompile(`plug += \\"(as-marked|reversed)\\"`)

// TestWidthAndColourOfCommands: the flags reach every command that has them.
func TestWidthAndColourOfCommands(t *testing.T) {
	set, _ := examples.FindSet("hot-chassis")
	for _, args := range [][]string{
		{"inspect", "-"}, {"states", "-"}, {"trace", "-"}, {"checklist", "-"}, {"rework", "--propose", "-"},
		{"part"}, {"part", "plug"}, {"part", "capacitor"}, {"part", "transformer"}, {"part", "12SA7"}, {"part", "5Y3GT"},
		{"why"}, {"why", "one-capacitor"}, {"example"}, {"example", "hot-chassis"}, {"example", "hot-chassis-plan"},
	} {
		for _, width := range widths {
			if args[len(args)-1] == "-" && width > text.LeastWidth {
				continue // TestWidths has them
			}
			wide := fmt.Sprint(width)
			out, _ := ran(t, set.Text, append([]string{args[0], "--width", wide, "--color", "never"}, args[1:]...)...)
			for _, line := range tooWide(out, width) {
				t.Errorf("%v at %d columns: %s", args, width, line)
			}
			if width == 80 {
				continue
			}
			if escape.MatchString(out) {
				t.Errorf("%v has colours that were not wanted", args)
			}
			coloured, _ := ran(t, set.Text, append([]string{args[0], "--width", wide, "--color", "always"}, args[1:]...)...)
			if plain := escape.ReplaceAllString(coloured, ""); plain == coloured || plain != out {
				t.Errorf("%v in colour has none, or other words", args)
			}
		}
	}
}

// TestExamplesArePrintedAsTheyAre: what is no terminal gets the file to the letter.
func TestExamplesArePrintedAsTheyAre(t *testing.T) {
	for _, e := range allExamples() {
		if out, _ := ran(t, "", "example", e.Name); out != e.Text {
			t.Errorf("%s is printed otherwise than it is", e.Name)
		}
	}
}
