package setfile

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// ratingText splits a voltage rating into volts and AC or DC; workingVolts is how the trade marks
// capacitors.
var (
	ratingText   = words.Pattern(`(?i)^(.*?)\s*(a\.?c\.?|d\.?c\.?|~)?$`)
	workingVolts = words.Pattern(`(?i)w\.?v\.?$`)
)

// rating reads a voltage rating: DC unless AC is written.
func (r *partReader) rating(v netlist.Value) (volts float64, ac bool) {
	where := "rating of " + r.quoted
	text, ok := v.Data.(string)
	if !ok {
		return r.b.value(v, netlist.Volt, where, r.w.Name), false
	}
	if m := ratingText().FindStringSubmatch(strings.TrimSpace(text)); m != nil {
		text = workingVolts().ReplaceAllString(m[1], "V")
		ac = m[2] == "~" || strings.HasPrefix(strings.ToLower(m[2]), "a")
	}
	return r.b.value(netlist.Value{Pos: v.Pos, Data: text}, netlist.Volt, where, r.w.Name), ac
}

// leakText is "40 uA at 10 V".
var leakText = words.Pattern(`(?i)^(.+?)\s+(?:at|@)\s+(.+)$`)

// leakage reads a stated leakage as ohms.
func (r *partReader) leakage(v netlist.Value) float64 {
	where := "leakage of " + r.quoted
	text, ok := v.Data.(string)
	if !ok {
		return r.b.value(v, netlist.Ohm, where, r.w.Name)
	}
	m := leakText().FindStringSubmatch(strings.TrimSpace(text))
	if m == nil {
		x, err := netlist.ParseValue(text, netlist.Ohm)
		if err != nil {
			r.addf(v.Pos, "%s: %v; or say a current at a voltage, like \"40 uA at 10 V\"", where, err)
		}
		return x
	}
	amps, err := netlist.ParseValue(m[1], netlist.Ampere)
	volts, err2 := netlist.ParseValue(m[2], netlist.Volt)
	if err := errors.Join(err, err2); err != nil {
		r.addf(v.Pos, "%s: %s is not a current at a voltage; write it like \"40 uA at 10 V\"", where, words.Quote(text))
		return 0
	}
	if err := netlist.CheckRange(volts/amps, netlist.Ohm, text); err != nil {
		r.addf(v.Pos, "%s: %v", where, err)
		return 0
	}
	return volts / amps
}

// bands reads the key bands.
func (r *partReader) bands(v netlist.Value) (ohms, tolerance float64) {
	text, ok := v.Data.(string)
	if !ok {
		r.addf(v.Pos, "bands of %s is %s; write the colours in quotes, like %s", r.quoted, v.Describe(), netlist.BandsSample)
		return 0, netlist.DefaultTolerance
	}
	ohms, tolerance, err := netlist.ParseBands(text)
	if err != nil {
		r.addf(v.Pos, "bands of %s: %v", r.quoted, err)
		return 0, netlist.DefaultTolerance
	}
	r.noticeOhms(v.Pos, ohms)
	r.noticeColour(v.Pos, text, false)
	return ohms, tolerance
}

// bodyEndDot reads the key body_end_dot.
func (r *partReader) bodyEndDot(v netlist.Value) float64 {
	text, ok := v.Data.(string)
	if !ok {
		r.addf(v.Pos, "body_end_dot of %s is %s; write the colours in quotes, like %s", r.quoted, v.Describe(), netlist.DotSample)
		return 0
	}
	ohms, err := netlist.ParseDot(text)
	if err != nil {
		r.addf(v.Pos, "body_end_dot of %s: %v", r.quoted, err)
		return 0
	}
	r.noticeOhms(v.Pos, ohms)
	r.noticeColour(v.Pos, text, true)
	return ohms
}

// ohms reads a key that takes the ohms of a part, and asks after what is odd.
func (r *partReader) ohms(key string) float64 {
	ohms := r.value(key)
	if e, ok := r.keys.Get(key); ok && ohms > 0 {
		r.noticeOhms(e.Value.Pos, ohms)
	}
	return ohms
}

// tolerance reads a number of per cent or "10 %".
func (r *partReader) tolerance(v netlist.Value) float64 {
	var x float64
	switch data := v.Data.(type) {
	case int64:
		x = float64(data)
	case float64:
		x = data
	case string:
		text := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(data), "%"))
		text = strings.TrimSpace(strings.TrimPrefix(strings.TrimPrefix(text, "±"), "+/-"))
		var err error
		if x, err = strconv.ParseFloat(text, 64); err != nil {
			x = math.NaN()
		}
	default:
		x = math.NaN()
	}
	if !(x > 0 && x <= 100) {
		r.addf(v.Pos, "tolerance of %s is not between 0 and 100 per cent; write tolerance = \"10 %%\"", r.quoted)
		return netlist.DefaultTolerance
	}
	return x
}
