package draft

import (
	"strings"
	"testing"

	"coldcheck/netlist"
)

// TestOneShaft: the shaft that the switch sits on is one piece of metal by whatever name it is said.
func TestOneShaft(t *testing.T) {
	for _, of := range []string{"volume", "tone"} {
		for _, name := range []string{of + " shaft", of + " control", of + " control shaft", of, "control shaft", strings.ToUpper(of) + " pot"} {
			i, err := Read("answers.toml", []byte("entry = \"string\"\nblade-2 = \"switch, B-\"\nswitch-on = \""+of+" control\"\nmetal = \"chassis, "+name+": knob, cabinet screws\"\nloose = \""+name+"\""))
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			set, text := loaded(t, i)
			shafts := 0
			for _, n := range set.TouchPoints() {
				if n.Touch == "control" {
					shafts++
					if n.Guard != "knob" {
						t.Errorf("%s: %s has the guard %q", name, n.Name, n.Guard)
					}
				}
			}
			frame := ""
			for _, p := range set.Parts {
				if p.Kind == netlist.KindSwitch {
					frame = p.Frame
				}
			}
			if shafts != 1 || !strings.HasSuffix(frame, "shaft") {
				t.Errorf("%s: %d shafts, the switch sits on %q:\n%s", name, shafts, frame, text)
			}
		}
	}
}

// TestShaftOfTheSwitch: a switch on a control has that control's shaft for its metal; elsewhere, or where there is none,
// there is no shaft of it.
func TestShaftOfTheSwitch(t *testing.T) {
	for given, want := range map[string]string{"volume control": "volume shaft", "tone control": "tone shaft", "": "volume shaft"} {
		s := answers{"switch": "blade-1"}
		if given != "" {
			s["switch-on"] = given
		}
		if got := s.shaft(); got != want {
			t.Errorf("on %q: %q, want %q", given, got, want)
		}
	}
	for _, w := range switchSeats {
		if got := (answers{"switch": "blade-1", "switch-on": w.Word}).shaft(); (got != "") != strings.HasSuffix(w.Word, " control") {
			t.Errorf("on %s: %q", w.Word, got)
		}
	}
	if got := (answers{"switch": none}).shaft(); got != "" {
		t.Errorf("without a switch: %q", got)
	}
}
