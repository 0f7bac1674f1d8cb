package draft

import (
	"strings"
	"testing"
)

// TestNothingKnown: with nothing known no list of parts is told that is empty, and both parts of a barrier may be said by
// their names.
func TestNothingKnown(t *testing.T) {
	i := New()
	for q := i.Next(); q != nil; q = i.Next() {
		if shown := i.Shown(q); strings.Contains(shown, ": .") {
			t.Errorf("%s: %s", q.Key, shown)
		}
		text := DontKnow
		if q.Unknown == "" {
			text = ""
		}
		if _, _, err := i.Answer(q, text); err != nil {
			t.Fatalf("%s: %v", q.Key, err)
		}
	}
	loaded(t, i)
	for _, text := range []string{"capacitor and resistor", "Resistor and capacitor", "capacitor + resistor"} {
		if kept, _, err := i.Answer(find("b-minus"), text); kept != byBoth {
			t.Errorf("%s is taken as %q; %v", text, kept, err)
		}
	}
}

// TestWhatIsNotKnownIsTold: the file tells of each question that bears on the set and of which the answer is not known
// what it was taken as, once, and of no other.
func TestWhatIsNotKnownIsTold(t *testing.T) {
	told := 0
	for _, base := range []string{
		"plug = \"plain\"\nentry = \"string\"\nblade-1 = \"string\"\nblade-2 = \"switch, B-\"\ntubes = \"35W4 50C5 12BA6\"\nlamp = \"47\"\nlamp-at = \"tap\"\nantenna = \"wire\"\n",
		"plug = \"grounding\"\nentry = \"transformer\"\n",
	} {
		for _, q := range questions() {
			i, err := Read("answers.toml", []byte(base))
			if err != nil {
				t.Fatal(err)
			}
			if _, _, err := i.Answer(q, DontKnow); err != nil {
				continue // this has to be said
			}
			want := 0
			if q.applies(i.given) {
				want = 1
			}
			if _, text := loaded(t, i); strings.Count(text, q.Key+": not known, taken as ") != want {
				t.Errorf("%s, which is asked: %v, is told %d times\n%s", q.Key, want == 1, strings.Count(text, q.Key+": not known"), text)
			}
			told += want
		}
	}
	if told < 30 {
		t.Errorf("only %d answers were not known", told)
	}
}

// TestPartsOfWhichItIsAsked: what may have been replaced is listed, without the plug, wires, and what stands for the unknown.
func TestPartsOfWhichItIsAsked(t *testing.T) {
	i, err := Read("answers.toml", []byte("plug = \"plain\"\nentry = \"string\"\nblade-1 = \"string\"\nblade-2 = \"switch, B-\"\nacross-line = \"0.1 uF paper\"\ntubes = \"35W4 50C5 12BA6\"\nb-minus = \"wire\"\n"))
	if err != nil {
		t.Fatal(err)
	}
	shown := i.Shown(find("replaced"))
	for _, want := range []string{"capacitor", "35W4"} {
		if !strings.Contains(shown, want) {
			t.Errorf("%s is not listed: %s", want, shown)
		}
	}
	for _, not := range []string{"plug", "wire"} {
		if strings.Contains(shown, not) {
			t.Errorf("%s is listed: %s", not, shown)
		}
	}
}
