package reading

import (
	"strings"
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/netlist"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/setfile"
)

// TestFigure: a figure is read as a set file has it, in Ω, V and mA, and what is no figure of that kind says how one is
// written.
func TestFigure(t *testing.T) {
	for _, c := range []struct {
		typed string
		q     diagnose.Quantity
		want  float64
	}{
		{"4k7", diagnose.OhmsRead, 4700}, {" 1.2 meg ", diagnose.OhmsRead, 1.2e6}, {"0", diagnose.OhmsRead, 0}, {"O.L.", diagnose.OhmsRead, diagnose.OhmsRange},
		{"∞", diagnose.OhmsRead, diagnose.OhmsRange}, {"118", diagnose.VoltsRead, 118}, {"12 mV", diagnose.VoltsRead, 0.012}, {"-7.5", diagnose.VoltsDCRead, -7.5},
		{"0.3", diagnose.MilliampsRead, 0.3}, {"300 uA", diagnose.MilliampsRead, 0.3}, {"1 A", diagnose.MilliampsRead, 1000},
	} {
		if got, err := Figure(c.typed, c.q); err != nil || got < c.want*(1-1e-12) && c.want > 0 || got > c.want*(1+1e-12) && c.want > 0 || c.want <= 0 && got != c.want {
			t.Errorf("%q as %s: %v, %v, want %v", c.typed, c.q, got, err, c.want)
		}
	}
	for typed, says := range map[string]string{"": "like 118", "many": "like 118", "-5": "negative", "open": "like 118", "12 ohms": "like 118", "1e9": "beyond belief", "1e999": "beyond belief"} {
		if got, err := Figure(typed, diagnose.VoltsRead); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q as volts: %v, %v, want %q", typed, got, err, says)
		}
	}
	for _, word := range openWords {
		if _, err := Figure(word, diagnose.OhmsRead); err != nil {
			t.Errorf("%q: %v", word, err)
		}
	}
	for _, word := range []string{"open", "ol", "OL", "O.L", "ol."} {
		if !netlist.ReadsOpen(word) {
			t.Errorf("set files do not read %q as open", word)
		}
	}
}

func exampleCircuit(t *testing.T) (examples.Example, *netlist.Set, *analysis.Circuit) {
	t.Helper()
	e, _ := examples.FindSet("tape-jack")
	set, err := setfile.Load("set.toml", strings.NewReader(e.Text))
	if err != nil {
		t.Fatal(err)
	}
	circuit, err := analysis.New(set, analysis.Bench{})
	if err != nil {
		t.Fatal(err)
	}
	return e, set, circuit
}

// TestJudge: the edges of a band are right, what is beyond is not, and over the meter's range is open.
func TestJudge(t *testing.T) {
	_, _, circuit := exampleCircuit(t)
	band := diagnose.Check{Measurement: diagnose.Measurement{Quantity: diagnose.OhmsRead}, Low: 90, High: 110}
	high := diagnose.Check{Measurement: diagnose.Measurement{Quantity: diagnose.OhmsRead}, Low: diagnose.OhmsRange / 5, High: diagnose.OhmsRange}
	for _, c := range []struct {
		check diagnose.Check
		value float64
		want  Verdict
	}{
		{band, 90, Right}, {band, 110, Right}, {band, 89.99, Low}, {band, 110.01, High}, {band, diagnose.OhmsRange, High},
		{high, diagnose.OhmsRange, Right}, {high, 10 * diagnose.OhmsRange, Right}, {high, diagnose.OhmsRange / 6, Low},
	} {
		got, words := Judge(circuit, c.check, c.value)
		if got != c.want || got != Right && !strings.HasSuffix(words, noCause) {
			t.Errorf("%v of %v to %v: %s, %q, want %s", c.value, c.check.Low, c.check.High, got, words, c.want)
		}
	}
}

// TestTables: what is given out of every check of an example is read back as that reading.
func TestTables(t *testing.T) {
	e, set, circuit := exampleCircuit(t)
	l := diagnose.Checks(circuit)
	var tables []*netlist.Table
	want := map[string]float64{}
	for i, c := range append(l.Cold, l.Joined...) {
		if !c.Tied {
			tables = append(tables, Table(c.Measurement, float64(i+1)))
			want[ID(c.Measurement)] = float64(i + 1)
		}
	}
	for i := range l.Hot {
		tables = append(tables, Table(l.Hot[i].Load.Measurement, 0.5))
		want[ID(l.Hot[i].Load.Measurement)] = 0.5
	}
	text, err := Written(tables)
	if err != nil {
		t.Fatal(err)
	}
	again, err := setfile.Load("set.toml", strings.NewReader(e.Text+"\n"+text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	for _, r := range again.Readings[len(set.Readings):] {
		id := ID(diagnose.MeasurementOf(circuit, r))
		if want[id] != r.Value {
			t.Errorf("%s reads %v, want %v", id, r.Value, want[id])
		}
		delete(want, id)
	}
	if len(want) > 0 || len(tables) < 15 {
		t.Errorf("of %d tables %v did not come back", len(tables), want)
	}
}
