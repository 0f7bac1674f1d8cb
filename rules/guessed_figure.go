package rules

import (
	"fmt"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// GuessedFigure finds figures that rest on a guess.
var GuessedFigure = &Rule{
	Name:    "guessed-figure",
	Signal:  Caution,
	Signals: "CAUTION",
	Looks:   "a winding across the line whose transformer has no volts in the file",
	Why: "Without its volts a winding counts as a coil of 10 Ω, which is a guess. Across the line that guess rules the currents and volts " +
		"beside it, and may even look like a short of the line.",
	Blind:   "Other guesses in the file: the ohms of a coil, the ratings of a lamp.",
	Source:  "how windings are reckoned here: coupled where volts are given, else 10 Ω each",
	Remedy:  "Put down volts for every winding of that transformer: from the schematic, or measured on a bench supply of a few volts.",
	Caution: "Do not lean on the figures near it until then; what paths tell, and what no figure tells, still holds.",
	Subject: OfPart,
	Run: func(k *Facts) []Finding {
		var findings []Finding
		for p, t := range details[*netlist.Transformer](k.Set) {
			if t.Coupled {
				continue
			}
			for _, w := range t.Windings {
				if k.line.EverAcross(w.Start, w.End) {
					findings = append(findings, Finding{
						Signal: Caution, Parts: []string{p.Name},
						Message: fmt.Sprintf("the %s winding of %s lies across the line and has no volts: it is taken as %s, a guess, and the figures beside it are not to be trusted",
							netlist.Visible(w.Name), p.Name, phrase.Value(analysis.WindingOhms, netlist.Ohm)),
					})
				}
			}
		}
		return findings
	},
}
