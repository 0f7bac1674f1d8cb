package rules

import (
	"fmt"

	"coldcheck/rules/phrase"
)

// BenchSupply tells that what the bench does is not the set's doing.
var BenchSupply = &Rule{
	Name:    "bench-supply",
	Signal:  Notice,
	Signals: "NOTICE",
	Looks:   "an isolated supply, or a point that an instrument's lead ties to earth",
	Why: "Behind an isolation transformer no current flows from one point of the set to earth through a hand. That is the bench's isolation: " +
		"on the wall outlet the set is what it was. One earthed clip ends it, for everything but the point that it is clipped to.",
	Blind: "Whether the transformer really isolates: some carry the earth or the neutral through to the outlet; a variable autotransformer does not isolate at all. " +
		"A second set on the same transformer.",
	Source:  "bench practice with isolation transformers; 1 nF to earth on each side stands for the capacitance between the windings",
	Remedy:  "Isolate the set, never the instrument, and only one set at a time; look also at what the set does on the mains (leave out --supply and --earthed)",
	Caution: "Two hands on two points still shock, and a GFCI ahead of the transformer does not trip. Make the hot check without it.",
	Subject: OfSet,
	Run: func(k *Facts) []Finding {
		bench := k.Circuit.Bench
		var findings []Finding
		if bench.Isolated {
			f := Finding{Signal: Notice, Message: "judged on an isolated supply: that isolation is the bench's, not the set's; on the wall outlet the set is what it was"}
			if len(bench.Earthed) == 0 {
				f.Notes = []string{"one earthed clip, an oscilloscope's ground lead say, ends the isolation: the rest of the set then stands at its full volts to earth"}
			}
			findings = append(findings, f)
		}
		if n := len(bench.Earthed); n > 0 {
			f := Finding{Signal: Notice, Nodes: bench.Earthed}
			f.Message = fmt.Sprintf("%s %s earthed by a lead of the bench: no figure there is the set's own", phrase.List(phrase.Visible(bench.Earthed)), phrase.Be(n))
			if bench.Isolated {
				f.Notes = []string{"the clip ends the isolation: every other point stands at its full volts to earth"}
			} else {
				f.Notes = []string{"on the bare mains a clip on a point of the line side shorts the line in one plug polarity"}
			}
			findings = append(findings, f)
		}
		return findings
	},
}
