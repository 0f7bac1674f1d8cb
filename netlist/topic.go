package netlist

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/netlist/internal/words"
)

// Topic is what the format says of something that is no kind of part.
type Topic struct {
	Name    string
	Words   []string // other words for it
	Meaning string   // one line
	Notes   []string // what is to be said of it all, a paragraph each
	Tables  []TopicTable
	Example string // lines to copy, "" where its tables have them all
}

// TopicTable is a table of keys, or of words and what they stand for.
type TopicTable struct {
	Title string
	Keys  []KeyInfo
	Rows  [][2]string
}

// Topics are the topics of set files. The caller must not change them.
func Topics() []Topic { return topics }

// FindTopic finds the topic that a word means, its name or another word for it, among some; nil where none is meant.
func FindTopic(topics []Topic, word string) *Topic {
	if len(word) > words.MaxCompared {
		return nil
	}
	folded := words.FoldWord(strings.Trim(word, "[]"))
	for i := range topics {
		for _, w := range append([]string{topics[i].Name}, topics[i].Words...) {
			if words.FoldWord(w) == folded {
				return &topics[i]
			}
		}
	}
	return nil
}

var topics = []Topic{
	{
		Name: "set", Words: []string{"file", "set file", "sections", "header"}, Meaning: "what stands in a set file, and what [set] takes",
		Tables: []TopicTable{{Title: "A set file has, in any order", Keys: rootKeys}, {Title: "[set] takes", Keys: setKeys}},
		Example: `[set]
name = "Harbour kitchen set, as found"
mains = "120 V 60 Hz"`,
	},
	{
		Name: "nodes", Words: []string{"node", "points", "point", "touch", "guard", "building earth"},
		Meaning: "the points of the wiring: what joins is named alike, and [nodes] says which a hand can reach",
		Notes: []string{
			`A point is any name of 1 to 64 characters, letter case and all: "B-", "line 1", "volume shaft". It is there once a part uses it; [nodes] has those alone that need a word, ` +
				`and a set has at least one that can be touched.`,
			`"building earth" is a rod or a water pipe of the building. It stands in no [nodes] and on no plug. The ground symbol of a schematic is another point: B-minus, or the chassis.`,
		},
		Tables: []TopicTable{
			{Title: "A point in [nodes] takes", Keys: nodeKeys},
			{Title: "touch is one of", Rows: touchRows},
			{Title: "guard is one of", Rows: guardRows},
		},
		Example: `[nodes]
chassis = { touch = "chassis", guard = "cabinet" }
"volume shaft" = { touch = "control", guard = "knob" }
"antenna lead" = { touch = "antenna" }`,
	},
	{
		Name: "parts", Words: []string{"any part", "part", "frame", "condition", "trade words"}, Meaning: "what any part may have, and by what words its kind may be written",
		Notes: []string{
			`A part is a line NAME = { … } in [parts] with its kind, or in the section of its kind without. A name is 1 to 32 letters, digits, _ and -, and stands once in a file; supply is none. ` +
				`A long part may stand as a table of its own, [parts.T1], at the end of the file.`,
			`Words of the trade will do for a kind, and with an s for a section; letter case is free, and _ and - are blanks.`,
		},
		Tables:  []TopicTable{{Title: "Any part may have", Keys: partKeys}, {Title: "A kind and its section may be written", Rows: kindRows()}},
		Example: "[parts]\nPL1 = { kind = \"line cord\", ends = [\"line 1\", \"line 2\"] }\n[condensers]\nC1 = { ends = [\"line 1\", \"line 2\"], value = \".05 mfd\", note = \"replaced before\" }",
	},
	{
		Name: "readings", Words: []string{"reading", "meter", "measurements", "measurement"}, Meaning: "what a meter showed at the set; the program says whether the wiring explains it",
		Notes: []string{
			`Each reading begins with a line [[readings]]. It has one figure: volts, dc_volts, ohms or milliamps. Ohms are read with the plug out, and may be open or OL; all else with the set on the line. ` +
				`A switch that is not named was on, a selector in its first position.`,
		},
		Tables:  []TopicTable{{Title: "A reading takes", Keys: readingKeys}},
		Example: "[[readings]]\nat = [\"chassis\", \"building earth\"]\nvolts = 118\nplug = \"as-marked\"\nswitches = { S1 = \"on\" }",
	},
	{
		Name: "values", Words: []string{"value", "units", "unit", "ohms", "farads", "figures"}, Meaning: "how a figure is written",
		Notes: []string{
			`A figure is a number in the unit alone, or text of a number, a prefix and a unit, blanks free. A number without quotes begins with a digit: 0.5, not .5.`,
			`mf and mfd are microfarads and mmf picofarads, as the trade wrote them; letter case is free in units of capacitance, and mF is asked after. A capacitance without its unit is refused. ` +
				`On ohms a bare M is taken as a million and asked after: old diagrams wrote M for a thousand and meg for a million. A resistor of less than 1 Ω is asked after too.`,
			`Zero, a negative figure and what no part of a set can have are refused.`,
		},
		Tables: []TopicTable{{Title: "These may be written", Rows: spellingRows()}},
	},
	{
		Name: "bands", Words: []string{"band", "colours", "colors", "colour code", "color code", "body end dot"}, Meaning: "a resistor's colours, in place of its value",
		Notes: []string{
			`bands is the colour code of IEC 60062, read from the end nearer the bands: two digits and a multiplier, then the tolerance; of five bands three digits. Without a band for it the tolerance is 20 %.`,
			`body_end_dot is the code of older resistors: the body's colour and the end's are the digits, the dot's is the multiplier. An end or a dot that is not seen has the body's colour. ` +
				`Gold or silver on the other end is the tolerance: write it under tolerance, 5 % or 10 %.`,
			`Grey and white multipliers and coloured tolerances came after these sets, and are asked after.`,
		},
		Tables:  []TopicTable{{Title: "A colour stands for", Rows: colourRows()}},
		Example: "[resistors]\nR1 = { ends = [\"B-\", \"chassis\"], " + BandsSample + " }\nR2 = { ends = [\"plate\", \"B+\"], " + DotSample + ", tolerance = \"10 %\" }",
	},
	{
		Name: "tube_types", Words: []string{"tube type", "types", "heater", "pins", "base"}, Meaning: "a tube type that the catalogue has not, or has otherwise; the file's is taken",
		Notes: []string{
			`Pins are numbers, counted clockwise from below. The heater, the cathodes and the rectifiers are what the line side needs; the rest is for tubes that amplify and detect.`,
		},
		Tables: []TopicTable{
			{Title: "A type takes", Keys: tubeTypeKeys}, {Title: "heater takes", Keys: heaterKeys}, {Title: "tap takes", Keys: tapKeys},
			{Title: "Each of rectifiers and diodes takes", Keys: sectionKeys}, {Title: "Each of grids takes", Keys: gridKeys}, {Title: "Each of working takes", Keys: workingKeys},
		},
		Example: "[tube_types.\"35W4\"]\n" + strings.Join([]string{FindKey(tubeTypeKeys, "use").Example, FindKey(tubeTypeKeys, "base").Example, FindKey(tubeTypeKeys, "heater").Example,
			FindKey(tubeTypeKeys, "rectifiers").Example, FindKey(tubeTypeKeys, "cathodes").Example}, "\n"),
	},
}

