package netlist

// The keys of the format that belong to no kind: those of any part, of [set], of a point in [nodes], of
// [[readings]], of a type in [tube_types]. The caller must not change them.

func PartKeys() []KeyInfo     { return partKeys }
func SetKeys() []KeyInfo      { return setKeys }
func NodeKeys() []KeyInfo     { return nodeKeys }
func ReadingKeys() []KeyInfo  { return readingKeys }
func TubeTypeKeys() []KeyInfo { return tubeTypeKeys }

// And those of the tables inside: of a heater, of its tap, of a rectifying section, of a selector's deck.

func HeaterKeys() []KeyInfo  { return heaterKeys }
func TapKeys() []KeyInfo     { return tapKeys }
func SectionKeys() []KeyInfo { return sectionKeys }
func DeckKeys() []KeyInfo    { return deckKeys }

// partKeys are the keys that any part may have.
var partKeys = []KeyInfo{
	{Name: "kind", Sort: SortText, Meaning: "what the part is; in [parts] alone, a section such as [resistors] says it", Example: `kind = "resistor"`},
	{Name: "condition", Sort: SortWord, Words: conditions, Default: "good; suspect for a paper capacitor",
		Meaning: "what to believe of its insulation", Example: `condition = "suspect"`},
	{Name: "frame", Sort: SortNode, Meaning: "the part's own metal, where insulation stands between it and every terminal", Example: `frame = "chassis"`},
	{Name: "frame_insulation", Sort: SortWord, Words: grades, Default: "basic; to be said for an electrolytic, a rectifier or a lamp",
		Meaning: "what stands between the terminals and the frame", Example: `frame_insulation = "basic"`},
	{Name: "note", Sort: SortText, Meaning: "free text", Example: `note = "replaced before"`},
}

// setKeys are the keys of [set].
var setKeys = []KeyInfo{
	{Name: "name", Sort: SortText, Required: true, Meaning: "what the set is called", Example: `name = "Harbour kitchen set, as found"`},
	{Name: "mains", Sort: SortMains, Default: "120 V 60 Hz", Meaning: "the mains it hangs on", Example: `mains = "120 V 60 Hz"`},
	{Name: "note", Sort: SortText, Meaning: "free text", Example: `note = "as found in the attic"`},
}

// nodeKeys are the keys of a point in [nodes].
var nodeKeys = []KeyInfo{
	{Name: "touch", Sort: SortWord, Words: TouchKinds, Meaning: "a person can touch this metal, and what it is", Example: `touch = "chassis"`},
	{Name: "guard", Sort: SortWord, Words: GuardKinds, Default: "bare", Meaning: "what keeps fingers off it", Example: `guard = "cabinet"`},
	{Name: "guard_condition", Sort: SortWord, Words: guardConditions, Default: "good",
		Meaning: "suspect: loose or cracked, and then no safeguard", Example: `guard_condition = "suspect"`},
	{Name: "note", Sort: SortText, Meaning: "free text", Example: `note = "set screw is bare"`},
}

// readingKeys are the keys of [[readings]].
var readingKeys = []KeyInfo{
	{Name: "at", Sort: SortEnds, Required: true, Meaning: "where the meter's two leads were", Example: `at = ["chassis", "building earth"]`},
	{Name: "volts", Sort: SortNumber, Unit: Volt, Or: "dc_volts, ohms or milliamps", Meaning: "AC volts", Example: `volts = 118`},
	{Name: "dc_volts", Sort: SortNumber, Unit: Volt, Or: "volts, ohms or milliamps", Meaning: "DC volts, first lead to second", Example: `dc_volts = 105`},
	{Name: "ohms", Sort: SortNumber, Unit: Ohm, Or: "volts, dc_volts or milliamps", Meaning: "ohms, with the plug out", Example: `ohms = "1.2M"`},
	{Name: "milliamps", Sort: SortNumber, Unit: Ampere, Or: "volts, dc_volts or ohms", Meaning: "milliamperes AC", Example: `milliamps = 4.5`},
	{Name: "plug", Sort: SortWord, Words: readingPlugs, Default: "as-marked; out with ohms", Meaning: "how the plug stood", Example: `plug = "as-marked"`},
	{Name: "switches", Sort: SortSwitches, Meaning: "how the switches stood", Example: `switches = { S1 = "on" }`},
	{Name: "pulled", Sort: SortTubes, Meaning: "the tubes that were out of their sockets", Example: `pulled = ["V3"]`},
	{Name: "meter", Sort: SortValue, Unit: Ohm, Default: "10 meg", Meaning: "the meter's own ohms", Example: `meter = "10 meg"`},
}

// tubeTypeKeys are the keys of a type in [tube_types].
var tubeTypeKeys = []KeyInfo{
	{Name: "use", Sort: SortText, Meaning: "what the tube does", Example: `use = "half-wave rectifier"`},
	{Name: "base", Sort: SortText, Meaning: "its base", Example: `base = "miniature 7-pin"`},
	{Name: "heater", Sort: SortHeater, Meaning: "its heater at the published rating",
		Example: `heater = { pins = [3, 4], volts = 35.0, amps = 0.15, tap = { pin = 6, volts = 7.5, from = 4 } }`},
	{Name: "rectifiers", Sort: SortSections, Meaning: "its power rectifying sections, no detector diodes", Example: `rectifiers = [ { anode = 5, cathode = 7 } ]`},
	{Name: "cathodes", Sort: SortPinList, Meaning: "its indirectly heated cathodes", Example: `cathodes = [7]`},
	{Name: "elements", Sort: SortElements, Meaning: "what the other pins are", Example: `elements = { 5 = "plate", 7 = "cathode" }`},
}

// heaterKeys, tapKeys, sectionKeys and deckKeys are the keys of the tables inside those.
var heaterKeys = []KeyInfo{
	{Name: "pins", Sort: SortTwoPins, Required: true, Meaning: "its two ends", Example: `pins = [3, 4]`},
	{Name: "volts", Sort: SortValue, Unit: Volt, Required: true, Meaning: "rated volts across it", Example: `volts = 35.0`},
	{Name: "amps", Sort: SortValue, Unit: Ampere, Required: true, Meaning: "rated current", Example: `amps = 0.15`},
	{Name: "tap", Sort: SortTap, Meaning: "a tap for a dial lamp", Example: `tap = { pin = 6, volts = 7.5, from = 4 }`},
}

var tapKeys = []KeyInfo{
	{Name: "pin", Sort: SortPin, Required: true, Meaning: "the tap's pin", Example: `pin = 6`},
	{Name: "volts", Sort: SortValue, Unit: Volt, Required: true, Meaning: "rated volts from that heater pin to the tap", Example: `volts = 7.5`},
	{Name: "from", Sort: SortPin, Required: true, Meaning: "the heater pin that the volts are counted from", Example: `from = 4`},
}

var sectionKeys = []KeyInfo{
	{Name: "anode", Sort: SortPin, Required: true, Meaning: "the anode's pin", Example: `anode = 5`},
	{Name: "cathode", Sort: SortPin, Required: true, Meaning: "the cathode's pin", Example: `cathode = 7`},
}

var deckKeys = []KeyInfo{
	{Name: "common", Sort: SortNode, Required: true, Meaning: "the point that moves", Example: `common = "a"`},
	{Name: "throws", Sort: SortThrows, Required: true, Meaning: "the points it may stand on", Example: `throws = ["b", "c"]`},
}
