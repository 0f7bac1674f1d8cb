package netlist

import "slices"

var endsKey = KeyInfo{Name: "ends", Sort: SortEnds, Required: true,
	Meaning: "the two points it joins, in any order", Example: `ends = ["B-", "chassis"]`}

// kinds is the format's table of kinds.
var kinds = []KindInfo{
	{
		Kind: KindPlug, Meaning: "the line plug, the one way in for the mains; a set has exactly one",
		Words:     []string{"cord", "line cord", "power cord", "mains plug", "mains", "attachment plug", "cordset"},
		Taken:     []string{"line cord"},
		Terminals: []string{"hot", "neutral", "earth", "ends"},
		Keys: []KeyInfo{
			{Name: "style", Sort: SortWord, Words: plugStyles, Default: "plain",
				Meaning: "plain: goes in either way; polarized: one wide blade; grounding: has an earth pin", Example: `style = "polarized"`},
			{Name: "hot", Sort: SortNode, Or: "ends", Meaning: "the point on the hot blade", Example: `hot = "line 1"`},
			{Name: "neutral", Sort: SortNode, Or: "ends", Meaning: "the point on the neutral blade", Example: `neutral = "line 2"`},
			{Name: "earth", Sort: SortNode, Meaning: "the point on the earth pin of a grounding plug", Example: `earth = "chassis"`},
			{Name: "ends", Sort: SortEnds, Or: "hot and neutral",
				Meaning: "of a plain plug, the points on its two blades", Example: `ends = ["line 1", "line 2"]`},
		},
		Example: `PL1 = { kind = "plug", style = "polarized", hot = "line 1", neutral = "line 2" }`,
	},
	{
		Kind: KindSwitch, Section: "switches", Meaning: "a switch; all its poles move together, on closes them",
		Words:     []string{"toggle", "power switch", "on-off switch", "relay"},
		Terminals: []string{"ends", "poles"},
		Keys: []KeyInfo{
			{Name: "ends", Sort: SortEnds, Or: "poles", Meaning: "the two points of its one pole", Example: `ends = ["line 2", "B-"]`},
			{Name: "poles", Sort: SortPoles, Or: "ends",
				Meaning: "the two points of each pole, at most 64 poles", Example: `poles = [["line 1", "a"], ["line 2", "b"]]`},
		},
		Example: `S1 = { kind = "switch", ends = ["line 2", "B-"], frame = "volume shaft" }`,
	},
	{
		Kind: KindSelector, Section: "selectors", Meaning: "a switch that joins a common point to one of several throws",
		Words:     []string{"rotary switch", "band switch", "changeover", "voltage selector", "wafer switch", "rotary"},
		Terminals: []string{"common", "throws", "decks"},
		Keys: []KeyInfo{
			{Name: "common", Sort: SortNode, Or: "decks", Meaning: "the point that moves", Example: `common = "line 1"`},
			{Name: "throws", Sort: SortThrows, Or: "decks",
				Meaning: `the points it may stand on; "" is an open throw`, Example: `throws = ["line a", "battery", ""]`},
			{Name: "decks", Sort: SortDecks, Or: "common and throws",
				Meaning: "several wafers that move together, all with as many throws",
				Example: `decks = [{ common = "a", throws = ["b", "c"] }, { common = "d", throws = ["e", ""] }]`},
			{Name: "positions", Sort: SortNames, Default: "the throw's point or open; with decks 1, 2, …",
				Meaning: "what each position is called", Example: `positions = ["line", "battery", "off"]`},
			{Name: "fixed", Sort: SortText, Meaning: "the one position it is set to with a tool (a voltage plug)", Example: `fixed = "line"`},
		},
		Example: `SW2 = { kind = "selector", common = "line 1", throws = ["line a", "battery"], positions = ["line", "battery"] }`,
	},
	{
		Kind: KindFuse, Section: "fuses", Meaning: "a fuse",
		Words: []string{"fuse link", "cutout", "circuit breaker", "breaker", "fusible link"}, Terminals: []string{"ends"},
		Keys: []KeyInfo{
			endsKey,
			{Name: "amps", Sort: SortValue, Unit: Ampere, Meaning: "its rating", Example: `amps = "1 A"`},
		},
		Example: `F1 = { kind = "fuse", ends = ["line 1", "line 1 fused"], amps = "1 A" }`,
	},
	{
		Kind: KindWire, Section: "wires", Meaning: "any conductor without resistance: strap, rivet, screw, closed connector",
		Words:     []string{"jumper", "strap", "lead", "link", "bond", "connection", "bus", "rivet", "screw", "connector"},
		Taken:     []string{"jumper", "strap"},
		Terminals: []string{"ends"},
		Keys:      []KeyInfo{endsKey},
		Example:   `W1 = { kind = "wire", ends = ["B-", "chassis"] }`,
	},
	{
		Kind: KindResistor, Section: "resistors", Meaning: "a fixed resistor, a ballast or a dropping cord's wire too",
		Words:     []string{"ballast", "dropper", "shunt", "bleeder", "barretter", "resistance", "resistance cord"},
		Taken:     []string{"ballast"},
		Terminals: []string{"ends"},
		Keys: []KeyInfo{
			endsKey,
			{Name: "value", Sort: SortValue, Unit: Ohm, Or: "bands or body_end_dot", Meaning: "its ohms, as marked", Example: `value = "220k"`},
			{Name: "bands", Sort: SortBands, Or: "value or body_end_dot",
				Meaning: "its colour code (IEC 60062), read from the end nearer the bands", Example: BandsSample},
			{Name: "body_end_dot", Sort: SortDot, Or: "value or bands",
				Meaning: "its colours of the old code, body, end and dot; an end or a dot that is not seen has the body's", Example: DotSample},
			{Name: "tolerance", Sort: SortPercent, Default: "20 %, or the colour bands'", Meaning: "how far from its marking it may be",
				Example: `tolerance = "10 %"`},
			{Name: "watts", Sort: SortValue, Unit: Watt, Meaning: "its rating", Example: `watts = 0.5`},
			{Name: "rating", Sort: SortValue, Unit: Watt, Same: "watts", Meaning: "taken for watts", Example: `rating = "1/2 W"`},
			{Name: "measured", Sort: SortValue, Unit: Ohm, Meaning: "what a meter says it really has; then this counts", Example: `measured = "260k"`},
		},
		Example: `R1 = { kind = "resistor", ends = ["B-", "chassis"], value = "220k" }`,
	},
	{
		Kind: KindPotentiometer, Section: "potentiometers", Meaning: "a variable resistor; without a wiper, or with it on one end, a rheostat",
		Words:     []string{"pot", "volume control", "tone control", "rheostat", "variable resistor", "control"},
		Taken:     []string{"pot", "rheostat", "volume control"},
		Terminals: []string{"ends", "wiper"},
		Keys: []KeyInfo{
			endsKey,
			{Name: "wiper", Sort: SortNode, Meaning: "the point on the wiper; it may be one of the ends (a rheostat)", Example: `wiper = "grid 1"`},
			{Name: "value", Sort: SortValue, Unit: Ohm, Required: true, Meaning: "its ohms from end to end", Example: `value = "500k"`},
		},
		Example: `P1 = { kind = "potentiometer", ends = ["detector", "B-"], wiper = "grid 1", value = "500k", frame = "volume shaft" }`,
	},
	{
		Kind: KindThermistor, Section: "thermistors", Meaning: "a part in the heater string whose resistance falls as it warms",
		Words:     []string{"NTC", "NTC resistor", "inrush limiter", "surge limiter"},
		Taken:     []string{"NTC"},
		Terminals: []string{"ends"},
		Keys: []KeyInfo{
			endsKey,
			{Name: "hot", Sort: SortValue, Unit: Ohm, Required: true, Meaning: "its ohms while the set runs", Example: `hot = 44`},
			{Name: "cold", Sort: SortValue, Unit: Ohm, Required: true, Meaning: "its ohms before that, which are more", Example: `cold = "400 ohm"`},
		},
		Example: `TH1 = { kind = "thermistor", ends = ["line 1", "string"], hot = 44, cold = 400 }`,
	},
	{
		Kind: KindCapacitor, Section: "capacitors", Meaning: "a capacitor",
		Words:     []string{"condenser", "cap", "electrolytic", "padder", "trimmer", "bypass"},
		Taken:     []string{"condenser"},
		Terminals: []string{"ends"},
		Keys: []KeyInfo{
			endsKey,
			{Name: "value", Sort: SortValue, Unit: Farad, Required: true, Meaning: "its capacitance, with its unit", Example: `value = "0.05 uF"`},
			{Name: "rating", Sort: SortRating, Meaning: "its voltage rating", Example: `rating = "400 V"`},
			{Name: "class", Sort: SortWord, Words: safetyClasses, Meaning: "its safety class (IEC 60384-14), if one is marked on it", Example: `class = "Y2"`},
			{Name: "type", Sort: SortWord, Words: capacitorTypes, Meaning: "what it is made of; paper is suspect unless said good", Example: `type = "paper"`},
			{Name: "leakage", Sort: SortLeakage, Meaning: "what it leaks, measured", Example: `leakage = "40 uA at 10 V"`},
			{Name: "positive", Sort: SortNode, Meaning: "which of its ends is marked plus", Example: `positive = "B+"`},
		},
		Example: `C1 = { kind = "capacitor", ends = ["B-", "chassis"], value = "0.1 uF", rating = "400 V", type = "paper" }`,
	},
	{
		Kind: KindCoil, Section: "coils", Meaning: "a choke, a field coil, any winding on its own",
		Words: []string{"choke", "inductor", "field coil", "field", "loop", "voice coil", "loopstick", "reactor", "speaker"}, Terminals: []string{"ends"},
		Taken: []string{"choke", "field coil", "voice coil", "speaker"},
		Keys: []KeyInfo{
			endsKey,
			{Name: "ohms", Sort: SortValue, Unit: Ohm, Required: true, Meaning: "its resistance: measure it, or put down a guess; a speaker's as on its label", Example: `ohms = 450`},
			{Name: "henries", Sort: SortValue, Unit: Henry, Default: "none", Meaning: "its inductance", Example: `henries = "10 H"`},
		},
		Example: `L1 = { kind = "coil", ends = ["rect out", "B+"], ohms = 450, henries = "10 H" }`,
	},
	{
		Kind: KindMotor, Section: "motors", Meaning: "a phonograph, clock or fan motor", Words: []string{"phono motor", "fan", "clock motor"},
		Terminals: []string{"ends"},
		Keys: []KeyInfo{
			endsKey,
			{Name: "volts", Sort: SortValue, Unit: Volt, Required: true, Meaning: "what it is rated for", Example: `volts = 120`},
			{Name: "amps", Sort: SortValue, Unit: Ampere, Or: "watts", Meaning: "what it draws then", Example: `amps = "150 mA"`},
			{Name: "watts", Sort: SortValue, Unit: Watt, Or: "amps", Meaning: "what it takes then", Example: `watts = 20`},
		},
		Example: `M1 = { kind = "motor", ends = ["line 1", "B-"], volts = 120, watts = 20, frame = "motor shell" }`,
	},
	{
		Kind: KindLamp, Section: "lamps", Meaning: "a dial lamp or pilot lamp",
		Words: []string{"bulb", "pilot", "pilot lamp", "pilot light", "dial lamp", "dial light", "light"}, Terminals: []string{"ends"},
		Taken: []string{"bulb", "dial lamp", "pilot lamp"},
		Keys: []KeyInfo{
			endsKey,
			{Name: "volts", Sort: SortValue, Unit: Volt, Or: "type", Meaning: "what it is rated for", Example: `volts = 6.3`},
			{Name: "amps", Sort: SortValue, Unit: Ampere, Or: "type", Meaning: "what it draws then; its hot resistance is volts / amps", Example: `amps = "150 mA"`},
			{Name: "type", Sort: SortWord, Words: lampTypes, Or: "volts and amps", Meaning: "the number of a dial lamp, which says both", Example: `type = "47"`},
		},
		Example: `DS1 = { kind = "lamp", ends = ["line 1", "tap"], volts = 6.3, amps = "150 mA" }`,
	},
	{
		Kind: KindTransformer, Section: "transformers", Meaning: "windings on one core",
		Words: []string{"power transformer", "output transformer", "autotransformer", "trafo", "i.f. can", "coupler", "if can"}, Terminals: []string{"windings"},
		Taken: []string{"output transformer"},
		Keys: []KeyInfo{
			{Name: "windings", Sort: SortWindings, Required: true, Meaning: "the two ends of each winding, its start first",
				Example: `windings = { primary = ["line 1", "line 2"], heater = ["h1", "h2"] }`},
			{Name: "volts", Sort: SortWindingVolts, Default: "windings not coupled at mains frequency (r.f., i.f., audio)",
				Meaning: "the volts of every winding", Example: `volts = { primary = 120, heater = 6.3 }`},
			{Name: "insulation", Sort: SortWord, Words: grades, Default: "basic", Meaning: "what stands between the windings", Example: `insulation = "basic"`},
		},
		Example: `T1 = { kind = "transformer", windings = { primary = ["plate", "B+"], secondary = ["voice 1", "voice 2"] } }`,
	},
	{
		Kind: KindTube, Section: "tubes", Meaning: "a tube in its socket; the type says what its pins are", Words: []string{"valve", "vacuum tube"},
		Taken:     []string{"valve"},
		Terminals: []string{"pins"},
		Keys: []KeyInfo{
			{Name: "type", Sort: SortText, Required: true, Meaning: "its type, from the catalogue or from [tube_types]", Example: `type = "35W4"`},
			{Name: "pins", Sort: SortPins, Required: true, Meaning: "the point on each wired pin, counted clockwise from below",
				Example: `pins = { 3 = "h4", 4 = "line 1", 5 = "rect plate", 7 = "B+" }`},
		},
		Example: `V5 = { kind = "tube", type = "35W4", pins = { 3 = "h4", 4 = "line 1", 5 = "rect plate", 7 = "B+" } }`,
	},
	{
		Kind: KindRectifier, Section: "rectifiers", Meaning: "a dry rectifier; write a stack as one",
		Words: []string{"diode", "selenium rectifier", "selenium", "silicon diode", "metal rectifier"},
		Taken: []string{"selenium rectifier"}, Terminals: []string{"anode", "cathode"},
		Keys: []KeyInfo{
			{Name: "anode", Sort: SortNode, Required: true, Meaning: "the point where current goes in", Example: `anode = "line 1"`},
			{Name: "cathode", Sort: SortNode, Required: true, Meaning: "the point where it comes out, marked plus", Example: `cathode = "B+"`},
			{Name: "type", Sort: SortWord, Words: rectifierTypes, Default: "selenium", Meaning: "what it is made of", Example: `type = "silicon"`},
		},
		Example: `D1 = { kind = "rectifier", anode = "line 1", cathode = "B+", type = "selenium" }`,
	},
	{
		Kind: KindBattery, Section: "batteries", Meaning: "a battery", Words: []string{"cell", "accumulator", "dry battery"},
		Terminals: []string{"positive", "negative"},
		Keys: []KeyInfo{
			{Name: "positive", Sort: SortNode, Required: true, Meaning: "the point on plus", Example: `positive = "B+"`},
			{Name: "negative", Sort: SortNode, Required: true, Meaning: "the point on minus", Example: `negative = "B-"`},
			{Name: "volts", Sort: SortValue, Unit: Volt, Required: true, Meaning: "its voltage", Example: `volts = 67.5`},
		},
		Example: `BT1 = { kind = "battery", positive = "B+", negative = "B-", volts = 67.5 }`,
	},
	{
		Kind: KindInsulation, Section: "insulations", Meaning: "what should not conduct: a wire's sleeve, a fibre washer, a grommet, a plastic knob",
		Words: []string{"insulator", "washer", "grommet", "sleeve", "spaghetti", "barrier", "fibre washer"}, Terminals: []string{"ends"},
		Keys: []KeyInfo{
			endsKey,
			{Name: "grade", Sort: SortWord, Words: grades, Default: "basic", Meaning: "how good it is (IEC 61140)", Example: `grade = "basic"`},
		},
		Example: `INS1 = { kind = "insulation", ends = ["B-", "chassis"], grade = "basic" }`,
	},
}