// touchRows and guardRows say what the words of touch and guard stand for.
var touchRows = [][2]string{
	{"chassis", "the chassis, and what is bolted to it"},
	{"control", "a shaft, its set screw, a metal knob"},
	{"antenna", "an antenna lead, post or loop"},
	{"ground", "a terminal meant for an outside earth wire"},
	{"fastener", "screws of the cabinet or the feet"},
	{"jack", "a jack or a socket on the outside"},
	{"speaker", "a speaker's frame or grille"},
	{"pickup", "a tone arm or a turntable"},
	{"trim", "a metal cabinet, a handle, a bezel"},
}

var guardRows = [][2]string{
	{"cabinet", "what cannot be reached with the cabinet closed"},
	{"knob", "a knob of plastic or wood on the shaft"},
	{"cover", "a cover or a back over it"},
	{"sleeve", "a sleeve or a boot over it"},
}

// kindRows are the words that a file may write for each kind, and for its section.
func kindRows() [][2]string {
	var rows [][2]string
	for _, k := range append(slices.Clone(kinds), can) {
		written := strings.Join(append([]string{string(k.Kind)}, k.Taken...), ", ")
		if k.Section != "" {
			written += "; [" + k.Section + "]"
		}
		rows = append(rows, [2]string{string(k.Kind), written})
	}
	return rows
}

// colourRows say what each colour stands for as a digit, as a multiplier and as a tolerance.
func colourRows() [][2]string {
	var rows [][2]string
	for i, name := range append(slices.Clone(colours), "gold", "silver") {
		var means []string
		if i < len(colours) {
			means = append(means, "digit "+decimals[i:i+1])
		}
		if i < len(colours)-2 || i >= len(colours) {
			means = append(means, "multiplier "+multiplierWords[multiplierPower(name)])
		}
		if name == "gold" || name == "silver" {
			means = append(means, fmt.Sprintf("tolerance %g %%", colourTolerance[name]))
		}
		rows = append(rows, [2]string{name, strings.Join(means, ", ")})
	}
	return rows
}

// multiplierWords are the multipliers by their power of ten, as they are said.
var multiplierWords = map[int]string{
	-2: "0.01", -1: "0.1", 0: "1", 1: "10", 2: "100", 3: "1 k", 4: "10 k", 5: "100 k", 6: "1 meg", 7: "10 meg",
}
