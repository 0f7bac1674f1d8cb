package netlist

// The keys of the format that belong to no kind: those at the top of a set file, those of any part, of [set], of a point in [nodes], of
// [[readings]], of a type in [tube_types]. The caller must not change them.

func RootKeys() []KeyInfo     { return rootKeys }
func PartKeys() []KeyInfo     { return partKeys }
func SetKeys() []KeyInfo      { return setKeys }
func NodeKeys() []KeyInfo     { return nodeKeys }
func ReadingKeys() []KeyInfo  { return readingKeys }
func TubeTypeKeys() []KeyInfo { return tubeTypeKeys }

// And those of the tables inside: of a heater, of its tap, of a diode, of a grid, of a working point, of a selector's deck.

func HeaterKeys() []KeyInfo  { return heaterKeys }
func TapKeys() []KeyInfo     { return tapKeys }
func SectionKeys() []KeyInfo { return sectionKeys }
func GridKeys() []KeyInfo    { return gridKeys }
func WorkingKeys() []KeyInfo { return workingKeys }
func DeckKeys() []KeyInfo    { return deckKeys }

// rootKeys are the keys and sections of a set file that are no section of parts named after a kind.
var rootKeys = []KeyInfo{
	{Name: "format", Sort: SortNumber, Default: "1", Meaning: "the version of the format", Example: "format = 1"},
	{Name: "set", Sort: SortTable, Required: true, Meaning: "what the set is", Example: "[set]"},
	{Name: "nodes", Sort: SortTable, Required: true, Meaning: "the points that need a word; others exist by use", Example: "[nodes]"},
	{Name: "parts", Sort: SortTable, Meaning: "parts of any kind, the plug among them; others in sections named after their kind, as [resistors]", Example: "[parts]"},
	{Name: "readings", Sort: SortTable, Meaning: "what a meter showed, each reading below a line of its own", Example: "[[readings]]"},
	{Name: "tube_types", Sort: SortTable, Meaning: "tube types that the catalogue has not, or has otherwise", Example: `[tube_types."35W4"]`},
}

