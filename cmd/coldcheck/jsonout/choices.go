package jsonout

import (
	"reflect"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// Keys that take one of some words have a type of their own, by which their schema finds the words.
type (
	version         int
	plugPolarity    string
	plugOrOut       string
	quantity        string
	signalWord      string
	shortWord       string
	touchKind       string
	guardKind       string
	lineSide        string
	disagreement    string
	valueUnit       string
	faultKind       string
	explanationKind string
	caseWord        string
)

// figures are what a meter shows at each of several readings, null where that is open.
type figures []*float64

// unplugged is how the plug stands while ohms are read.
const unplugged = "out"

var choices = map[reflect.Type][]string{
	reflect.TypeFor[caseWord]():     {diagnose.CaseSound, diagnose.CaseReservoirShorted, diagnose.CaseStringOpen},
	reflect.TypeFor[plugPolarity](): {string(analysis.AsMarked), string(analysis.Reversed)},
	reflect.TypeFor[plugOrOut]():    {string(analysis.AsMarked), string(analysis.Reversed), unplugged},
	reflect.TypeFor[quantity]():     {string(diagnose.VoltsRead), string(diagnose.VoltsDCRead), string(diagnose.OhmsRead), string(diagnose.MilliampsRead)},
	reflect.TypeFor[signalWord]():   {"DANGER", "WARNING", "CAUTION", "NOTICE"},
	reflect.TypeFor[shortWord]():    {"DANGER", "WARNING", "CAUTION", "NOTICE", phrase.Band(analysis.UnderLimit)},
	reflect.TypeFor[touchKind]():    netlist.TouchKinds,
	reflect.TypeFor[guardKind]():    append([]string{""}, netlist.GuardKinds...),
	reflect.TypeFor[lineSide]():     {"hot", "neutral", ""},
	reflect.TypeFor[disagreement](): {"", "cannot-carry", "carries-yet", "no-path"},
	reflect.TypeFor[valueUnit]():    {"", string(netlist.Ohm), string(netlist.Farad)},
	reflect.TypeFor[faultKind](): {string(analysis.Shorted), string(analysis.InsulationOut), string(analysis.HeaterCathode), string(analysis.Open), string(analysis.Pulled),
		string(analysis.Stuck), string(analysis.NeutralLost), string(analysis.EarthLost), string(analysis.GuardOff)},
	reflect.TypeFor[explanationKind](): {string(diagnose.AsDescribed), string(diagnose.FaultsInSet), string(diagnose.PlugReversed), string(diagnose.SwitchMoved),
		string(diagnose.EndsSwapped), string(diagnose.ConnectionOff), string(diagnose.StatedAbsent), string(diagnose.OtherValue), string(diagnose.Leaks), string(diagnose.DriedOut), string(diagnose.WeakTube), string(diagnose.WrongType)},
}
