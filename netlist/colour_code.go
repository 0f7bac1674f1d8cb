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
	bands := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return strings.ContainsRune(" \t,;/", r) })
	for i, w := range bands {
		if name, ok := colourNames[w]; ok {
			bands[i] = name
		}
	}
	digits := 2
	switch len(bands) {
	case 3, 4:
	case 5, 6:
		digits = 3
	default:
		return 0, 0, fmt.Errorf("%s has %s; write three to six colours, like %s", words.Quote(text), words.Count(len(bands), "band"), BandsSample)
	}
	known := append(slices.Clone(colours), "gold", "silver", "pink")
	for i, w := range bands {
		if slices.Contains(known, w) {
			continue
		}
		hint := words.Meant(words.Nearest(w, known), "write "+BandsSample)
		return 0, 0, fmt.Errorf("band %d, %s, is not a colour of the code; %s", i+1, words.Quote(w), hint)
	}
	number := 0
	for i, w := range bands[:digits] {
		digit := slices.Index(colours, w)
		if digit < 0 {
			return 0, 0, fmt.Errorf("band %d, %q, does not stand for a digit; read the bands from the other end", i+1, w)
		}
		number = 10*number + digit
	}
	if number == 0 {
		return 0, 0, fmt.Errorf("%s is zero ohms; write such a link as kind = \"wire\"", words.Quote(text))
	}
	// The figures are put together as text: 47 times 0.1 is not 4.7 in binary.
	ohms, _ = strconv.ParseFloat(fmt.Sprintf("%de%d", number, multiplierPower(bands[digits])), 64)
	tolerance = DefaultTolerance
	if len(bands) > digits+1 {
		band := bands[digits+1]
		if tolerance = colourTolerance[band]; tolerance == 0 {
			return 0, 0, fmt.Errorf("band %d, %q, does not stand for a tolerance; read the bands from the other end", digits+2, band)
		}
	}
	return ohms, tolerance, nil
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
