package netlist

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// mainsText splits "120 V 60 Hz" at the V.
var mainsText = pattern(`^([^vV]*[vV](?:olts?)?)(?i:\s*a\.?c\.?)?[\s,;/]*([0-9.].*)$`)

var dcMains = pattern(`(?i)\bd\.?c\b`)

// Mains that a set may hang on. Above this it is a slip of the pen.
const (
	maxMainsVolts = 1000.0
	maxMainsHertz = 1000.0
)

// parseMains reads volts and hertz.
func parseMains(text string) (volts, hertz float64, err error) {
	m := mainsText().FindStringSubmatch(strings.TrimSpace(text))
	if m == nil && dcMains().MatchString(text) {
		return 0, 0, fmt.Errorf("mains = %s is DC, and only AC mains can be judged; write it like %q", quote(text), DefaultMains)
	}
	if m == nil {
		return 0, 0, fmt.Errorf("mains = %s needs volts and hertz; write it like %q", quote(text), DefaultMains)
	}
	if volts, err = ParseValue(m[1], Volt); err != nil {
		return 0, 0, fmt.Errorf("mains: %w", err)
	}
	if hertz, err = ParseValue(m[2], Hertz); err != nil {
		return 0, 0, fmt.Errorf("mains: %w", err)
	}
	if volts > maxMainsVolts || hertz > maxMainsHertz {
		return 0, 0, fmt.Errorf("mains = %s is beyond belief; write it like %q", quote(text), DefaultMains)
	}
	return volts, hertz, nil
}

// ratingText splits a voltage rating into volts and AC or DC; workingVolts is how the trade marks
// capacitors.
var (
	ratingText   = pattern(`(?i)^(.*?)\s*(a\.?c\.?|d\.?c\.?|~)?$`)
	workingVolts = pattern(`(?i)w\.?v\.?$`)
)

// rating reads a voltage rating: DC unless AC is written.
func (r *partReader) rating(v Value) (volts float64, ac bool) {
	where := "rating of " + r.quoted
	text, ok := v.Data.(string)
	if !ok {
		return r.b.value(v, Volt, where, r.w.Name), false
	}
	if m := ratingText().FindStringSubmatch(strings.TrimSpace(text)); m != nil {
		text = workingVolts().ReplaceAllString(m[1], "V")
		ac = m[2] == "~" || strings.HasPrefix(strings.ToLower(m[2]), "a")
	}
	return r.b.value(Value{v.Pos, text}, Volt, where, r.w.Name), ac
}

// leakText is "40 uA at 10 V".
var leakText = pattern(`(?i)^(.+?)\s+(?:at|@)\s+(.+)$`)

// leakage reads a stated leakage as ohms.
func (r *partReader) leakage(v Value) float64 {
	where := "leakage of " + r.quoted
	text, ok := v.Data.(string)
	if !ok {
		return r.b.value(v, Ohm, where, r.w.Name)
	}
	m := leakText().FindStringSubmatch(strings.TrimSpace(text))
	if m == nil {
		x, err := ParseValue(text, Ohm)
		if err != nil {
			r.addf(v.Pos, "%s: %v; or say a current at a voltage, like \"40 uA at 10 V\"", where, err)
		}
		return x
	}
	amps, err := ParseValue(m[1], Ampere)
	volts, err2 := ParseValue(m[2], Volt)
	if err := errors.Join(err, err2); err != nil {
		r.addf(v.Pos, "%s: %s is not a current at a voltage; write it like \"40 uA at 10 V\"", where, quote(text))
		return 0
	}
	if err := checkRange(volts/amps, Ohm, text); err != nil {
		r.addf(v.Pos, "%s: %v", where, err)
		return 0
	}
	return volts / amps
}

// numberValue judges a TOML number as a value. A capacitance needs its unit.
func numberValue(x float64, unit Unit) (float64, error) {
	written := strconv.FormatFloat(x, 'g', -1, 64)
	if unit == Farad && x > 0 && !math.IsInf(x, 0) {
		return 0, notAValue(strconv.FormatFloat(x, 'f', -1, 64), Farad)
	}
	return x, checkRange(x, unit, written)
}
