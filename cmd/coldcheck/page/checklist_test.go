package page

import (
	"bytes"
	"fmt"
	"html"
	"html/template"
	"regexp"
	"slices"
	"strings"
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
	"coldcheck/analysis/diagnose"
	"coldcheck/cmd/coldcheck/output"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist"
	"coldcheck/netlist/examples"
	"coldcheck/rules"
	"coldcheck/rules/phrase"
	"coldcheck/rules/rework"
)

// checklistOf cuts the checklist of a set out of a page.
func checklistOf(t *testing.T, page, id string) string {
	t.Helper()
	_, rest, ok := strings.Cut(page, fmt.Sprintf(`<section class="checklist" id="%s-checks"`, id))
	if !ok {
		t.Fatalf("no checklist of %s", id)
	}
	body, _, _ := strings.Cut(rest, "</section>")
	return body
}

// part cuts one part of a checklist out of it: what stands under its heading.
func part(t *testing.T, list, id, key string) string {
	t.Helper()
	_, rest, ok := strings.Cut(list, fmt.Sprintf(`<h3 id="%s-%s">`, id, key))
	if !ok {
		t.Fatalf("the checklist of %s has no %s", id, key)
	}
	body, _, _ := strings.Cut(rest, "<h3 ")
	return body
}

var (
	rowOf  = regexp.MustCompile(`(?s)<tbody><tr>(.*?)</tbody>`)
	cellOf = regexp.MustCompile(`(?s)<t[hd]([^>]*)>(.*?)</t[hd]>`)
	tag    = regexp.MustCompile(`<[^>]*>`)
)

// words is what a reader sees of some markup.
func words(markup string) string {
	return strings.ReplaceAll(html.UnescapeString(tag.ReplaceAllString(markup, "")), "\u00a0", " ")
}

// rowsOf are the cells of every check of a part, what is said under it last.
func rowsOf(markup string) [][]string {
	var rows [][]string
	for _, m := range rowOf.FindAllStringSubmatch(markup, -1) {
		var cells []string
		for _, c := range cellOf.FindAllStringSubmatch(m[1], -1) {
			cells = append(cells, words(c[2]))
		}
		rows = append(rows, cells)
	}
	return rows
}

const writeIn = "to write in"

// The figures of the checklist on the page are those that the engine works out, check by check, with
// a blank wherever a reading is asked for, and none where it must not be taken.
func TestChecklistIsThatOfTheEngine(t *testing.T) {
	n := &hotCounts{}
	for _, e := range examples.Sets() {
		t.Run(e.Name, func(t *testing.T) {
			r := exampleReport(t, e.Name)
			l := diagnose.Checks(r.Case.Circuit)
			list := checklistOf(t, examplePage(t, e.Name), "set1")
			checkCold(t, l, list)
			checkHot(t, l, list, n)
			checkRest(t, l, list)
		})
	}
	if n.asked == 0 || n.barred == 0 || n.held == 0 {
		t.Errorf("%d asked for, %d barred, %d held back: not all were looked at", n.asked, n.barred, n.held)
	}
}

// hotCounts is how many hot checks were asked for, barred, and held back until the readings agree.
type hotCounts struct{ asked, barred, held int }

