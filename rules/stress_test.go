package rules

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"coldcheck/analysis"
)

var mainsBench = analysis.Bench{}

// supplyOf is a half-wave supply of that rectifier on 120 V: 169.7 V with no load.
func supplyOf(rectifier string, capacitor string) []string {
	return []string{polarized, switchHot, wireNeut, loadHB, toChassis, rectifier, capacitor}
}

const (
	tubeRectifier = `V1 = { kind = "tube", type = "35W4", pins = { 5 = "H", 7 = "B+" } }`
	selenium      = `D1 = { kind = "rectifier", anode = "H", cathode = "B+" }`
	silicon       = `D1 = { kind = "rectifier", anode = "H", cathode = "B+", type = "silicon" }`
)

func reservoir(rating string) string {
	return fmt.Sprintf(`C1 = { kind = "capacitor", ends = ["B+", "B-"], value = "40 uF", type = "electrolytic", positive = "B+"%s }`, rating)
}

// flowAngle is what a rectifier of so many ohms, behind drop volts, charges a reservoir to that does not
// ripple, with a load of so many ohms on it: it conducts for 2a of a period, and
// V/load = peak/(π·ohms)·(sin a − a·cos a) with V = peak·cos a (Schade 1943; the integral of what is above V).
func flowAngle(peak, ohms, load float64) float64 {
	low, high := 0.0, math.Pi/2
	for range 100 {
		a := (low + high) / 2
		if peak*math.Cos(a)/load > peak/(math.Pi*ohms)*(math.Sin(a)-a*math.Cos(a)) {
			low = a
		} else {
			high = a
		}
	}
	return peak * math.Cos(low)
}

// Under load a rectifier charges to what the angle says in which it conducts; with no load to 169.7 V. Over the
// one it is a WARNING, over the other alone a NOTICE.
func TestOverRatingByRectifier(t *testing.T) {
	peak := 120 * math.Sqrt2
	for _, c := range []struct {
		rectifier string
		drop      float64
		ohms      float64
	}{
		{tubeRectifier, 0, 18 / 0.2}, // a 35W4: 18 V at 200 mA
		{selenium, 5, 5},
		{silicon, 0.7, 5},
	} {
		volts := flowAngle(peak-c.drop, c.ohms+2*0.1, 500)
		with := func(rating float64, more ...string) *Report {
			lines := supplyOf(c.rectifier, fmt.Sprintf(`C1 = { kind = "capacitor", ends = ["B+", "B-"], value = "5000 uF", positive = "B+", rating = "%g V" }`, rating))
			return check(t, append(lines, more...)...)
		}
		load := `R9 = { kind = "resistor", ends = ["B+", "B-"], value = 500 }`
		one(t, with(0.97*volts, load), "over-rating", Warning, "C1")
		if f := one(t, with(1.03*volts, load), "over-rating", Notice, "C1", "only until the tubes draw"); f.Worst == nil {
			t.Error("it does not say in which state")
		}
		silent(t, with(175, load), "over-rating")
		// With nothing that draws, the peak is what it has.
		one(t, with(160), "over-rating", Warning, "C1")
	}
	silent(t, check(t, supplyOf(silicon, reservoir(""))...), "over-rating") // no rating stated
}

// A battery's volts are what they are, whatever a rectifier beside it gives.
func TestOverRatingOfABatteryIsNotScaled(t *testing.T) {
	with := func(rating int) *Report {
		return check(t, polarized, switchHot, wireNeut, loadHB, toChassis,
			`B1 = { kind = "battery", positive = "A+", negative = "B-", volts = 90 }`,
			fmt.Sprintf(`C1 = { kind = "capacitor", ends = ["A+", "B-"], value = "8 uF", rating = "%d V" }`, rating))
	}
	one(t, with(85), "over-rating", Warning, "stands 90 V")
	silent(t, with(95), "over-rating")
}

// Across a 230 V line stand 325 V peak: a 250 V AC part is within its rating, a 300 V DC one not.
func TestOverRatingOfAnACRating(t *testing.T) {
	with := func(rating string) *Report {
		return checkSet(t, loadWhole(t, `[set]
name = "trial"
mains = "230 V 50 Hz"
[nodes]
chassis = { touch = "chassis" }
[parts]
PL1 = { kind = "plug", ends = ["a", "b"] }
R1 = { kind = "resistor", ends = ["a", "b"], value = 800 }
C1 = { kind = "capacitor", ends = ["a", "b"], value = "0.1 uF", class = "X2", rating = "`+rating+`" }
CY = { kind = "capacitor", ends = ["b", "chassis"], value = "1 nF", class = "Y2" }
`), mainsBench)
	}
	silent(t, with("250 V AC"), "over-rating")
	one(t, with("300 V"), "over-rating", Warning, "325 V")
	one(t, with("150 V AC"), "over-rating", Warning, "325 V", "212 V peak")
}

