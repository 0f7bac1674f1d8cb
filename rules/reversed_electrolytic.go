package rules

import (
	"fmt"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// reversedVolts is how much an electrolytic stands the wrong way round: about what its oxide
// forms of itself.
const reversedVolts = 1.0 // V

// ReversedElectrolytic finds electrolytics that are in the wrong way round.
var ReversedElectrolytic = &Rule{
	Name:    "reversed-electrolytic",
	Signal:  Warning,
	Signals: "WARNING",
	Looks:   "a capacitor whose end marked plus is the negative one by over 1 V",
	Why: "An electrolytic the wrong way round conducts, heats and bursts, and until it does it loads the rectifier like a short. " +
		"Its can is then at a potential that no one expects.",
	Blind:  "Capacitors whose plus is not put down in the file; volts that the tubes make, such as a bias from cathode current.",
	Source: "the marking of the part; DC volts as an idle reservoir charges",
	Remedy: "Turn the capacitor round, or correct the file if the plus is where the wiring says. Replace one that has been run reversed.",
	Caution: "One that has been run reversed may burst when it is powered: bring it up with the face away, or do not bring it up at all. " +
		"Discharge and measure before touching.",
	Subject: OfPart,
	Stress:  true,
	Run: func(k *Facts) []Finding {
		var findings []Finding
		for p, c := range details[*netlist.Capacitor](k.Set) {
			if c.Positive == "" {
				continue
			}
			negative := c.Ends[0]
			if negative == c.Positive {
				negative = c.Ends[1]
			}
			most, at := mostOf(k.judged, clearly, func(s *analysis.Solution) float64 {
				return s.AcrossIdle(negative, c.Positive)
			})
			if most > reversedVolts {
				findings = append(findings, Finding{
					Signal: Warning, Parts: []string{p.Name}, Worst: inState(at),
					Message: fmt.Sprintf("%s is in the wrong way round: its plus (%s) is %s below %s", phrase.Capacitor(p.Name, c),
						netlist.Visible(c.Positive), phrase.Volts(most), netlist.Visible(negative)),
				})
			}
		}
		return findings
	},
}
