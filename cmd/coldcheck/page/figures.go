package page

import (
	"fmt"
	"math"
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/survey"
	"coldcheck/rules/phrase"
)

// The scale of body current runs over five decades, drawn in thousandths of its length.
const (
	scaleLeast   = 0.01 // mA
	scaleDecades = 5.0
	scaleLength  = 1000
	heartAmps    = 40.0 // mA AC, IEC 60479-1 curve c1 for a long time
)

// leastMilliampsDC is what is too little to show on the scale of DC.
const leastMilliampsDC = 0.01

// onScale is where a current stands on the scale, -1 for none to show.
func onScale(milliamps float64) int {
	if milliamps < scaleLeast {
		return 0
	}
	at := math.Log10(milliamps/scaleLeast) / scaleDecades
	return int(math.Round(scaleLength * min(at, 1)))
}

// verdict is what a reading means for a person.
type verdict int

const (
	verdictFaint verdict = iota
	verdictFaintNear
	verdictStartles
	verdictStartlesNear
	verdictLive
	verdictLiveNear
	verdictCleared
)

const nearWords = ". This is " + phrase.AtLimit

// verdictWords go on where the head of the verdict ends.
var verdictWords = []string{
	verdictFaint:        faintWords,
	verdictFaintNear:    faintWords + nearWords,
	verdictStartles:     startlesWords,
	verdictStartlesNear: startlesWords + nearWords,
	verdictLive:         liveWords,
	verdictLiveNear:     liveWords + nearWords,
	verdictCleared:      "a breaker or a fuse opens, and the figures are those before",
}

const (
	faintWords    = "no more than 0.5 mA AC and 2 mA DC, or no more than 30 V AC and 60 V DC: one of the two is enough"
	startlesWords = "it startles: over 0.5 mA AC or 2 mA DC"
	liveWords     = "over 5 mA AC or 25 mA DC; a hand may not be able to let go"
)

// verdictHeads are the words that stand out, by band, the cleared states last.
var verdictHeads = []string{"Under the limit", "Startles", "Live", "Shorts the line"}

func verdictOf(e *survey.Evaluation) verdict {
	if e.Cleared {
		return verdictCleared
	}
	return verdictOfReading(e.Reading)
}

func verdictOfReading(r analysis.Reading) verdict {
	v := map[analysis.Class]verdict{analysis.UnderLimit: verdictFaint, analysis.Startles: verdictStartles, analysis.Live: verdictLive}[r.Class()]
	if r.AtLimit() {
		v++
	}
	return v
}

// Verdict tells a reading in a word that stands out, with its band as in Card.
func Verdict(r analysis.Reading) (band int, head string) {
	band = verdictOfReading(r).head()
	return band, verdictHeads[band]
}

func (v verdict) head() int { return int(v) / 2 }

// note is what else is to be said of a state.
func note(e *survey.Evaluation) string {
	var notes []string
	if len(e.State.Blown) > 0 {
		notes = append(notes, blownNote(e.State.Blown))
	}
	switch {
	case !e.Beside():
	case e.Drawn.Rectifier != "":
		notes = append(notes, fmt.Sprintf("This is with %s conducting; with no rectifier conducting it is %s.", e.State.Rectifier, phrase.Body(e.Blocking)))
	default:
		notes = append(notes, fmt.Sprintf("This is with %s conducting; with no rectifier conducting it is %s, by the ways that are drawn.", e.State.Rectifier, phrase.Body(e.Blocking)))
	}
	if e.ThroughCool {
		notes = append(notes, "At least: the heaters or lamps in the way do not glow, and cold they pass more.")
	}
	if e.Unexplained {
		notes = append(notes, "It comes by a way that is not drawn.")
	}
	return strings.Join(notes, " ")
}

// blownNote says what a state that shorts the line comes to.
func blownNote(fuses []string) string {
	verb := " opens"
	if len(fuses) > 1 {
		verb = " open"
	}
	return "This state shorts the line: " + phrase.List(phrase.Visible(fuses)) + verb + ", and the figures are what is left then."
}

// pathWords say what a path does in a state.
var pathWords = map[survey.PathState]string{
	survey.Brings:      "brings current to the hand",
	survey.HeldBack:    "held back",
	survey.PathOpen:    "open",
	survey.Idle:        "brings nothing to the hand here",
	survey.LineShorted: "the breaker opens",
}
