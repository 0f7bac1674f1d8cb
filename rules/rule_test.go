package rules

import (
	"regexp"
	"strings"
	"testing"
)

// Every rule has all its words, a name of its own, and none promises safety.
func TestEveryRuleHasItsWords(t *testing.T) {
	promise := regexp.MustCompile(`(?i)\b(is|are|be|makes? it|now|quite|perfectly) safe\b|\bsafe to\b|\bsafely\b`)
	jargon := regexp.MustCompile(`(?i)\b(netlist|vertex|edge|matrix|cost)\b`)
	names := map[string]bool{}
	for _, r := range All {
		if names[r.Name] {
			t.Errorf("two rules are named %s", r.Name)
		}
		names[r.Name] = true
		if r.Run == nil {
			t.Errorf("%s does nothing", r.Name)
		}
		for what, text := range map[string]string{"signals": r.Signals, "looks": r.Looks, "why": r.Why, "blind": r.Blind,
			"source": r.Source, "remedy": r.Remedy, "caution": r.Caution} {
			if strings.TrimSpace(text) == "" {
				t.Errorf("%s has no %s", r.Name, what)
			}
			if promise.MatchString(text) {
				t.Errorf("%s promises safety in %s: %s", r.Name, what, text)
			}
			if word := jargon.FindString(text); word != "" {
				t.Errorf("%s says %q in %s", r.Name, word, what)
			}
		}
		if !strings.Contains(r.Signals, r.Signal.String()) {
			t.Errorf("%s gives %s at most, and does not say so: %s", r.Name, r.Signal, r.Signals)
		}
	}
}

// The rules come in the order of precedence of the list that people read.
func TestRulesComeInOrder(t *testing.T) {
	order := strings.Fields(`polarity-only hot-chassis live-through-load earthed-line line-short touch-current live-between
		behind-guard one-capacitor one-insulation one-resistor one-fault switch-after-load switch-in-neutral no-switch no-fuse
		fuse-misplaced fuse-rating earth-current capacitor-class over-rating over-watts reversed-electrolytic leaky-part
		suspect-part stored-charge resistor-drift heater-string autotransformer guessed-figure file-notice bench-supply readings-differ`)
	at := 0
	for _, r := range All {
		for at < len(order) && order[at] != r.Name {
			at++
		}
		if at == len(order) {
			t.Fatalf("%s is out of order", r.Name)
		}
	}
	if len(All) < 32 {
		t.Errorf("only %d rules", len(All))
	}
}

func TestFindAnswersByName(t *testing.T) {
	if Find("no-fuse") != NoFuse {
		t.Error("no-fuse is not found by its name")
	}
	if Find("no fuse") != nil {
		t.Error("a name that is none finds a rule")
	}
}
