package page

import (
	"fmt"
	"math"
	"strings"

	"coldcheck/analysis"
	"coldcheck/cmd/coldcheck/text"
)

// The scale of body current runs over five decades, drawn in thousandths of its length.
const (
	scaleLeast   = 0.01 // mA
	scaleDecades = 5.0
	scaleLength  = 1000
	heartAmps    = 40.0 // mA AC, IEC 60479-1 curve c1 for a long time
)

// What is too little to tell beside the other kind of current.
const (
	leastVoltsDC     = 0.05  // V
	leastMilliampsDC = 0.005 // mA
)

// onScale is where a current stands on the scale, -1 for none to show.
func onScale(milliamps float64) int {
	if milliamps < scaleLeast {
		return 0
	}
	at := math.Log10(milliamps/scaleLeast) / scaleDecades
	return int(math.Round(scaleLength * min(at, 1)))
}

// meterWords tells the AC volts on the meter, and the DC volts with nothing connected.
func meterWords(r analysis.Reading) string {
	words := text.Digits(r.VoltsMeter) + " V AC"
	if r.VoltsDC >= leastVoltsDC {
		words += ", " + text.Digits(r.VoltsDC) + " V DC open"
	}
	return words
}

func bodyWords(r analysis.Reading) string {
	words := text.Digits(r.Milliamps) + " mA AC"
	if r.MilliampsDC >= leastMilliampsDC {
		words += " and " + text.Digits(r.MilliampsDC) + " mA DC"
	}
	return words
}

// verdict is what a reading means for a person.
type verdict int

const (
	verdictFaint verdict = iota
	verdictFaintNear
	verdictTingles
	verdictTinglesNear
	verdictLive
	verdictLiveNear
	verdictCleared
)

const nearWords = ". This is at the limit: mains and parts have tolerances"

// verdictWords go on where the head of the verdict ends.
var verdictWords = []string{
	verdictFaint:       faintWords,
	verdictFaintNear:   faintWords + nearWords,
	verdictTingles:     tinglesWords,
	verdictTinglesNear: tinglesWords + nearWords,
	verdictLive:        liveWords,
	verdictLiveNear:    liveWords + nearWords,
	verdictCleared:     "a breaker or a fuse opens, and the figures are those before",
}

const (
	faintWords   = "no more than 0.5 mA AC and 2 mA DC, or no more than 30 V AC and 60 V DC: one of the two is enough"
	tinglesWords = "it is felt: over 0.5 mA AC or 2 mA DC"
	liveWords    = "over 5 mA AC or 25 mA DC; a hand may not be able to let go"
)

// verdictHeads are the words that stand out, by band, the cleared states last.
var verdictHeads = []string{"Under the limit", "Startles", "Live", "Shorts the line"}

func (r *reading) verdict() verdict {
	if r.cleared {
		return verdictCleared
	}
	v := map[analysis.Class]verdict{analysis.UnderLimit: verdictFaint, analysis.Startles: verdictTingles, analysis.Live: verdictLive}[r.Class()]
	if r.AtLimit() {
		v++
	}
	return v
}

func (v verdict) head() int { return int(v) / 2 }

// note is what else is to be said of a reading.
func (r *reading) note() string {
	var notes []string
	switch {
	case r.state.Rectifier != "":
		notes = append(notes, fmt.Sprintf("This is with %s conducting; with no rectifier conducting it is %s.", r.state.Rectifier, bodyWords(r.blocking)))
	case r.rectifier != "":
		notes = append(notes, fmt.Sprintf("With %s conducting it is %s.", r.rectifier, bodyWords(r.conducting)))
	}
	if r.cold {
		notes = append(notes, "At least: the heaters or lamps in the way do not glow, and cold they pass more.")
	}
	if r.unseen {
		notes = append(notes, "It comes by a way that is not drawn.")
	}
	return strings.Join(notes, " ")
}

// routeWords say what a way does in a state.
var routeWords = map[routeState]string{
	routeBrings:  "brings current to the hand",
	routeHolds:   "held back",
	routeOpen:    "open",
	routeIdle:    "brings nothing to the hand here",
	routeCleared: "the breaker opens",
}
