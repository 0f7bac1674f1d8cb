package rules

import (
	"coldcheck/analysis"
)

// OneFault finds metal that any other single failure makes live.
var OneFault = &Rule{
	Name:    "one-fault",
	Signal:  Warning,
	Signals: "WARNING",
	Looks:   "a touch point that one other failure makes live: neutral lost, earth lost, a pole or a deck stuck, heater to cathode, something open or pulled",
	Why: "A lost neutral, a welded switch pole or a tube pulled to look at it are everyday events. " +
		"None of them shows from outside, and the metal that was cold a minute ago is then on the line.",
	Blind:  "How likely the failure is on this very set.",
	Source: "IEC 62368-1 annex B.4 (single faults); IEC 60990:2016 clause 6 (neutral open, earth open)",
	Remedy: "give the metal a barrier that does not depend on it: a class Y capacitor alone between the line side and the metal, or an isolating transformer",
	Caution: "Pull the plug before tubes are pulled or lids come off, and discharge the reservoirs. Test the outlet, its neutral and its earth. " +
		"Re-check cold and hot after any change; follow local electrical codes and qualified advice.",
	Subject: OfMetal,
	Failure: AnyOther,
	Run:     runOneFault,
}

func runOneFault(k *Facts) []Finding {
	return k.tellSoles(AnyOther, func(s *sole, f *Finding) {
		if s.part == analysis.SupplyName {
			f.Parts = f.Parts[1:] // the supply is no part
		}
	})
}
