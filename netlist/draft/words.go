package draft

import (
	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// The answers that several questions take.
const (
	none  = "none"
	every = "all"
)

const defaultMains = netlist.DefaultMains

var earthedWords = []Word{
	{Word: netlist.EarthedNeutral, Meaning: "one side of the two: the usual socket"},
	{Word: netlist.EarthedMidpoint, Meaning: "the middle of the two: 240 V of a split phase"},
	{Word: netlist.EarthedStar, Meaning: "the star point of three phases"},
	{Word: netlist.EarthedNowhere, Meaning: "nothing"},
}

// The styles of a plug.
const (
	plain     = "plain"
	polarized = "polarized"
	grounding = "grounding"
)

var plugWords = []Word{
	{Word: plain, Meaning: "both blades alike"},
	{Word: polarized, Meaning: "one blade is wider"},
	{Word: grounding, Meaning: "it has an earth pin"},
}

var earthPinWords = []Word{
	{Word: chassis, Meaning: "its wire is joined to the chassis"},
	{Word: "nowhere", Meaning: "the wire is cut off, or ends nowhere"},
}

// How the mains come into a set.
const (
	byString      = "string"
	byAuto        = "autotransformer"
	byTransformer = "transformer"
	byOther       = "other"
)

var entryWords = []Word{
	{Word: byString, Meaning: "the heaters stand in series across the line"},
	{Word: byAuto, Meaning: "a transformer of which one winding is joined to the set and to the line"},
	{Word: byTransformer, Meaning: "a transformer whose primary is joined to nothing but the line"},
	{Word: byOther, Meaning: "something else"},
}

// What a chain of the cord is made of.
const (
	fuse    = "fuse"
	switchW = "switch"
	toTop   = "string"
	toWind  = "winding"
	toLoad  = "load"
	bMinus  = "B-"
	chassis = "chassis"
)

var chainWords = []Word{
	{Word: fuse}, {Word: switchW},
	{Word: toTop, Meaning: "the heaters, the rectifier, the dropper: the far end from B-minus", also: []string{"heaters", "heater", "heater string", "rectifier", "dropper", "top"}},
	{Word: toWind, Meaning: "of a transformer", also: []string{"transformer", "primary"}},
	{Word: toLoad, Meaning: "of a set that is something else", also: []string{"the load"}},
	{Word: bMinus, Meaning: "the common minus", also: []string{"B-minus", "B minus", "minus", "bus"}},
	{Word: chassis, Meaning: "where the leg ends on the chassis itself"},
}

var legWords = []Word{
	{Word: none, Meaning: "there is none", also: []string{"no"}},
	{Word: "blade-1", Meaning: "in the leg of the first blade", also: []string{"1", "first"}},
	{Word: "blade-2", Meaning: "in the leg of the other", also: []string{"2", "second", "other"}},
}

var switchSeats = []Word{
	{Word: "volume control", Meaning: "its metal is the volume shaft", also: []string{"volume"}},
	{Word: "tone control", Meaning: "its metal is the tone shaft", also: []string{"tone"}},
	{Word: chassis, Meaning: "a switch of its own, its metal on the chassis"},
	{Word: "plastic", Meaning: "a switch that has no metal within reach", also: []string{"nothing", none}},
}

// Where a lamp is.
const (
	atTap    = "tap"
	inSeries = "series"
	atHeater = "heaters"
	atLine   = "line"
)

var lampPlaces = []Word{
	{Word: atTap, Meaning: "the tapped part of the rectifier's heater"},
	{Word: inSeries, Meaning: "in series with the string"},
	{Word: atHeater, Meaning: "the heater winding of a transformer"},
	{Word: atLine, Meaning: "the line, behind the switch"},
}

// What rectifies.
const (
	byTube    = "tube"
	bySelen   = "selenium"
	bySilicon = "silicon"
)

var rectifierWords = []Word{
	{Word: byTube, Meaning: "one of the tubes"},
	{Word: bySelen}, {Word: bySilicon},
	{Word: none, Meaning: "there is no B-plus"},
}

// How it is connected.
const (
	halfWave = "half-wave"
	doubler  = "doubler"
	fullWave = "full-wave"
)

var circuitWords = []Word{
	{Word: halfWave, Meaning: "one way; two plates may stand side by side"},
	{Word: doubler, Meaning: "two sections and a capacitor on the line"},
	{Word: fullWave, Meaning: "two sections on the halves of a transformer's winding"},
}

var plateWords = []Word{{Word: atLine}, {Word: atTap}}

// What joins B-minus and the chassis.
const (
	nothing    = "nothing"
	byWire     = "wire"
	byCapacitr = "capacitor"
	byResistor = "resistor"
	byBoth     = "both"
)

var barrierWords = []Word{
	{Word: nothing, Meaning: "insulation alone", also: []string{none}},
	{Word: byWire, Meaning: "they are one: a wire, a lug, a rivet"},
	{Word: byCapacitr}, {Word: byResistor},
	{Word: byBoth, Meaning: "a capacitor with a resistor beside it", also: []string{"capacitor and resistor", "resistor and capacitor", "capacitor & resistor", "resistor & capacitor",
		"capacitor + resistor", "resistor + capacitor", "capacitor, resistor", "resistor, capacitor", "capacitor and a resistor", "resistor and a capacitor",
		"a capacitor and a resistor", "a resistor and a capacitor", "condenser and resistor", "resistor and condenser", "cap and resistor", "resistor and cap"}},
}

const byCoil = "coil"

var outsideWords = []Word{
	{Word: none, Meaning: "there is none"},
	{Word: byWire, Meaning: "nothing stands between"},
	{Word: byCapacitr, Meaning: "with its value"},
	{Word: byCoil, Meaning: "with its ohms, where known"},
}

var pointWords = []Word{
	{Word: chassis},
	{Word: bMinus, also: []string{"B-minus", "B minus"}},
}

func guardChoices() string { return words.Choices(netlist.GuardKinds) }
