package overview

import "coldcheck/rules"

// Short is what an idea comes to in a few words, behind the names of its parts.
func (i Idea) Short() string { return short[i.Rule] }

// OfParts reports whether the words are of parts, whose names go before them.
func (i Idea) OfParts() bool {
	switch i.Rule {
	case rules.LineShort, rules.NoSwitch, rules.NoFuse, rules.EarthedLine, rules.BenchSupply, rules.ReadingsDiffer:
		return false
	}
	return true
}

// short has the words for the rules of the line side, the parts, the file and the bench.
var short = map[*rules.Rule]string{
	rules.LineShort:            "the line is shorted",
	rules.SwitchAfterLoad:      "on the line ahead of any switch",
	rules.SwitchInNeutral:      "opens one leg alone",
	rules.NoSwitch:             "no switch that takes the set off the hot leg",
	rules.NoFuse:               "no fuse",
	rules.FuseMisplaced:        "leaves something without a fuse",
	rules.FuseRating:           "too large, or without a rating",
	rules.EarthedLine:          "an earth is tied to the line",
	rules.EarthCurrent:         "carries current to earth",
	rules.CapacitorClass:       "without a safety class that serves",
	rules.OverRating:           "over rating",
	rules.OverWatts:            "over the watts",
	rules.ReversedElectrolytic: "connected the wrong way round",
	rules.LeakyPart:            "leaks",
	rules.SuspectPart:          "vouched for by no one",
	rules.StoredCharge:         "charged after unplugging",
	rules.ResistorDrift:        "out of tolerance",
	rules.HeaterString:         "to look at in the heater string",
	rules.Autotransformer:      "looks like isolation and is not",
	rules.GuessedFigure:        "without a figure that can be trusted",
	rules.DoubtfulPins:         "of a type with doubtful pins",
	rules.FileNotice:           "odd in the file",
	rules.BenchSupply:          "the isolation or the earth is the bench's",
	rules.ReadingsDiffer:       "readings that the wiring as described cannot give",
}