// can is what a file may write for an electrolytic of several sections. It is none of the kinds: each section
// becomes a capacitor.
var can = KindInfo{
	Kind: KindCan, Section: "cans", Meaning: "an electrolytic of several sections with one minus; the sections of a can C1 are the capacitors C1A, C1B, …",
	Words:     []string{"filter can", "can capacitor", "electrolytic can", "multi-section capacitor"},
	Terminals: []string{"positive", "negative"},
	Keys: []KeyInfo{
		{Name: "sections", Sort: SortValues, Unit: Farad, Required: true, Meaning: "the capacitance of each section, at most 26", Example: `sections = ["40 uF", "20 uF"]`},
		{Name: "positive", Sort: SortNodes, Required: true, Meaning: "the point on the plus of each section, in the same order", Example: `positive = ["B+ 1", "B+ 2"]`},
		{Name: "negative", Sort: SortNode, Required: true, Meaning: "the point on the minus of all", Example: `negative = "B-"`},
		{Name: "rating", Sort: SortRatings, Meaning: "the voltage rating, one for all or one a section", Example: `rating = "150 V"`},
	},
	Example: `C1 = { kind = "can", sections = ["40 uF", "20 uF"], positive = ["B+ 1", "B+ 2"], negative = "B-", rating = "150 V" }`,
}

// Can returns what the format says of a can, which is none of the kinds.
func Can() *KindInfo { return &can }

// KindsAndCan are the kinds and the can, in the order of the format.
func KindsAndCan() []KindInfo { return append(slices.Clone(kinds), can) }

// MaxCanSections is how many sections a can may have: a letter each.
const MaxCanSections = 26
