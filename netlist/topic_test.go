package netlist

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// Every way to write a figure that is told is read as what it says.
func TestSpellingsAreRead(t *testing.T) {
	units := map[Unit]bool{}
	for _, s := range spellings {
		units[s.unit] = true
		for _, w := range s.all {
			if got, err := ParseValue(w.Text, s.unit); err != nil || math.Abs(got/w.Value-1) > 1e-12 {
				t.Errorf("%s %q = %g, %v, want %g", s.what, w.Text, got, err, w.Value)
			}
		}
	}
	for _, u := range Units {
		if !units[u] {
			t.Errorf("nothing is told of how %s are written", u.Plural())
		}
	}
	for _, row := range spellingRows() {
		if row[0] != "mains" {
			continue
		}
		for i, text := range strings.Split(row[1], `"`) {
			if _, _, err := ParseMains(text); i%2 == 1 && err != nil {
				t.Error(err)
			}
		}
	}
}

// Each word means one topic, and no kind of part.
func TestTopicsAreFound(t *testing.T) {
	for i := range topics {
		topic := &topics[i]
		for _, w := range append([]string{topic.Name, strings.ToUpper(topic.Name), "[" + topic.Name + "]"}, topic.Words...) {
			if got := FindTopic(topics, w); got != topic {
				t.Errorf("%q finds %v", w, got)
			}
			if kind := KindByWord(w); kind != nil {
				t.Errorf("%q is a %s too", w, kind.Kind)
			}
		}
		if topic.Meaning == "" || len(topic.Tables) == 0 {
			t.Errorf("%s lacks its meaning or its tables", topic.Name)
		}
	}
	for _, w := range []string{"", "wombat", "resistor", strings.Repeat("nodes", 100)} {
		if got := FindTopic(topics, w); got != nil {
			t.Errorf("%q finds %s", w, got.Name)
		}
	}
}

// What touch and guard may be is told of every word, in the order of the words.
func TestTopicsTellEveryWord(t *testing.T) {
	for _, c := range []struct {
		rows [][2]string
		want []string
	}{{touchRows, TouchKinds}, {guardRows, GuardKinds}, {colourRows(), append(slices.Clone(colours), "gold", "silver")}, {kindRows(), append(KindNames(), string(KindCan))}} {
		var got []string
		for _, row := range c.rows {
			got = append(got, row[0])
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("told are %v, want %v", got, c.want)
		}
	}
}

// What a colour is told to stand for is what it is read as.
func TestColoursStandForWhatIsTold(t *testing.T) {
	for _, row := range colourRows() {
		for _, means := range strings.Split(row[1], ", ") {
			what, figure, _ := strings.Cut(means, " ")
			code := map[string]string{"digit": row[0] + " brown black", "multiplier": "black brown " + row[0], "tolerance": "brown black brown " + row[0]}[what]
			if row[0] == "black" && what == "digit" {
				code = "brown black black"
			}
			ohms, tolerance, err := ParseBands(code)
			if err != nil {
				t.Errorf("%s: %v", code, err)
				continue
			}
			got := ohms
			switch {
			case code == "brown black black":
				got -= 10
			case what == "digit":
				got = math.Floor(ohms / 10)
			case what == "tolerance":
				figure, got = strings.TrimSuffix(figure, " %"), tolerance
			}
			if want, err := ParseValue(figure, Ohm); got == 0 && figure != "0" || got != 0 && (err != nil || math.Abs(got/want-1) > 1e-12) {
				t.Errorf("%s is told to be %s, and is %g", row[0], means, got)
			}
		}
	}
}

// TestColourRows: grey and white are digits alone, the others multipliers too, gold and silver no digits.
func TestColourRows(t *testing.T) {
	rows := map[string]string{}
	for _, r := range colourRows() {
		rows[r[0]] = r[1]
	}
	for name, has := range map[string][3]bool{"black": {true, true, false}, "violet": {true, true, false}, "grey": {true, false, false}, "white": {true, false, false}, "gold": {false, true, true}, "silver": {false, true, true}} {
		for i, word := range []string{"digit", "multiplier", "tolerance"} {
			if strings.Contains(rows[name], word) != has[i] {
				t.Errorf("%s: %q, %s %v", name, rows[name], word, !has[i])
			}
		}
	}
}
