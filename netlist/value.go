package netlist

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"coldcheck/netlist/internal/words"
)

// Unit is the unit that a value is kept in. Values are always in the base unit.
type Unit string

// The units of the format.
const (
	Ohm    Unit = "Ω"
	Farad  Unit = "F"
	Henry  Unit = "H"
	Volt   Unit = "V"
	Ampere Unit = "A"
	Watt   Unit = "W"
	Hertz  Unit = "Hz"
)

// unitFacts is how a unit is written, and between which figures a value is believable. What is
// outside is a slip of the pen or of the prefix, never a part of a set.
type unitFacts struct {
	plural   string
	words    []string // how it may be written, lower case, the longest first
	sample   string
	min, max float64 // in the base unit
}

var units = map[Unit]unitFacts{
	Ohm:    {"ohms", []string{"ohms", "ohm", "ω", "\u2126", "r"}, `"220k"`, 1e-6, 1e12},
	Farad:  {"farads", []string{"farads", "farad", "fd.", "f.", "fd", "f"}, `"0.05 uF"`, 1e-15, 1},
	Henry:  {"henries", []string{"henries", "henrys", "henry", "h"}, `"1.5 H"`, 1e-12, 1e4},
	Volt:   {"volts", []string{"volts", "volt", "v"}, `"120 V"`, 1e-6, 1e5},
	Ampere: {"amps", []string{"amps", "amp", "a"}, `"15 mA"`, 1e-12, 1e4},
	Watt:   {"watts", []string{"watts", "watt", "w"}, `"0.5 W"`, 1e-9, 1e5},
	Hertz:  {"hertz", []string{"hertz", "cycles", "cycle", "cps", "cy", "hz", "~"}, `"60 Hz"`, 1e-3, 1e5},
}

// Units are all units of the format.
var Units = []Unit{Ohm, Farad, Henry, Volt, Ampere, Watt, Hertz}

// Plural is the unit as a message names it: "ohms".
func (u Unit) Plural() string { return units[u].plural }

// Sample is how a value of the unit may be written, as a message shows it.
func (u Unit) Sample() string { return units[u].sample }

// Words are how the unit may be written, in lower case, the longest first.
func (u Unit) Words() []string { return slices.Clone(units[u].words) }

// Prefixes are the prefixes of every unit but the farad with what each stands for, in the case in which they are
// written; PrefixWords are those that are spelt out, in lower case.
func Prefixes() map[string]float64    { return maps.Clone(prefixes) }
func PrefixWords() map[string]float64 { return maps.Clone(prefixWords) }

// Range is between which figures a value of the unit is believable.
func (u Unit) Range() (least, most float64) { return units[u].min, units[u].max }

// prefixes are the SI prefixes, and "meg" and "K" as the trade writes them.
var prefixes = map[string]float64{
	"": 1, "p": 1e-12, "n": 1e-9, "u": 1e-6, "µ": 1e-6, "μ": 1e-6, "m": 1e-3,
	"k": 1e3, "K": 1e3, "M": 1e6, "G": 1e9, "T": 1e12,
}

// prefixWords are prefixes spelt out; letter case is free in them.
var prefixWords = map[string]float64{
	"pico": 1e-12, "nano": 1e-9, "micro": 1e-6, "milli": 1e-3, "kil": 1e3, "kilo": 1e3, "meg": 1e6, "mega": 1e6,
}

// faradPrefixes: letter case is free, m is micro and mm is pico, as the trade always wrote them.
var faradPrefixes = map[string]float64{
	"": 1, "p": 1e-12, "n": 1e-9, "u": 1e-6, "µ": 1e-6, "μ": 1e-6, "m": 1e-6,
	"mm": 1e-12, "uu": 1e-12, "µµ": 1e-12, "μμ": 1e-12, "pico": 1e-12, "nano": 1e-9, "micro": 1e-6,
}

// infixNumber is IEC 60062 clause 5: the prefix, or R, stands for the decimal point.
var infixNumber = words.Pattern(`^([0-9]+)([kKMRGpnuµμmPNU])([0-9]+)([^0-9.].*)?$`)

const decimals = "0123456789"

// plainNumber is the figure that a text begins with, as 47, 4.7, .47 or 4.7e3; "" where it begins
// with none.
func plainNumber(text string) string {
	digits := func(from int) int {
		for from < len(text) && text[from] >= '0' && text[from] <= '9' {
			from++
		}
		return from
	}
	end := digits(0)
	if end < len(text) && text[end] == '.' {
		if after := digits(end + 1); end > 0 || after > end+1 {
			end = after
		}
	}
	if end > 0 && end < len(text) && (text[end] == 'e' || text[end] == 'E') {
		power := end + 1
		if power < len(text) && (text[power] == '+' || text[power] == '-') {
			power++
		}
		if after := digits(power); after > power {
			end = after
		}
	}
	return text[:end]
}

