package netlist

import (
	"fmt"
	"strings"

	"coldcheck/netlist/internal/words"
)

// mainsText splits "120 V 60 Hz" at the V; AC may stand behind either.
var mainsText = words.Pattern(`^([^vV]*[vV](?:olts?)?)(?i:\s*a\.?c\.?)?[\s,;/]*([0-9.].*?)(?i:\s*a\.?c\.?)?$`)

var dcMains = words.Pattern(`(?i)\bd\.?c\b`)

// Mains that a set may hang on. Above this it is a slip of the pen.
const (
	maxMainsVolts = 1000.0
	maxMainsHertz = 1000.0
)

// ParseMains reads volts and hertz.
func ParseMains(text string) (volts, hertz float64, err error) {
	m := mainsText().FindStringSubmatch(strings.TrimSpace(text))
	if m == nil && dcMains().MatchString(text) {
		return 0, 0, fmt.Errorf("mains = %s is DC, and only AC mains can be judged; write it like %q", words.Quote(text), DefaultMains)
	}
	if m == nil {
		return 0, 0, fmt.Errorf("mains = %s needs volts and hertz; write it like %q", words.Quote(text), DefaultMains)
	}
	if volts, err = ParseValue(m[1], Volt); err != nil {
		return 0, 0, fmt.Errorf("mains: %w", err)
	}
	if hertz, err = ParseValue(m[2], Hertz); err != nil {
		return 0, 0, fmt.Errorf("mains: %w", err)
	}
	if volts > maxMainsVolts || hertz > maxMainsHertz {
		return 0, 0, fmt.Errorf("mains = %s is beyond belief; write it like %q", words.Quote(text), DefaultMains)
	}
	return volts, hertz, nil
}

// DefaultMains is the mains where a file says none.
const DefaultMains = "120 V 60 Hz"
