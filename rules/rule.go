package rules

import "strings"

// Signal is a signal word in the sense of ANSI Z535 and ISO 3864.
type Signal int

// The signal words, weakest first.
const (
	Notice  Signal = iota // worth knowing; no one is hurt by it
	Caution               // weakens a safeguard
	Warning               // one failure from live, or a current that startles
	Danger                // live now
)

// Signals lists the signal words as they are written in lower case, weakest first.
var Signals = []string{"notice", "caution", "warning", "danger"}

// String is the signal word; "" for what is none.
func (s Signal) String() string {
	if s < Notice || s > Danger {
		return ""
	}
	return strings.ToUpper(Signals[s])
}

// Subject is what a rule's findings speak of.
type Subject int

// The subjects.
const (
	OfPart  Subject = iota // a part, wherever it stands
	OfMetal                // a piece of accessible metal to earth, through a body
	OfPair                 // two pieces of metal, hand to hand
	OfEarth                // what is meant for an earth, or on one
	OfLine                 // the line side: plug, fuses, switches, and what they feed
	OfSet                  // the set, its file or the bench
)

// Failure is the one failure of which a rule tells that it makes metal live.
type Failure int

// The failures that have a rule each.
const (
	NoFailure       Failure = iota // the rule tells of none
	CapacitorShorts                // a capacitor shorts
	InsulationFails                // insulation breaks down
	ResistorShorts                 // a resistor or a potentiometer shorts
	AnyOther                       // any other single fault
)

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

	Subject Subject
	Live    bool    // it tells of what is live, or shorts the line, with nothing failed
	Failure Failure // the one failure of which it tells, if any
	Current bool    // it tells of current through good parts
	// Stress is of rules that hold a part against its own ratings: the part answers for that by itself,
	// wherever the line comes from.
	Stress bool

	Run func(*Facts) []Finding
}

// Touch reports whether the rule tells what metal, or the earth that it is on, does to a person.
func (r *Rule) Touch() bool { return r.Live || r.Current || r.Failure != NoFailure }

// OnePerMetal reports whether a piece of metal has one finding of the rule, whatever parts lead there.
func (r *Rule) OnePerMetal() bool {
	return r.Touch() && r.Failure == NoFailure && (r.Subject == OfMetal || r.Subject == OfPair || r.Subject == OfEarth && r.Live)
}

// All is every rule, in the order in which they take precedence: where two findings are alike in
// signal and node, the earlier rule's comes first.
var All = []*Rule{
	PolarityOnly,
	HotChassis,
	LiveThroughLoad,
	EarthedLine,
	LineShort,
	TouchCurrent,
	LiveBetween,
	BehindGuard,
	OneCapacitor,
	OneInsulation,
	OneResistor,
	OneFault,
	SwitchAfterLoad,
	SwitchInNeutral,
	NoSwitch,
	NoFuse,
	FuseMisplaced,
	FuseRating,
	EarthCurrent,
	CapacitorClass,
	OverRating,
	OverWatts,
	ReversedElectrolytic,
	LeakyPart,
	SuspectPart,
	StoredCharge,
	ResistorDrift,
	HeaterString,
	Autotransformer,
	GuessedFigure,
	DoubtfulPins,
	FileNotice,
	BenchSupply,
	ReadingsDiffer,
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
