package jsonout

import (
	"math"
	"strconv"

	"coldcheck/analysis"
)

// significant is how many digits a figure keeps: more than any part's tolerance is worth.
const significant = 6

// nothing is the size under which a figure (V, mA, J, s) is 0: what is left there is the rounding of
// the arithmetic.
const nothing = 1e-9

// round cuts a figure to its significant digits. What is no number stays so: it must not be taken
// for one, and the encoder refuses it.
func round(x float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return x
	}
	if math.Abs(x) < nothing {
		return 0
	}
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', significant-1, 64), 64)
	if err != nil {
		return x
	}
	return rounded
}

func rounded(x float64) *float64 {
	x = round(x)
	return &x
}

// finite is a figure, or nil where it is without bound.
func finite(x float64) *float64 {
	if math.IsInf(x, 0) {
		return nil
	}
	return rounded(x)
}

// depth is a depth, or nil where none was found.
func depth(n int) *int {
	if n == analysis.None {
		return nil
	}
	return &n
}
