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
		suspect-part stored-charge resistor-drift heater-string autotransformer guessed-figure doubtful-pins file-notice bench-supply readings-differ`)
	at := 0
	for _, r := range All {
		for at < len(order) && order[at] != r.Name {
			at++
		}
		if at == len(order) {
			t.Fatalf("%s is out of order", r.Name)
		}
	}
	if len(All) < 34 {
		t.Errorf("only %d rules", len(All))
	}
}

// What a rule is, is said of it: rules of live metal, of one failure and of current are those that speak
// of a hazard of touch, and no rule is of two of them.
func TestAttributes(t *testing.T) {
	of := func(want func(*Rule) bool) string {
		var names []string
		for _, r := range All {
			if want(r) {
				names = append(names, r.Name)
			}
		}
		return strings.Join(names, " ")
	}
	for want, is := range map[string]func(*Rule) bool{
		"polarity-only hot-chassis live-through-load earthed-line line-short behind-guard":                                           func(r *Rule) bool { return r.Live },
		"one-capacitor one-insulation one-resistor one-fault":                                                                        func(r *Rule) bool { return r.Failure != NoFailure },
		"touch-current live-between earth-current":                                                                                   func(r *Rule) bool { return r.Current },
		"over-rating over-watts reversed-electrolytic leaky-part":                                                                    func(r *Rule) bool { return r.Stress },
		"polarity-only hot-chassis live-through-load earthed-line touch-current live-between behind-guard":                           (*Rule).OnePerMetal,
		"line-short switch-after-load switch-in-neutral no-switch no-fuse fuse-misplaced fuse-rating":                                func(r *Rule) bool { return r.Subject == OfLine },
		"polarity-only hot-chassis live-through-load touch-current behind-guard one-capacitor one-insulation one-resistor one-fault": func(r *Rule) bool { return r.Subject == OfMetal },
		"": func(r *Rule) bool {
			return r.Live && r.Current || r.Live && r.Failure != NoFailure || r.Current && r.Failure != NoFailure || r.Subject == OfMetal && !r.Touch()
		},
	} {
		if got := of(is); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}

func TestSignalWords(t *testing.T) {
	for signal, want := range map[Signal]string{Notice: "NOTICE", Danger: "DANGER", Danger + 1: "", Notice - 1: ""} {
		if got := signal.String(); got != want {
			t.Errorf("%d is %q, want %q", int(signal), got, want)
		}
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
