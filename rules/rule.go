package rules

// Signal is a signal word in the sense of ANSI Z535 and ISO 3864.
type Signal int

// The signal words, weakest first.
const (
	Notice  Signal = iota // worth knowing; no one is hurt by it
	Caution               // weakens a safeguard
	Warning               // one failure from live, or a current that startles
	Danger                // live now
)

var signalWords = [...]string{"NOTICE", "CAUTION", "WARNING", "DANGER"}

func (s Signal) String() string { return signalWords[s] }

// Signals lists the signal words as they are written in lower case, weakest first.
var Signals = []string{"notice", "caution", "warning", "danger"}

// Rule is one thing that a set is looked at for.
type Rule struct {
	Name    string
	Signal  Signal // the strongest that it gives
	Signals string // its signal words with when each is given
	Looks   string // what it looks for, a phrase
	Why     string // why it matters, two or three sentences
	Blind   string // what it does not see
	Source  string // the standard and clause, or the practice, that it rests on
	Remedy  string // what to do, where a finding has nothing closer to say
	Caution string // what to take care of
	Run     func(*Case) []Finding
}

// Find returns the rule of that name, or nil.
func Find(name string) *Rule {
	for _, r := range All {
		if r.Name == name {
			return r
		}
	}
	return nil
}