func checkCold(t *testing.T, l *diagnose.Checklist, list string) {
	t.Helper()
	cold := rowsOf(part(t, list, "set1", "cold"))
	checks := append(append([]diagnose.Check{}, l.Cold...), l.Joined...)
	// A row may stand for several that read alike; each check is in one.
	for i, c := range checks {
		from := netlist.Visible(c.A)
		if c.Tied {
			from = "both blades tied"
		}
		want := []string{netlist.Visible(c.B), phrase.Meter(c.Quantity, c.Expect)}
		row := slices.IndexFunc(cold, func(cells []string) bool {
			line := strings.Join(cells[:3], "; ")
			return strings.HasPrefix(line, from+", ") && strings.Contains(line, want[0]) && strings.Contains(line, "; "+want[1])
		})
		if row < 0 {
			t.Errorf("cold check %d: no row has %q", i, want)
			continue
		}
		if len(c.Lower)+len(c.Higher) > 0 && len(cold[row]) != 6 {
			t.Errorf("cold check %d does not say what another result means: %q", i, cold[row])
		}
	}
	if len(cold) > len(checks) || len(cold) < 2 {
		t.Errorf("%d rows for %d checks", len(cold), len(checks))
	}
	for i, row := range cold {
		blanks := strings.Count(row[4], writeIn)
		if _, to, several := strings.Cut(row[0], ", each of "); !several && row[4] != writeIn || several && blanks != len(regexp.MustCompile(`, | and `).Split(to, -1)) {
			t.Errorf("cold row %d has %d blanks: %q", i, blanks, row)
		}
	}
}

func checkHot(t *testing.T, l *diagnose.Checklist, list string, n *hotCounts) {
	t.Helper()
	hot := rowsOf(part(t, list, "set1", "hot"))
	if len(hot) != len(l.Hot) {
		t.Fatalf("%d hot checks, and the engine has %d", len(hot), len(l.Hot))
	}
	for i := range l.Hot {
		h := &l.Hot[i]
		line := strings.Join(hot[i], "; ")
		blanks := strings.Count(line, writeIn)
		switch {
		case !h.Do():
			n.barred++
			if blanks != 0 || !strings.Contains(line, "DO NOT") {
				t.Errorf("hot check %d is asked for: %q", i, line)
			}
		case l.Hold():
			n.held++
			if blanks != 0 || strings.Count(line, "not yet") != 2 {
				t.Errorf("hot check %d is asked for before the readings agree: %q", i, line)
			}
		default:
			n.asked++
			if blanks != 2 || !strings.Contains(line, phrase.Meter(diagnose.VoltsRead, h.Volts.High)) || !strings.Contains(line, phrase.Meter(diagnose.VoltsRead, h.Load.High)) {
				t.Errorf("hot check %d: %q, and the engine has up to %g and %g V", i, line, h.Volts.High, h.Load.High)
			}
		}
		if len(h.May) > 0 && h.Do() && !strings.Contains(line, phrase.Fault(h.May[0])) {
			t.Errorf("hot check %d does not tell of %s: %q", i, phrase.Fault(h.May[0]), line)
		}
	}
}

func checkRest(t *testing.T, l *diagnose.Checklist, list string) {
	t.Helper()
	if l.Hold() != strings.Contains(list, "MAKE NONE OF THESE YET") {
		t.Errorf("held: %v, and the page says otherwise", l.Hold())
	}
	if len(l.Heaters) > 0 {
		heaters := rowsOf(part(t, list, "set1", "working"))
		for i, h := range l.Heaters {
			if !strings.HasPrefix(heaters[i][1], h.Tube+", ") || heaters[i][2] != phrase.Meter(h.Quantity, h.Expect) {
				t.Errorf("heater of %s: %q", h.Tube, heaters[i])
			}
		}
	}
	if over := strings.Count(list, ">OVER<"); over != overRated(l) {
		t.Errorf("%d capacitors are told over their rating, the engine has %d", over, overRated(l))
	}
	if a := l.Account; a != nil {
		readings := rowsOf(part(t, list, "set1", "readings"))
		for i, m := range a.Measurements {
			if readings[i][1] != phrase.Meter(m.Quantity, a.Shown[i]) || readings[i][2] != phrase.Meter(m.Quantity, a.Described.Predicted[i]) {
				t.Errorf("reading %d: %q", i, readings[i])
			}
		}
	}
}

func overRated(l *diagnose.Checklist) int {
	n := 0
	for _, s := range l.Stresses {
		if s.Rating > 0 && s.Volts > s.Rating*1.01 {
			n++
		}
	}
	return n
}

