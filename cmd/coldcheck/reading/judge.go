package reading

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// Verdict is how a reading stands to what is right.
type Verdict string

// The verdicts.
const (
	Right   Verdict = "right"
	Low     Verdict = "low"
	High    Verdict = "high"
	Misread Verdict = "misread" // no figure of the kind that is asked for
)

// UnitOf is what a quantity's figures are in.
var UnitOf = map[diagnose.Quantity]string{diagnose.VoltsRead: "V", diagnose.VoltsDCRead: "V DC", diagnose.OhmsRead: "Ω", diagnose.MilliampsRead: "mA"}

// openWords are what a person writes for an ohmmeter that shows nothing, in lower case: what set files have for it
// (netlist.ReadsOpen), and more.
var openWords = []string{"open", "ol", "ol.", "o.l", "o.l.", "∞", "inf", "infinite"}

// most is the greatest figure that set files take, as they have it.
func most(q diagnose.Quantity) float64 {
	_, limit := keyOf(q).Unit.Range()
	if q == diagnose.MilliampsRead {
		limit *= 1e3
	}
	return limit
}

func keyOf(q diagnose.Quantity) netlist.KeyInfo {
	return *netlist.FindKey(netlist.ReadingKeys(), string(q))
}

// sample is how a figure of the quantity may be typed.
func sample(q diagnose.Quantity) string {
	_, example, _ := strings.Cut(keyOf(q).Example, "=")
	return strings.Trim(example, ` "`)
}

// Figure reads a figure as a set file has it: in Ω, V or mA; diagnose.OhmsRange for an ohmmeter that shows nothing.
// The error says how a figure is written.
func Figure(typed string, q diagnose.Quantity) (float64, error) {
	typed = strings.TrimSpace(typed)
	if q == diagnose.OhmsRead && slices.Contains(openWords, strings.ToLower(typed)) {
		return diagnose.OhmsRange, nil
	}
	quantity, err := netlist.ParseQuantity(typed, keyOf(q).Unit)
	if err != nil {
		return 0, fmt.Errorf("not read: write what the meter showed, like %s", sample(q))
	}
	value := quantity.Value
	if q == diagnose.MilliampsRead && !quantity.Bare {
		value *= 1e3
	}
	switch {
	case math.IsNaN(value) || math.Abs(value) > most(q):
		return 0, fmt.Errorf("beyond belief; write what the meter showed")
	case value < 0 && q != diagnose.VoltsDCRead:
		return 0, fmt.Errorf("negative; only DC volts may be")
	}
	return value, nil
}

// Judge holds a figure against the band of a check of a circuit, and says which parts would make it so.
func Judge(circuit *analysis.Circuit, c diagnose.Check, value float64) (Verdict, string) {
	open := c.Quantity == diagnose.OhmsRead && value >= diagnose.OhmsRange
	switch {
	case value < c.Low:
		return Low, "Low: " + cmp.Or(causes(circuit, c.Lower), noCause)
	case value > c.High && !(open && c.High >= diagnose.OhmsRange):
		return High, "High: " + cmp.Or(causes(circuit, c.Higher), noCause)
	}
	return Right, "Right"
}

// causesTold is how many causes of a wrong reading are told.
const causesTold = 4

// noCause is told where nothing that fails alone makes a reading so. The page's script has it too.
const noCause = "nothing that fails alone makes it so"

func causes(circuit *analysis.Circuit, all []diagnose.Explanation) string {
	var words []string
	for i := range all {
		if w := phrase.Explanation(&all[i]); !slices.Contains(words, w) {
			words = append(words, w)
		}
	}
	return phrase.InWordsOf(circuit, phrase.FewOf(words, causesTold, ", or ", "more"))
}
