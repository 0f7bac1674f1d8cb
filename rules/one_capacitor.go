package rules

import (
	"fmt"
	"math"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// OneCapacitor finds metal that one capacitor keeps from being live.
var OneCapacitor = &Rule{
	Name:    "one-capacitor",
	Signal:  Warning,
	Signals: "WARNING",
	Looks:   "a touch point that the short of one capacitor makes live, alone or with parts for which no one vouches",
	Why: "Old paper capacitors leak and short, and one that is good today says nothing of tomorrow. A capacitor without a safety class was never " +
		"tested to stand between the line and a hand. When it shorts, nothing blows and nothing shows.",
	Blind:  "The capacitor's real leakage, unless the file states it: only taking a lead off and testing at working voltage tells.",
	Source: "IEC 60384-14 (classes X and Y); IEC 62368-1 annex G.11; restorers' experience with paper capacitors",
	Caution: "Work unplugged with the reservoirs discharged. A test lamp or a cold ohmmeter does not prove a capacitor; replace it. " +
		"Re-check cold and hot, in both plug polarities, after the change; follow local electrical codes.",
	Remedy:  "replace it by a class Y capacitor",
	Subject: OfMetal,
	Failure: CapacitorShorts,
	Run:     runOneCapacitor,
}

func runOneCapacitor(k *Facts) []Finding {
	return k.tellSoles(CapacitorShorts, func(s *sole, f *Finding) { f.Remedy = k.capacitorRemedy(s.part) })
}

// capacitorRemedy names a class and a value that keeps the metal's current under ES1.
func (k *Facts) capacitorRemedy(name string) string {
	part := k.Set.Part(name)
	most := largestCapacitor(k.Set.Volts, k.Set.Hertz)
	d := part.Detail.(*netlist.Capacitor)
	size := "of its own value"
	if d.Farads > limitShare*most {
		size = fmt.Sprintf("of %s or less (%s keeps a hand under 0.5 mA on %s, with room for tolerances)",
			netlist.FormatValue(preferredBelow(limitShare*most), netlist.Farad), netlist.FormatValue(preferredBelow(limitShare*most), netlist.Farad), phrase.Volts(k.Set.Volts))
	}
	of := WindingCapacitance(k.Set, part)
	switch {
	case of != "":
		return strayRemedy(name, of)
	case d.Class == "" && d.Type == "" && d.Rating == 0 && d.Farads <= gangFarads:
		return fmt.Sprintf("if %s is a tuning gang, put a class Y1 capacitor of 4.7 nF or less in series between its metal and the line side; else replace it by a class Y1 one", name)
	case d.Class == "":
		return fmt.Sprintf("replace %s by a class Y1 capacitor %s, or two of class Y2 in series: then two failures stand in the way; one Y2 leaves one, of a tested kind", name, size)
	case notY(d, k.lineVolts()) != "":
		return fmt.Sprintf("replace %s by a class Y1 capacitor %s: as it is, it is %s", name, size, notY(d, k.lineVolts()))
	case part.Condition != netlist.Good:
		return fmt.Sprintf("replace %s by a new one of its class: it is marked %s", name, part.Condition)
	}
	return fmt.Sprintf("%s is one safeguard, of a tested kind; for two fit class Y1 %s, or two of class Y2 in series, or keep the metal covered", name, size)
}

// limitShare leaves room for mains and capacitors above their nominal values.
const limitShare = 0.6

// gangFarads: a capacitor up to here without type, rating or class may be a tuning gang.
const gangFarads = 1e-9

// largestCapacitor is the largest that keeps the current from the line into the body network
// under ES1, in F: |Z| = V/I, 1/ωC = √(|Z|² − Re²) + Im of the network.
func largestCapacitor(volts, hertz float64) float64 {
	omega := 2 * math.Pi * hertz
	body := analysis.BodyImpedance(omega)
	z := volts / (analysis.ES1AmpsAC * 1e-3)
	if z <= real(body) {
		return math.Inf(1)
	}
	return 1 / (omega * (math.Sqrt(z*z-real(body)*real(body)) + imag(body)))
}

// preferredBelow is the largest usual class Y value not above x, in F.
func preferredBelow(x float64) float64 {
	best := 1e-9
	for _, v := range []float64{1e-9, 1.5e-9, 2.2e-9, 3.3e-9, 4.7e-9, 6.8e-9, 10e-9} {
		if v <= x {
			best = v
		}
	}
	return best
}