// partKeys are the keys that any part may have.
var partKeys = []KeyInfo{
	{Name: "kind", Sort: SortText, Meaning: "what the part is; in [parts] alone, a section such as [resistors] says it", Example: `kind = "resistor"`},
	{Name: "condition", Sort: SortWord, Words: conditions, Default: "what [set] says, else good; suspect for a paper capacitor",
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
	{Name: "earthed", Sort: SortWord, Words: MainsEarthed, Default: EarthedNeutral,
		Meaning: "what of the mains is earthed: one side, the middle of both, the star point of three phases of which they are two, nothing", Example: `earthed = "neutral"`},
	{Name: "condition", Sort: SortWord, Words: conditions, Default: "good; suspect for paper capacitors",
		Meaning: "of every part, guard and insulation that has no condition of its own; a capacitor with a safety class needs one of its own", Example: `condition = "suspect"`},
	{Name: "note", Sort: SortText, Meaning: "free text", Example: `note = "as found in the attic"`},
}

// nodeKeys are the keys of a point in [nodes].
var nodeKeys = []KeyInfo{
	{Name: "touch", Sort: SortWord, Words: TouchKinds, Meaning: "a person can touch this metal, and what it is", Example: `touch = "chassis"`},
	{Name: "guard", Sort: SortWord, Words: GuardKinds, Default: "bare", Meaning: "what keeps fingers off it", Example: `guard = "cabinet"`},
	{Name: "guard_condition", Sort: SortWord, Words: conditions, Default: "what [set] says, else good",
		Meaning: "suspect: loose or cracked, failed: not there when needed; both are no safeguard", Example: `guard_condition = "suspect"`},
	{Name: "note", Sort: SortText, Meaning: "free text", Example: `note = "set screw is bare"`},
}

// readingKeys are the keys of [[readings]].
var readingKeys = []KeyInfo{
	{Name: "at", Sort: SortEnds, Required: true, Meaning: "where the meter's two leads were", Example: `at = ["chassis", "building earth"]`},
	{Name: "volts", Sort: SortNumber, Unit: Volt, Or: "dc_volts, ohms or milliamps", Meaning: "AC volts", Example: `volts = 118`},
	{Name: "dc_volts", Sort: SortNumber, Unit: Volt, Or: "volts, ohms or milliamps", Meaning: "DC volts, first lead to second", Example: `dc_volts = 105`},
	{Name: "ohms", Sort: SortNumber, Unit: Ohm, Or: "volts, dc_volts or milliamps", Meaning: "ohms, with the plug out; open where nothing conducts", Example: `ohms = "1.2M"`},
	{Name: "milliamps", Sort: SortNumber, Unit: Ampere, Or: "volts, dc_volts or ohms", Meaning: "milliamperes AC", Example: `milliamps = 4.5`},
	{Name: "plug", Sort: SortWord, Words: readingPlugs, Default: "as-marked; out with ohms", Meaning: "how the plug stood", Example: `plug = "as-marked"`},
	{Name: "switches", Sort: SortSwitches, Meaning: "how the switches stood", Example: `switches = { S1 = "on" }`},
	{Name: "pulled", Sort: SortTubes, Meaning: "the tubes that were out of their sockets", Example: `pulled = ["V3"]`},
	{Name: "lifted", Sort: SortParts, Meaning: "the parts that had one lead off", Example: `lifted = ["C2"]`},
	{Name: "controls", Sort: SortControls, Default: "at the middle, a rheostat full", Meaning: "how the controls stood: at an end by its point's name; a rheostat full or zero",
		Example: `controls = { R9 = "zero" }`},
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
	{Name: "drop_volts", Sort: SortValue, Unit: Volt, Meaning: "of a rectifier, the volts from plate to cathode at …", Example: `drop_volts = 18.0`},
	{Name: "drop_milliamps", Sort: SortMilliamps, Unit: Ampere, Meaning: "… this current a plate", Example: `drop_milliamps = 200.0`},
	{Name: "diodes", Sort: SortSections, Meaning: "its small (detector) diodes", Example: `diodes = [ { anode = 5, cathode = 2 } ]`},
	{Name: "grids", Sort: SortGrids, Meaning: "its control grids, each with its cathode", Example: `grids = [ { grid = 1, cathode = 2 } ]`},
	{Name: "working", Sort: SortWorking, Meaning: "a usual working point of each amplifying section, volts from the cathode",
		Example: `working = [ { plate = 7, cathode = 2, plate_volts = 100.0, plate_milliamps = 0.5 } ]`},
	{Name: "also", Sort: SortNames, Meaning: "other names of the type", Example: `also = ["HY90"]`},
	{Name: "doubtful", Sort: SortText, Meaning: "the pins that are taken for granted, to be held against a tube manual", Example: `doubtful = "pins 3 and 4"`},
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

var gridKeys = []KeyInfo{
	{Name: "grid", Sort: SortPin, Required: true, Meaning: "the grid's pin", Example: `grid = 1`},
	{Name: "cathode", Sort: SortPin, Required: true, Meaning: "the pin of the cathode that it works to", Example: `cathode = 2`},
}

var workingKeys = []KeyInfo{
	{Name: "plate", Sort: SortPin, Required: true, Meaning: "the plate's pin", Example: `plate = 7`},
	{Name: "cathode", Sort: SortPin, Required: true, Meaning: "the cathode's pin", Example: `cathode = 2`},
	{Name: "plate_volts", Sort: SortValue, Unit: Volt, Required: true, Meaning: "volts from cathode to plate", Example: `plate_volts = 100.0`},
	{Name: "plate_milliamps", Sort: SortMilliamps, Unit: Ampere, Required: true, Meaning: "what the plate draws then", Example: `plate_milliamps = 0.5`},
	{Name: "screen", Sort: SortPin, Meaning: "the screen's pin, if there is one", Example: `screen = 6`},
	{Name: "screen_volts", Sort: SortValue, Unit: Volt, Meaning: "volts from cathode to screen", Example: `screen_volts = 100.0`},
	{Name: "screen_milliamps", Sort: SortMilliamps, Unit: Ampere, Meaning: "what the screen draws then", Example: `screen_milliamps = 4.0`},
}

var deckKeys = []KeyInfo{
	{Name: "common", Sort: SortNode, Required: true, Meaning: "the point that moves", Example: `common = "a"`},
	{Name: "throws", Sort: SortThrows, Required: true, Meaning: "the points it may stand on", Example: `throws = ["b", "c"]`},
}
