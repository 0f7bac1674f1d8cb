package rules

import (
	"slices"
	"strings"
	"testing"

	"coldcheck/analysis"
)

const (
	shaft = "[nodes.\"volume shaft\"]\ntouch = \"control\""
	fuse  = `F1 = { kind = "fuse", ends = ["chassis", "volume shaft"], amps = 0.5 }`
)

// Points that a whole fuse, or an earth wire, joins in every state without faults are one piece of
// metal and have one name; points that a switch joins are two.
func TestOneMetal(t *testing.T) {
	line := []string{polarized, wireHot, switchNeu, loadHB, `W3 = { kind = "wire", ends = ["B-", "chassis"] }`}
	for _, c := range []struct {
		joint string
		one   bool
	}{
		{fuse, true},
		{`W4 = { kind = "wire", ends = ["chassis", "volume shaft"] }`, true},
		{"W4 = { kind = \"wire\", ends = [\"chassis\", \"building earth\"] }\nW5 = { kind = \"wire\", ends = [\"volume shaft\", \"building earth\"] }", true},
		{`S2 = { kind = "switch", ends = ["chassis", "volume shaft"] }`, false},
		{`C9 = { kind = "capacitor", ends = ["chassis", "volume shaft"], value = "1 nF", condition = "failed" }`, false},
	} {
		r := check(t, append(slices.Clone(line), c.joint, shaft)...)
		if got := len(r.Case.Metals) == 1; got != c.one {
			t.Errorf("%s: %d pieces of metal", c.joint, len(r.Case.Metals))
		}
		if live := slices.Concat(findings(r, "hot-chassis"), findings(r, "polarity-only")); c.one && len(live) != 1 {
			t.Errorf("%s: told %d times\n%s", c.joint, len(live), messages(r))
		}
	}
	one(t, check(t, append(line, fuse, shaft)...), "hot-chassis", Danger, "chassis and volume shaft (one piece of metal) are on the line itself")
}

// A fuse that opens parts a metal: each piece that it leaves is told by its own name. The chassis stays
// on the earth, and the shaft hangs on what is left to it.
func TestFusePartsMetal(t *testing.T) {
	with := func(part string) *Report {
		return check(t, grounding, wireHot, wireNeut, loadHB, fuse, part, shaft)
	}
	r := with(`C1 = { kind = "capacitor", ends = ["H", "volume shaft"], value = "0.1 uF" }`)
	for _, words := range []string{"chassis and volume shaft (one piece of metal) startle once the earth contact is open", "volume shaft startles once F1 is open"} {
		if !strings.Contains(messages(r), words) {
			t.Errorf("it does not say %q:\n%s", words, messages(r))
		}
	}
	r = with(`R2 = { kind = "resistor", ends = ["H", "volume shaft"], value = 8000 }`)
	if words := "volume shaft is live once F1 is open"; !strings.Contains(messages(r), words) {
		t.Errorf("it does not say %q:\n%s", words, messages(r))
	}
	for _, f := range findings(r, "touch-current") {
		if strings.Contains(f.Message, "F1 is open") && slices.Contains(f.Nodes, "chassis") {
			t.Errorf("it speaks of the chassis, which is on the earth: %s", f.Message)
		}
	}
	silent(t, r, "one-fault")
	silent(t, with(`C1 = { kind = "capacitor", ends = ["H", "volume shaft"], value = "1 nF", class = "Y1" }`), "touch-current")
}

// A fuse that opens in the line between two pieces of metal leaves the line's volts between them, and a
// person who holds both is told so, also where the bench's transformer keeps either from the earth.
func TestHandToHandAcrossAFuse(t *testing.T) {
	r := checkOn(t, analysis.Bench{Isolated: true}, polarized, `W1 = { kind = "wire", ends = ["line 1", "chassis"] }`, fuse,
		`R1 = { kind = "resistor", ends = ["volume shaft", "line 2"], value = 800 }`, shaft)
	if len(r.Case.Metals) != 1 {
		t.Fatalf("%d pieces of metal", len(r.Case.Metals))
	}
	one(t, r, "live-between", Warning, "from chassis to volume shaft, hand to hand", "F1 open")
}

// A fuse that a short opens leaves one of the points that it joined at the line: what that one passes is told,
// though the foremost is earthed.
func TestBlownFusePartsMetal(t *testing.T) {
	r := check(t, `PL1 = { kind = "plug", style = "grounding", hot = "line 1", neutral = "line 2", earth = "chassis" }`,
		fuse, shaft,
		`[parts.S1]
kind = "switch"
ends = ["line 1", "volume shaft"]`, "[parts.R1]\nkind = \"resistor\"\nends = [\"line 1\", \"line 2\"]\nvalue = 800")
	for _, m := range r.Case.Metals {
		if m.Node() == "chassis" {
			if got := m.worstPiece().Node(); got != "volume shaft" {
				t.Errorf("the worst of %s is %s, chassis %v, shaft %v", m.Name(), got, m.Points[0].Normal, m.Points[1].Normal)
			}
			return
		}
	}
	t.Error("no chassis")
}