// figure reads the figure that a text begins with: 47, 4.7e3, and as parts lists have them 1/2 and 220,000.
// It returns what follows it; ok is false where the text begins with none.
func figure(text string) (x float64, rest string, ok bool) {
	text = withoutThousands(text)
	if over, under, slash := strings.Cut(text, "/"); slash && over != "" && strings.Trim(over, decimals) == "" {
		rest = strings.TrimLeft(under, decimals)
		divisor := under[:len(under)-len(rest)]
		if divisor == "" || divisor[0] == '0' || rest != "" && strings.ContainsRune("./,", rune(rest[0])) {
			return 0, text, false
		}
		a, _ := strconv.ParseFloat(over, 64)
		b, _ := strconv.ParseFloat(divisor, 64)
		return a / b, rest, true
	}
	digits := plainNumber(text)
	// A figure too large to hold comes back as infinity, which no range takes.
	x, _ = strconv.ParseFloat(digits, 64)
	return x, text[len(digits):], digits != "" && !hasDecimalComma(text) && !hasFraction(text)
}

// withoutThousands takes out the commas between thousands: of 220,000, not of 2,2.
func withoutThousands(text string) string {
	rest := strings.TrimLeft(text, decimals)
	whole := text[:len(text)-len(rest)]
	groups := 0
	for ; rest != "" && rest[0] == ','; groups++ {
		after := strings.TrimLeft(rest[1:], decimals)
		if len(rest)-1-len(after) != 3 {
			return text
		}
		whole, rest = whole+rest[1:4], after
	}
	if groups == 0 || len(whole) > 3*groups+3 || len(whole) <= 3*groups {
		return text
	}
	return whole + rest
}

// hasDecimalComma reports whether a text begins like 4,7.
func hasDecimalComma(text string) bool {
	rest, found := strings.CutPrefix(strings.TrimLeft(text, decimals), ",")
	return found && rest != "" && strings.ContainsRune(decimals, rune(rest[0]))
}

// hasFraction reports whether a text begins like 1/2 or 2 ½.
func hasFraction(text string) bool {
	rest := strings.TrimLeft(text, decimals)
	r, _ := utf8.DecodeRuneInString(strings.TrimLeft(rest, " "))
	return rest != text && strings.ContainsRune("/½¼¾", r)
}

// Quantity is a value as read from text.
type Quantity struct {
	Value float64
	Bare  bool // neither prefix nor unit was written
	Milli bool // written as mF, which the trade and the SI read differently
	BareM bool // ohms written with an M alone, which old diagrams have for a thousand
}

// ParseValue reads a value such as "4k7", "2.2 meg", ".05 mfd" or "15 mA" and returns it in the
// base unit. Zero, a negative or an unbelievable value is an error, and so is a capacitance
// without a unit.
func ParseValue(text string, unit Unit) (float64, error) {
	q, err := ParseQuantity(text, unit)
	if err != nil {
		return 0, err
	}
	if err := CheckRange(q.Value, unit, text); err != nil {
		return 0, err
	}
	return q.Value, nil
}

// mostMegohms: from here up no old part has so many, so that an M is a thousand more likely, whatever stands
// behind it.
const mostMegohms = 22

// bareM reports whether a suffix on ohms may be meant as a thousand.
func bareM(suffix string, number float64) bool {
	after, ok := strings.CutPrefix(suffix, "M")
	return ok && (after == "" || number > mostMegohms && !strings.HasPrefix(strings.ToLower(after), "eg"))
}

// ParseQuantity reads the text without judging the figure.
func ParseQuantity(text string, unit Unit) (Quantity, error) {
	facts := units[unit]
	rest := strings.TrimSpace(text)
	if rest == "" {
		return Quantity{}, fmt.Errorf("a value is empty; write it like %s", facts.sample)
	}
	sign := 1.0
	for _, minus := range []string{"-", "−"} {
		if after, ok := strings.CutPrefix(rest, minus); ok {
			rest, sign = strings.TrimSpace(after), -1
			break
		}
	}
	rest = strings.TrimPrefix(rest, "+")
	if m := infixParts(rest); m != nil {
		scale, ok := infixScale(m[2], m[4], unit)
		if !ok {
			return Quantity{}, notAValue(text, unit)
		}
		number, _ := strconv.ParseFloat(m[1]+"."+m[3], 64)
		return Quantity{Value: sign * number * scale}, nil
	}
	number, rest, ok := figure(rest)
	suffix := strings.Join(strings.Fields(rest), "")
	scale, known := suffixScale(suffix, unit)
	if !ok || !known {
		return Quantity{}, notAValue(text, unit)
	}
	return Quantity{Value: sign * number * scale, Bare: suffix == "", Milli: unit == Farad && suffix == "mF", BareM: unit == Ohm && bareM(suffix, number)}, nil
}

// infixParts is what infixNumber finds, nil where it finds nothing; most values have no letter between
// figures, and need no pattern.
func infixParts(text string) []string {
	rest := strings.TrimLeft(text, decimals)
	if letter, size := utf8.DecodeRuneInString(rest); rest == text || letter == '.' || size == len(rest) || !strings.Contains(decimals, rest[size:size+1]) {
		return nil
	}
	return infixNumber().FindStringSubmatch(text)
}