// What the text prints of the checklist is on the page, word for word.
func TestChecklistSaysWhatTheTextSays(t *testing.T) {
	for _, name := range []string{"hot-chassis", "line-cord-resistor-drifted", "three-way-portable"} {
		list := words(checklistOf(t, examplePage(t, name), "set1"))
		said := 0
		say := func(s string) {
			if said++; !strings.Contains(list, s) {
				t.Errorf("%s: the page lacks %q", name, s)
			}
		}
		say(text.ChecklistPromise)
		for _, s := range text.ChecklistSections(diagnose.Checks(exampleReport(t, name).Case.Circuit)) {
			say(s.Title)
			say(s.About)
			for _, b := range s.Blocks {
				switch {
				case b.Strong != "":
					say(b.Strong + b.Text)
					continue
				case b.Table == nil:
					say(b.Text[1:]) // it begins with a capital there
					continue
				}
				for _, row := range b.Table.Rows {
					for _, c := range row.Cells {
						if !c.Blank {
							say(c.Text)
						}
					}
					for _, n := range row.Below {
						say(n.Text)
					}
				}
			}
		}
		if said < 50 {
			t.Errorf("%s: only %d phrases were looked for", name, said)
		}
	}
}

// Tables are tables: a caption, heads for columns and rows, and for each cell the name of its
// column, which shows where cells stand below one another.
func TestChecklistTables(t *testing.T) {
	list := checklistOf(t, examplePage(t, "line-cord-resistor-drifted"), "set1")
	tables := strings.Split(list, "<table ")[1:]
	if len(tables) != 9 {
		t.Fatalf("%d tables, want cold, two of bringing up, hot, heaters, working volts, stresses, readings, explanations", len(tables))
	}
	for i, table := range tables {
		if caption := regexp.MustCompile(`<caption[^>]*>([^<]+)</caption>`).FindStringSubmatch(table); caption == nil {
			t.Errorf("table %d has no caption", i)
		}
		var columns []string
		for _, m := range regexp.MustCompile(`<th scope="col">([^<]*)</th>`).FindAllStringSubmatch(table, -1) {
			if columns = append(columns, words(m[1])); m[1] == "" {
				t.Errorf("table %d has a column without a name", i)
			}
		}
		rows := rowOf.FindAllStringSubmatch(table, -1)
		if len(rows) == 0 {
			t.Errorf("table %d is empty", i)
		}
		for _, row := range rows {
			first, _, _ := strings.Cut(row[1], "</tr>")
			cells := cellOf.FindAllStringSubmatch(first, -1)
			if len(cells) != len(columns) || !strings.Contains(cells[0][1], `scope="row"`) {
				t.Errorf("table %d of %d columns has the row %s", i, len(columns), first)
				continue
			}
			for k, c := range cells {
				if want := fmt.Sprintf(`data-l="%s"`, columns[k]); c[2] != "" && !strings.Contains(words(c[1]), want) {
					t.Errorf("table %d, column %s: the cell says%s", i, columns[k], c[1])
				}
			}
		}
	}
}

// A rework's page has a checklist for the set before and one for it after, each by its name.
func TestChecklistOfRework(t *testing.T) {
	var b strings.Builder
	if err := Rework(&b, rework.Compare(exampleReport(t, "hot-chassis"), exampleReport(t, "done-properly"))); err != nil {
		t.Fatal(err)
	}
	for id, name := range map[string]string{"before": "hot-chassis", "after": "done-properly"} {
		list := checklistOf(t, b.String(), id)
		if want := "The checklist: " + id; !strings.Contains(list, want) {
			t.Errorf("no heading %q", want)
		}
		if got, want := len(rowsOf(part(t, list, id, "hot"))), len(diagnose.Checks(exampleReport(t, name).Case.Circuit).Hot); got != want {
			t.Errorf("%s: %d hot checks, want %d", id, got, want)
		}
	}
}

