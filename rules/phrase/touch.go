package phrase

import (
	"fmt"

	"coldcheck/analysis"
)

// The standards that limits and touch currents rest on, as a finding cites them.
const (
	LimitSource = "IEC 62368-1 table 4"
	BodySource  = "IEC 60990 body network"
)

// besideShare: of AC and DC, the one with less than so much of the other's share of its limit is
// left out.
const besideShare = 0.01

// What counts as none.
const (
	idleMilliamps = 0.001 // mA
	idleVolts     = 0.01  // V
)

// Current tells a touch current, AC and DC: "60.4 mA", "2 mA DC", "0.3 mA AC and 1.2 mA DC".
func Current(r analysis.Reading) string {
	ac, dc := currents(r)
	return bothKinds(Milliamps(r.Milliamps), Milliamps(r.MilliampsDC), ac, dc)
}

// Body is Current beside other figures of AC, where the AC is always told and named: "0.5 mA AC".
func Body(r analysis.Reading) string {
	words := Milliamps(r.Milliamps) + " AC"
	if _, dc := currents(r); dc {
		words += " and " + Milliamps(r.MilliampsDC) + " DC"
	}
	return words
}

// currents reports which of a touch current's AC and DC are worth telling.
func currents(r analysis.Reading) (ac, dc bool) {
	return besides(r.Milliamps/analysis.ES2AmpsAC, r.MilliampsDC/analysis.ES2AmpsDC, r.Milliamps >= idleMilliamps, r.MilliampsDC >= idleMilliamps)
}

func besides(shareAC, shareDC float64, someAC, someDC bool) (ac, dc bool) {
	dc = someDC && shareDC >= besideShare*shareAC
	return !dc || someAC && shareAC >= besideShare*shareDC, dc
}

// Open tells what stands at a point with nothing connected, AC and DC likewise.
func Open(r analysis.Reading) string {
	ac, dc := openVolts(r)
	return bothKinds(Volts(r.VoltsOpen), Volts(r.VoltsDC), ac, dc)
}

// OnMeter tells the AC volts that a meter shows, and the DC volts with nothing connected.
func OnMeter(r analysis.Reading) string {
	words := Volts(r.VoltsMeter) + " AC"
	if _, dc := openVolts(r); dc {
		words += ", " + Volts(r.VoltsDC) + " DC open"
	}
	return words
}

// openVolts reports which of the AC and DC volts of a point are worth telling. DC that drives no
// current hangs on the model's minimum conductance alone.
func openVolts(r analysis.Reading) (ac, dc bool) {
	return besides(r.VoltsOpen/analysis.ES2VoltsAC, r.VoltsDC/analysis.ES2VoltsDC, r.VoltsOpen >= idleVolts,
		r.VoltsDC >= idleVolts && r.MilliampsDC >= idleMilliamps)
}

func bothKinds(ac, dc string, tellAC, tellDC bool) string {
	switch {
	case !tellDC:
		return ac
	case !tellAC:
		return dc + " DC"
	}
	return ac + " AC and " + dc + " DC"
}

// Range tells the least and the most of two touch currents: "0.2 to 60.4 mA".
func Range(least, most analysis.Reading) string {
	a, b := Current(least), Current(most)
	if a == b {
		return b
	}
	return spread(a, b)
}

// Band tells where a reading stands against the limits.
func Band(b analysis.Class) string {
	switch b {
	case analysis.Live:
		return "live"
	case analysis.Startles:
		return "startles"
	}
	return "under the limit"
}

// BandOver is Band with the limit that is exceeded.
func BandOver(b analysis.Class) string {
	switch b {
	case analysis.Live:
		return Band(b) + " (over ES2)"
	case analysis.Startles:
		return Band(b) + " (over ES1)"
	}
	return Band(b) + " (ES1)"
}

// AtLimit is said of a reading within a fifth of a limit.
const AtLimit = "at the limit: mains and parts have tolerances"

// Meaning tells what a reading is for a person, against the limits.
func Meaning(r analysis.Reading) string {
	limit := ""
	if r.AtLimit() {
		limit = "; " + AtLimit
	}
	switch r.Class() {
	case analysis.Live:
		if r.MilliampsDC/analysis.ES2AmpsDC > r.Milliamps/analysis.ES2AmpsAC {
			return fmt.Sprintf("over 25 mA DC: live, it can injure or kill (%s, ES2)%s", LimitSource, limit)
		}
		return fmt.Sprintf("over 5 mA, where a person can no longer be sure to let go (%s, ES2)%s", LimitSource, limit)
	case analysis.Startles:
		return fmt.Sprintf("over 0.5 mA AC or 2 mA DC: it startles; past 5 mA a hand may not let go (%s, ES1)%s", LimitSource, limit)
	}
	return fmt.Sprintf("under the limit of 0.5 mA AC and 2 mA DC, or of 30 V AC and 60 V DC (%s, ES1)%s", LimitSource, limit)
}