// infixScale is the scale of "4k7" and its like; rest is what follows the figures.
func infixScale(letter, rest string, unit Unit) (float64, bool) {
	rest = strings.ToLower(strings.TrimSpace(rest))
	written := rest == ""
	for _, word := range units[unit].words {
		written = written || rest == word
	}
	switch {
	case !written, unit == Farad && rest == "":
		return 0, false
	case letter == "R":
		return 1, unit == Ohm
	case unit == Farad:
		// An m between figures may be milli or micro; no one writes it so.
		scale, ok := faradPrefixes[strings.ToLower(letter)]
		return scale, ok && strings.ToLower(letter) != "m"
	}
	scale, ok := prefixes[letter]
	return scale, ok
}

// suffixScale is the scale of a prefix and a unit, blanks taken out.
func suffixScale(suffix string, unit Unit) (float64, bool) {
	lower := strings.ToLower(suffix)
	for _, word := range append(units[unit].words, "") {
		if !strings.HasSuffix(lower, word) {
			continue
		}
		if unit == Farad {
			scale, ok := faradPrefixes[strings.TrimSuffix(lower, word)]
			return scale, ok && word != ""
		}
		runes := []rune(suffix)
		prefix := string(runes[:len(runes)-len([]rune(word))])
		if scale, ok := prefixes[prefix]; ok {
			return scale, true
		}
		if scale, ok := prefixWords[strings.ToLower(prefix)]; ok {
			return scale, true
		}
	}
	return 0, false
}

// notAValue says why a text is no value of that unit.
func notAValue(text string, unit Unit) error {
	facts := units[unit]
	trimmed := strings.TrimSpace(text)
	_, _, begins := figure(trimmed)
	switch {
	case !begins && hasDecimalComma(trimmed):
		return fmt.Errorf("%s has a comma; write a point for decimals, like %s",
			words.Quote(text), facts.sample)
	case !begins && hasFraction(trimmed):
		return fmt.Errorf("%s is a fraction; write it with a point, like %s", words.Quote(text), facts.sample)
	case unit == Farad && lacksFarads(trimmed):
		return fmt.Errorf(`%s has no unit, and that could be a million times out; write "0.05 uF" or "250 pF"`, words.Quote(text))
	}
	for _, other := range Units {
		if other != unit && namesUnit(trimmed, other) {
			return fmt.Errorf("%s is in %s, and %s are wanted; write it like %s",
				words.Quote(text), units[other].plural, facts.plural, facts.sample)
		}
	}
	return fmt.Errorf("%s is not a value in %s; write it like %s", words.Quote(text), facts.plural, facts.sample)
}

// namesUnit reports whether a text is a figure with that unit behind it.
func namesUnit(text string, unit Unit) bool {
	_, rest, begins := figure(text)
	suffix := strings.Join(strings.Fields(rest), "")
	_, ok := suffixScale(suffix, unit)
	_, isPrefix := prefixes[suffix]
	return ok && begins && !isPrefix
}

// lacksFarads reports whether a text is a figure with at most a prefix.
func lacksFarads(text string) bool {
	_, rest, begins := figure(text)
	if !begins {
		return false
	}
	rest = strings.TrimSpace(rest)
	if m := infixParts(text); m != nil {
		return m[4] == ""
	}
	_, ok := faradPrefixes[strings.ToLower(rest)]
	return ok
}

// CheckRange refuses what no part of a set can have. Written is the text or figure of the file.
func CheckRange(x float64, unit Unit, written string) error {
	facts := units[unit]
	switch {
	case math.IsNaN(x):
		return fmt.Errorf("%s is not a number; write it like %s", words.Quote(written), facts.sample)
	case math.IsInf(x, 0):
		return fmt.Errorf("%s is not a finite number; write it like %s", words.Quote(written), facts.sample)
	case x < 0:
		return fmt.Errorf("%s is negative; a value in %s is more than zero", words.Quote(written), facts.plural)
	case x == 0:
		return fmt.Errorf("%s is zero; a value in %s is more than zero, or left out where it may be", words.Quote(written), facts.plural)
	case x > facts.max:
		return fmt.Errorf("%s is beyond belief (over %s); look at the prefix and the unit", words.Quote(written), FormatValue(facts.max, unit))
	case x < facts.min:
		return fmt.Errorf("%s is beyond belief (under %s); look at the prefix and the unit", words.Quote(written), FormatValue(facts.min, unit))
	}
	return nil
}

// NumberValue judges a TOML number as a value. A capacitance needs its unit.
func NumberValue(x float64, unit Unit) (float64, error) {
	written := strconv.FormatFloat(x, 'g', -1, 64)
	if unit == Farad && x > 0 && !math.IsInf(x, 0) {
		return 0, notAValue(strconv.FormatFloat(x, 'f', -1, 64), Farad)
	}
	return x, CheckRange(x, unit, written)
}