// 120 V on 1.44 kΩ burn 10 W.
func TestOverWatts(t *testing.T) {
	with := func(watts string) *Report {
		return check(t, polarized, switchHot, wireNeut, toChassis,
			`R1 = { kind = "resistor", ends = ["H", "B-"], value = 1440`+watts+` }`)
	}
	one(t, with(", watts = 5"), "over-watts", Caution, "R1", "10 W", "5 W")
	silent(t, with(", watts = 10"), "over-watts")
	silent(t, with(""), "over-watts")
}

// 10 Ω across a lamp of 10 Ω behind 100 Ω: at its 6 V the lamp would carry half of 1.14 A; at 5.6 V it has
// 9.6 Ω (0.12 + 0.88·(5.6/6)^0.6 of 10 Ω), so that 5.61 V stand across both and the resistor burns 3.15 W.
// With the lamp open it carries 1.09 A and burns 11.9 W.
func TestOverWattsWithALampOpen(t *testing.T) {
	with := func(watts float64) *Report {
		return check(t, polarized, switchHot, wireNeut, toChassis,
			`R1 = { kind = "resistor", ends = ["H", "x"], value = 100 }`,
			fmt.Sprintf(`R2 = { kind = "resistor", ends = ["x", "B-"], value = 10, watts = %g }`, watts),
			`LP1 = { kind = "lamp", ends = ["x", "B-"], volts = 6, amps = 0.6 }`)
	}
	f := one(t, with(5), "over-watts", Caution, "R2", "11.9 W")
	if f.Worst == nil || !f.Worst.State.Has(analysis.Open) {
		t.Error("it does not say that the lamp is open")
	}
	silent(t, with(15), "over-watts")
	f = one(t, with(2), "over-watts", Caution, "3.15 W")
	if f.Worst.State.Has(analysis.Open) {
		t.Error("over its watts with the lamp whole, it speaks of the lamp")
	}
}

func TestReversedElectrolytic(t *testing.T) {
	with := func(positive string) *Report {
		return check(t, supplyOf(silicon, `C1 = { kind = "capacitor", ends = ["B+", "B-"], value = "40 uF"`+positive+` }`)...)
	}
	one(t, with(`, positive = "B-"`), "reversed-electrolytic", Warning, "C1", "B-", "170 V")
	silent(t, with(`, positive = "B+"`), "reversed-electrolytic")
	silent(t, with(""), "reversed-electrolytic")
}

// A bias of less than a volt the wrong way is let be.
func TestReversedByLessThanAVolt(t *testing.T) {
	with := func(volts float64) *Report {
		return check(t, polarized, switchHot, wireNeut, loadHB, toChassis,
			fmt.Sprintf(`B1 = { kind = "battery", positive = "A+", negative = "B-", volts = %g }`, volts),
			`C1 = { kind = "capacitor", ends = ["A+", "B-"], value = "8 uF", positive = "B-" }`)
	}
	silent(t, with(0.9), "reversed-electrolytic")
	one(t, with(1.5), "reversed-electrolytic", Warning, "C1")
}

// Two capacitors of 16 V between line and chassis stand nothing while the chassis floats. Each must stand
// the line's peak once the chassis is earthed and the other shorts; two of 250 V AC do.
func TestOverRatingOfABarrier(t *testing.T) {
	with := func(rating string) *Report {
		return check(t, polarized, switchHot, wireNeut, loadHB, `C1 = { kind = "capacitor", ends = ["B-", "x"], value = "1 nF", class = "Y2", rating = "`+rating+`" }`,
			`C2 = { kind = "capacitor", ends = ["x", "chassis"], value = "1 nF", class = "Y2", rating = "`+rating+`" }`)
	}
	found := findings(with("16 V"), "over-rating")
	if len(found) != 2 {
		t.Fatal(messages(with("16 V")))
	}
	for i, words := range []string{"C1, 1 nF, 16 V, class Y2 stands 170 V, over its rating, once chassis is earthed (a hand, an antenna, another set's ground) and C2, in series with it, shorts",
		"C2, 1 nF, 16 V, class Y2 stands 170 V"} {
		if !strings.Contains(found[i].Message, words) || found[i].Signal != Warning {
			t.Errorf("%v %s", found[i].Signal, found[i].Message)
		}
	}
	silent(t, with("250 V AC"), "over-rating")
	// Half the line's peak each, 85 V, is within 100 V; the whole is not.
	if found := findings(with("100 V"), "over-rating"); len(found) != 2 {
		t.Errorf("of 100 V each:\n%s", messages(with("100 V")))
	}
}

// A single capacitor to a chassis is told by what it stands once that is earthed.
func TestOverRatingOnceEarthed(t *testing.T) {
	with := func(rating string) *Report {
		return check(t, polarized, switchHot, wireNeut, loadHB, `C1 = { kind = "capacitor", ends = ["B-", "chassis"], value = "1 nF", class = "Y2", rating = "`+rating+`" }`)
	}
	one(t, with("160 V"), "over-rating", Warning, "C1", "170 V", "once chassis is earthed")
	silent(t, with("175 V"), "over-rating")
}