// A set with more to measure than a page is worth waiting for says so, and names the command that
// has it all.
func TestChecklistOfLargeSet(t *testing.T) {
	var b strings.Builder
	b.WriteString("[set]\nname = \"many\"\n[nodes]\n")
	for i := range 60 {
		fmt.Fprintf(&b, "t%d = { touch = \"fastener\" }\n", i)
	}
	b.WriteString("[parts]\nPL1 = { kind = \"plug\", hot = \"L\", neutral = \"N\" }\n")
	for i := range 4 {
		fmt.Fprintf(&b, "S%d = { kind = \"switch\", ends = [\"b%d\", \"L\"] }\n", i, i)
	}
	for i := range 60 {
		fmt.Fprintf(&b, "C%d = { kind = \"capacitor\", ends = [\"b%d\", \"t%d\"], value = \"1 nF\" }\n", i, i%4, i)
	}
	c := analysistest.Of(t, b.String())
	if v := newChecklist(c); !v.Left || len(v.Sections) > 0 {
		t.Errorf("%d sections are laid out on a page", len(v.Sections))
	}
	page := pageOf(t, rules.Check(c, analysis.Options{Faults: 0}))
	if list := checklistOf(t, page, "set1"); !strings.Contains(list, "<code>coldcheck checklist</code>") || strings.Contains(list, "<table") {
		t.Errorf("the page says %s", list)
	}
}

// Names of the file stay text in the checklist.
func TestChecklistEscaped(t *testing.T) {
	list := checklistOf(t, pageOf(t, reportOf(t, smallSet)), "set1")
	if n := strings.Count(list, "<script"); n != 1 {
		t.Errorf("%d scripts, want that of the fields", n)
	}
	for _, raw := range []string{"<img", "<b>", `onmouseover="`} {
		if strings.Contains(list, raw) {
			t.Errorf("the checklist has %q unescaped", raw)
		}
	}
	if name := netlist.Visible("chassis <img src=x onerror=document.title='caught'>"); !strings.Contains(words(list), "line 1, "+name) {
		t.Errorf("the checklist does not name %s", name)
	}
}

// TestChecklistPaper: a checklist by itself has its parts in their order with every row, the file and the program that
// it is of, and its policy lets its own style and script do and nothing else.
func TestChecklistPaper(t *testing.T) {
	l := diagnose.Checks(exampleReport(t, "hot-chassis").Case.Circuit)
	var b bytes.Buffer
	if err := Checklist(&b, l); err != nil {
		t.Fatal(err)
	}
	told := b.String()
	policy := strings.ReplaceAll(template.HTMLEscapeString(policyOf("style-src "+hashOf(styleText), "script-src "+hashOf(readingsText()))), "+", "&#43;")
	if !strings.Contains(told, policy) || strings.Count(told, "<script>") != 1 || !strings.Contains(told, "<script>"+readingsText()+"</script>") {
		t.Errorf("another script, or another policy than %s", policy)
	}
	if !strings.Contains(told, ">"+l.Circuit.Set.File+", "+output.Version()+"<") || !strings.Contains(told, ">Date ") {
		t.Error("it does not say of which file it is, by what, or has no line for the date")
	}
	from := 0
	for _, s := range text.ChecklistSections(l) {
		at := strings.Index(told[from:], ">"+s.Title)
		if at < 0 {
			t.Fatalf("no %s after what comes before it", s.Title)
		}
		from += at
		for _, block := range s.Blocks {
			if block.Table == nil {
				continue
			}
			for _, row := range block.Table.Rows {
				if !strings.Contains(html.UnescapeString(told), ">"+row.Cells[0].Text+"<") {
					t.Errorf("%s: no row %q", s.Title, row.Cells[0].Text)
				}
			}
		}
	}
	if !strings.Contains(told, ">BRINGING UP") || !strings.Contains(told, ">WORKING") {
		t.Error("a set that plays is not brought up")
	}
}
