package rules

import (
	"fmt"
	"math"

	"coldcheck/analysis"
)

// The standard that the limits rest on, as a finding cites it.
const (
	limitSource = "IEC 62368-1 table 4"
	bodySource  = "IEC 60990 body network"
)

// milliamps tells a current with as many digits as a bench needs.
func milliamps(x float64) string { return digits(x, 3) + " mA" }

// volts tells a voltage likewise.
func volts(x float64) string { return digits(x, 3) + " V" }

// digits rounds to so many significant digits, and never writes an exponent.
func digits(x float64, n int) string {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return fmt.Sprintf("%g", x)
	}
	places := n - 1 - int(math.Floor(math.Log10(math.Abs(x))))
	if math.Abs(x) < 1e-3 {
		return "under 0.001"
	}
	if places < 0 {
		places = 0
	}
	return fmt.Sprintf("%.*f", places, x)
}

// current tells the touch current of a reading, AC and DC.
func current(r analysis.Reading) string {
	switch {
	case r.MilliampsDC < 0.005*max(r.Milliamps, 0.01):
		return milliamps(r.Milliamps)
	case r.Milliamps < 0.005*r.MilliampsDC:
		return milliamps(r.MilliampsDC) + " DC"
	}
	return milliamps(r.Milliamps) + " AC and " + milliamps(r.MilliampsDC) + " DC"
}

// idleMilliamps: a DC current below this is none.
const idleMilliamps = 0.001 // mA

// open tells the open-circuit volts of a reading, AC and DC.
func open(r analysis.Reading) string {
	switch {
	case r.VoltsDC < 0.01*max(r.VoltsOpen, 1), r.MilliampsDC < idleMilliamps:
		return volts(r.VoltsOpen) // DC that drives no current hangs on the model's earth leaks alone
	case r.VoltsOpen < 0.01*r.VoltsDC:
		return volts(r.VoltsDC) + " DC"
	}
	return volts(r.VoltsOpen) + " AC and " + volts(r.VoltsDC) + " DC"
}

// meaning tells what a reading is for a person, against the limits.
func meaning(r analysis.Reading) string {
	limit := ""
	if r.AtLimit() {
		limit = "; at the limit: mains and parts have tolerances"
	}
	switch r.Class() {
	case analysis.Live:
		if r.MilliampsDC/analysis.ES2AmpsDC > r.Milliamps/analysis.ES2AmpsAC {
			return fmt.Sprintf("over 25 mA DC: live, it can injure or kill (%s, ES2)%s", limitSource, limit)
		}
		return fmt.Sprintf("over 5 mA, where a person can no longer be sure to let go (%s, ES2)%s", limitSource, limit)
	case analysis.Startles:
		return fmt.Sprintf("over 0.5 mA AC or 2 mA DC: felt, and it startles; past 5 mA a hand may not let go (%s, ES1)%s", limitSource, limit)
	}
	return fmt.Sprintf("within 0.5 mA AC and 2 mA DC: hardly felt (%s, ES1)%s", limitSource, limit)
}

// tellFigures fills in what a reading is, in full and in short. atLeast marks a way through heaters
// or lamps that do not glow.
func (f *Finding) tellFigures(r analysis.Reading, atLeast bool) {
	least := ""
	if atLeast {
		least = "at least "
	}
	f.Meaning = meaning(r)
	f.Figures = fmt.Sprintf("%s to earth, %s%s through a body (%s): %s", open(r), least, current(r), bodySource, f.Meaning)
	f.FiguresAgain = fmt.Sprintf("%s to earth, %s%s through a body: %s", open(r), least, current(r), bandWords(r.Class()))
	if atLeast {
		f.Figures += "; cold heaters and lamps pass more, having up to six times less resistance"
	}
	if r.AtLimit() {
		f.FiguresAgain += ", at the limit"
	}
}

// bandWords tells a band in a few words.
func bandWords(b analysis.Class) string {
	switch b {
	case analysis.Live:
		return "live (over ES2)"
	case analysis.Startles:
		return "startles (over ES1)"
	}
	return "within ES1"
}
