package netlist

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"coldcheck/netlist/internal/words"
)

// DefaultTolerance is a resistor's tolerance in per cent where nothing says another: three bands.
const DefaultTolerance = 20.0

// colours are the digits of IEC 60062, 0 to 9.
var colours = []string{"black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "grey", "white"}

// colourTolerance is the tolerance in per cent that a band stands for (IEC 60062:2016, table 1).
var colourTolerance = map[string]float64{
	"brown": 1, "red": 2, "orange": 0.05, "yellow": 0.02, "green": 0.5, "blue": 0.25, "violet": 0.1,
	"grey": 0.01, "gold": 5, "silver": 10,
}

// colourNames are other ways to write a colour.
var colourNames = map[string]string{"gray": "grey", "purple": "violet"}

// BandsSample is how a colour code may be written, key and all.
const BandsSample = `bands = "yellow violet yellow gold"`

// ParseBands reads a colour code of three to six bands (IEC 60062 clause 4): two digits and a
// multiplier, from five bands on three digits and one, then the tolerance and the temperature
// coefficient.
func ParseBands(text string) (ohms, tolerance float64, err error) {
	bands := colourWords(text)
	digits := 2
	switch len(bands) {
	case 3, 4:
	case 5, 6:
		digits = 3
	default:
		return 0, 0, fmt.Errorf("%s has %s; write three to six colours, like %s", words.Quote(text), words.Count(len(bands), "band"), BandsSample)
	}
	ohms, err = colouredOhms(bands, digits, func(i int) string { return fmt.Sprintf("band %d", i+1) }, BandsSample, "read the bands from the other end")
	if err != nil {
		return 0, 0, err
	}
	tolerance = DefaultTolerance
	if len(bands) > digits+1 {
		band := bands[digits+1]
		if tolerance = colourTolerance[band]; tolerance == 0 {
			return 0, 0, fmt.Errorf("band %d, %q, does not stand for a tolerance; read the bands from the other end", digits+2, band)
		}
	}
	return ohms, tolerance, nil
}

// colourWords are the colours of a text, each by its usual name.
func colourWords(text string) []string {
	found := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return strings.ContainsRune(" \t,;/", r) })
	for i, w := range found {
		if name, ok := colourNames[w]; ok {
			found[i] = name
		}
	}
	return found
}

// colouredOhms is what so many digits and a multiplier say. Place names a colour by its number, as a message
// does; other is what to do where a colour is no digit.
func colouredOhms(found []string, digits int, place func(int) string, sample, other string) (float64, error) {
	known := append(slices.Clone(colours), "gold", "silver", "pink")
	number := 0
	for i, w := range found {
		if !slices.Contains(known, w) {
			hint := words.Meant(words.Nearest(w, known), "write "+sample)
			return 0, fmt.Errorf("%s, %s, is not a colour of the code; %s", place(i), words.Quote(w), hint)
		}
	}
	for i, w := range found[:digits] {
		digit := slices.Index(colours, w)
		if digit < 0 {
			return 0, fmt.Errorf("%s, %q, does not stand for a digit; %s", place(i), w, other)
		}
		number = 10*number + digit
	}
	if number == 0 {
		return 0, fmt.Errorf("%s is zero ohms; write such a link as kind = \"wire\"", words.Quote(strings.Join(found, " ")))
	}
	// The figures are put together as text: 47 times 0.1 is not 4.7 in binary.
	ohms, _ := strconv.ParseFloat(fmt.Sprintf("%de%d", number, multiplierPower(found[digits])), 64)
	return ohms, nil
}

// DotSample is how a body-end-dot code may be written, key and all.
const DotSample = `body_end_dot = "red green yellow"`

// dotPlaces are where the colours of the old code stand.
var dotPlaces = []string{"the body", "the end", "the dot"}

// ParseDot reads the code of resistors before bands: the body's colour and the end's are two digits, the
// dot's is the multiplier.
func ParseDot(text string) (float64, error) {
	found := colourWords(text)
	if len(found) != len(dotPlaces) {
		return 0, fmt.Errorf("%s has %s; write those of body, end and dot, like %s, and the body's again for an end or a dot that is not seen",
			words.Quote(text), words.Count(len(found), "colour"), DotSample)
	}
	return colouredOhms(found, 2, func(i int) string { return dotPlaces[i] }, DotSample, "only the dot may be gold or silver")
}

// lateColours are what old resistors never had as a multiplier or as a tolerance.
var (
	lateMultipliers = []string{"grey", "white", "pink"}
	lateTolerances  = []string{"orange", "yellow", "green", "blue", "violet", "grey"}
)

// LateColour names a colour of a code of bands, or of body, end and dot, that old resistors never had at its
// place: "band 4, green"; "" where there is none.
func LateColour(text string, dot bool) string {
	found := colourWords(text)
	multiplier := 2
	if len(found) > 4 {
		multiplier = 3
	}
	for i, w := range found {
		switch {
		case i == multiplier && slices.Contains(lateMultipliers, w) && dot:
			return dotPlaces[i] + ", " + w
		case i == multiplier && slices.Contains(lateMultipliers, w), i == multiplier+1 && slices.Contains(lateTolerances, w):
			return fmt.Sprintf("band %d, %s", i+1, w)
		}
	}
	return ""
}

// multiplierPower is the power of ten that a band multiplies by.
func multiplierPower(band string) int {
	switch band {
	case "gold":
		return -1
	case "silver":
		return -2
	case "pink":
		return -3
	}
	return slices.Index(colours, band)
}
