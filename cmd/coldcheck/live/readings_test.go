package live

import (
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/cmd/coldcheck/reading"
)

// found finds a check by the words in it.
func (x *at) check(section, words string) checkView {
	x.t.Helper()
	for _, s := range post[checksAnswer](x, "checks", struct{}{}).Sections {
		for _, c := range s.Checks {
			if strings.HasPrefix(s.Key, section) && strings.Contains(c.Where, words) {
				return c
			}
		}
	}
	x.t.Fatalf("no check %q", words)
	return checkView{}
}

// TestJudged: a figure typed in is judged at once, and a wrong one says which parts would make it so; one that is no
// figure says how it is written.
func TestJudged(t *testing.T) {
	x := open(t, exampleText(t, "line-bypass"))
	c := x.check("cold", "line 1 to line 2")
	if c.Unit != "Ω" || c.Expect == "" || c.Bar != "" {
		t.Fatalf("%+v", c)
	}
	checks := x.files.now().checkOf()
	expect := checks[c.ID].Expect
	for text, verdict := range map[string]reading.Verdict{
		fmtFigure(expect): reading.Right, fmtFigure(expect / 20): reading.Low, "open": reading.High, "OL": reading.High, "many": reading.Misread, "-5": reading.Misread, "": reading.Misread, "1e300": reading.Misread,
	} {
		a := post[readingsAnswer](x, "readings", readingsAsked{Typed: []typedReading{{c.ID, text}}})
		if len(a.Judged) != 1 || a.Judged[0].Verdict != verdict || a.Judged[0].Words == "" || a.Account != nil {
			t.Errorf("%q: %+v, want %s", text, a.Judged, verdict)
		}
	}
	named := 0
	for id, c := range checks {
		if c.Quantity != diagnose.OhmsRead || len(c.Lower) == 0 {
			continue
		}
		a := post[readingsAnswer](x, "readings", readingsAsked{Typed: []typedReading{{id, "0"}}})
		if a.Judged[0].Verdict != reading.Low || !strings.Contains(a.Judged[0].Words, c.Lower[0].Part) {
			t.Errorf("%+v, want %s", a.Judged, c.Lower[0].Part)
		}
		named++
	}
	if named == 0 {
		t.Error("no check has a cause of a low reading")
	}
	if a := post[readingsAnswer](x, "readings", readingsAsked{Typed: []typedReading{{"of another set", "5"}}}); len(a.Judged) != 0 {
		t.Errorf("a check that is not there is judged: %+v", a.Judged)
	}
}

func fmtFigure(x float64) string { return strconv.FormatFloat(x, 'g', 4, 64) }

// TestExplained: readings of a set in which something has failed name it first, as the engine does, and say which to
// take next.
func TestExplained(t *testing.T) {
	text := exampleText(t, "line-bypass")
	x := open(t, text)
	checks := x.files.now().checkOf()
	base := x.files.now().base
	var planted *analysis.Fault
	for _, f := range base.Faults {
		if f.Part == "C1" && f.Kind == analysis.Shorted {
			planted = f
		}
	}
	if planted == nil {
		t.Fatal("C1 cannot short")
	}
	var typed []typedReading
	for _, s := range x.files.now().sections() {
		for _, c := range s.Checks {
			check, ok := checks[c.ID]
			if s.Key != "cold" || !ok || len(typed) == 12 {
				continue
			}
			settings := map[string]string{}
			for _, x := range check.Settings {
				settings[x.Name] = x.At
			}
			ohms := base.ColdOhms(settings, check.A, check.B, check.Tied, planted)
			figure := "open"
			if ohms < diagnose.OhmsRange {
				figure = fmtFigure(math.Max(ohms, 0.01))
			}
			typed = append(typed, typedReading{c.ID, figure})
		}
	}
	a := post[readingsAnswer](x, "readings", readingsAsked{Typed: typed, Explain: true})
	if a.Account == nil || len(a.Account.Explained) == 0 || !strings.Contains(a.Account.Say, "MAKE NO HOT CHECK") {
		t.Fatalf("%+v", a.Account)
	}
	named := false
	for _, e := range a.Account.Explained[:min(3, len(a.Account.Explained))] {
		named = named || strings.Contains(e.Words, "C1")
	}
	if !named {
		t.Errorf("C1 is not among the first three: %+v", a.Account.Explained)
	}

	// Saved, they are readings that a set file takes, and of which the checklist says the same.
	saved := post[saveAnswer](x, "save-readings", saveReadingsAsked{Typed: append(typed, typedReading{typed[0].ID, "nonsense"})})
	if saved.File != "set.readings.toml" || !strings.Contains(saved.LeftOut, "1 reading") {
		t.Fatalf("%+v", saved)
	}
	data, err := os.ReadFile(filepath.Join(filepath.Dir(x.file), "set.readings.toml"))
	if err != nil {
		t.Fatal(err)
	}
	tied := strings.Count(string(data), ", blades tied")
	set := readingsOf(t, text, string(data))
	if tied == 0 || len(set.Readings)+tied != len(typed) {
		t.Fatalf("%d readings, want %d\n%s", len(set.Readings), len(typed), data)
	}
}

// TestReadingsKept: every check of a checklist can be written as a reading and read again as the same measurement.
func TestReadingsKept(t *testing.T) {
	for _, name := range []string{"hot-chassis", "three-way-portable"} {
		text := exampleText(t, name)
		x := open(t, text)
		e := x.files.now()
		var typed []typedReading
		want := map[string]float64{}
		for id, c := range e.checkOf() {
			if c.Tied || len(typed) == mostTyped {
				continue
			}
			typed = append(typed, typedReading{id, "7"})
			want[id] = 7
		}
		data, left, err := e.readingsFile(typed)
		if err != nil || left != "" {
			t.Fatalf("%v, %s", err, left)
		}
		set := readingsOf(t, text, string(data))
		c, err := analysis.New(set, analysis.Bench{})
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range set.Readings[len(e.set.Readings):] {
			m := diagnose.MeasurementOf(c, r)
			if want[reading.ID(m)] != r.Value {
				t.Errorf("%s: %s is no check that was typed", name, reading.ID(m))
			}
			delete(want, reading.ID(m))
		}
		if len(want) > 0 {
			t.Errorf("%s: %d readings were lost: %v", name, len(want), want)
		}
	}
}

// TestHotBars: where metal is live no figure is asked for, and the bar says why.
func TestHotBars(t *testing.T) {
	x := open(t, exampleText(t, "hot-chassis"))
	bars := 0
	for _, s := range post[checksAnswer](x, "checks", struct{}{}).Sections {
		for _, c := range s.Checks {
			if c.Bar != "" {
				bars++
				if !strings.HasPrefix(c.Bar, "DO NOT") || s.Key != "hot" {
					t.Errorf("%+v", c)
				}
				if _, ok := x.files.now().checkOf()[c.ID]; ok {
					t.Errorf("a reading is taken of what must not be measured: %+v", c)
				}
			}
		}
	}
	if bars == 0 {
		t.Error("a hot chassis may be measured throughout")
	}
}
