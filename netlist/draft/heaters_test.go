package draft

import (
	"strings"
	"testing"

	"coldcheck/netlist"
)

// TestHeatersUnknown: a string of which nothing is known lets 0.3 A through at the mains: some 400 Ω of 120 V.
func TestHeatersUnknown(t *testing.T) {
	i, err := Read("answers.toml", []byte("mains = \"120 V 60 Hz\"\nentry = \"string\""))
	if err != nil {
		t.Fatal(err)
	}
	set, text := loaded(t, i)
	for _, p := range set.Parts {
		if r, ok := p.Detail.(*netlist.Resistor); ok && p.Note == "stands for the heaters" {
			if r.Ohms < 360 || r.Ohms > 440 {
				t.Errorf("%s has %g Ω", p.Name, r.Ohms)
			}
			return
		}
	}
	t.Errorf("nothing stands for the heaters:\n%s", text)
}

// TestHeaterSum: the heaters are held against the mains as soon as they are said.
func TestHeaterSum(t *testing.T) {
	for _, c := range []struct{ mains, text, want string }{
		{"120 V 60 Hz", "35w4 50c5 12be6 12ba6 12av6", "122.8 V at 150 mA, which is the 120 V of the mains"},
		{"120 V 60 Hz", "25Z5, 43, 6D6, 6A7, 75", "68.9 V at 300 mA, which leaves 51.1 V of 120 V: some 170 Ω in series"},
		{"117 V 60 Hz", "50L6GT 50L6GT 35Z5GT", "135 V at 150 mA, more than the 117 V of the mains"},
		{"120 V 60 Hz", "35W4, 50C5, heater 25 V 300 mA", "do not all take the same current"},
	} {
		i, err := Read("answers.toml", []byte("mains = \""+c.mains+"\"\nentry = \"string\""))
		if err != nil {
			t.Fatal(err)
		}
		_, remark, err := i.Answer(find("tubes"), c.text)
		if err != nil || !strings.Contains(remark, c.want) {
			t.Errorf("%s: %q, %v", c.text, remark, err)
		}
	}
}
