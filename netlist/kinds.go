package netlist

import (
	"slices"
	"strings"
	"sync"

	"coldcheck/netlist/internal/words"
)

// Sort is what a key's value is, in the words of a message: "… is two points".
type Sort string

// The sorts of value.
const (
	SortNode         Sort = "a point"
	SortEnds         Sort = "two points"
	SortPoles        Sort = "a list of poles, two points each"
	SortThrows       Sort = `a list of points, "" for an open one`
	SortDecks        Sort = "a list of decks, { common, throws } each"
	SortPins         Sort = "a table of pins and points"
	SortWindings     Sort = "a table of windings, two points each"
	SortWindingVolts Sort = "a table of windings and their volts"
	SortValue        Sort = "a value"
	SortRating       Sort = "volts, DC unless AC is written"
	SortLeakage      Sort = "ohms, or a current at a voltage"
	SortPercent      Sort = "per cent"
	SortMilliamps    Sort = "milliamperes"
	SortBands        Sort = "colours"
	SortDot          Sort = "three colours"
	SortWord         Sort = "one of these words"
	SortText         Sort = "text"
	SortNames        Sort = "a list of names"
	SortMains        Sort = "volts and hertz"
	SortSwitches     Sort = "a table of switches and their positions"
	SortControls     Sort = "a table of controls and their positions"
	SortTubes        Sort = "a list of tubes"
	SortParts        Sort = "a list of parts"
	SortNumber       Sort = "a number"
	SortPinList      Sort = "a list of pin numbers"
	SortHeater       Sort = "a table { pins, volts, amps, tap }"
	SortTap          Sort = "a table { pin, volts, from }"
	SortTwoPins      Sort = "two pin numbers"
	SortPin          Sort = "a pin number"
	SortSections     Sort = "a list of sections, { anode, cathode } each"
	SortGrids        Sort = "a list of grids, { grid, cathode } each"
	SortWorking      Sort = "a list of sections, { plate, cathode, plate_volts, plate_milliamps } each"
	SortValues       Sort = "a list of values"
	SortRatings      Sort = "volts, or a list of them, one a section"
	SortNodes        Sort = "a list of points"
	SortTable        Sort = "a table"
	SortElements     Sort = "a table of pins and what they are"
)

// KeyInfo is what the format says of one key.
type KeyInfo struct {
	Name     string
	Sort     Sort
	Unit     Unit     // of a SortValue
	Words    []string // of a SortWord: the choices
	Required bool
	Or       string // the key or keys that may stand in its place, as a message names them
	Same     string // the key of which this one is another name
	Default  string // what holds where the key is left out; "" where there is nothing to say
	Meaning  string // one line
	Example  string // how it is written, key and all
}

// KindInfo is what the format says of one kind of part.
type KindInfo struct {
	Kind      Kind
	Section   string   // the section that needs no kind; "" for the plug
	Meaning   string   // one line
	Words     []string // other words of the trade for it
	Taken     []string // those of them that a file may write in its place, and with an s as a section
	Terminals []string // the keys that name its terminals
	Keys      []KeyInfo
	Example   string // a line of [parts]
}

// Key returns what the kind says of a key, its own or one that any part may have.
func (k *KindInfo) Key(name string) *KeyInfo {
	if info := FindKey(k.Keys, name); info != nil {
		return info
	}
	return FindKey(partKeys, name)
}

// Kinds returns the table of kinds, in the order of the format. The caller must not change it.
func Kinds() []KindInfo { return kinds }

// KindNames are the names of all kinds, in the order of the format.
func KindNames() []string {
	names := make([]string, len(kinds))
	for i, k := range kinds {
		names[i] = string(k.Kind)
	}
	return names
}

// FindKind returns what the format says of a kind, or nil.
func FindKind(kind Kind) *KindInfo {
	for i := range kinds {
		if kinds[i].Kind == kind {
			return &kinds[i]
		}
	}
	return nil
}

// KindByWord finds the kind that a word means: its name, its section, or another word of the
// trade for it, in the singular or the plural. It returns nil where no kind is meant.
func KindByWord(word string) *KindInfo {
	if len(word) > words.MaxCompared {
		return nil
	}
	return kindWords()[words.FoldWord(word)]
}

// KindCan is what a file may write for an electrolytic of several sections, each a capacitor of the set:
// no part of a set is a can.
const KindCan Kind = "can"

// KindMeant finds the kind that a file may write so: by its name, or by a word of the trade that is taken
// for it. Of a can it returns a kind that is not in the table. It returns nil where no kind is meant.
func KindMeant(word string) *KindInfo { return taken().kinds[plainWord(word)] }

// takenWords are the words that a file may write for kinds, and for their sections, in small letters.
type takenWords struct{ kinds, sections map[string]*KindInfo }

var taken = sync.OnceValue(func() takenWords {
	t := takenWords{map[string]*KindInfo{}, map[string]*KindInfo{}}
	for _, k := range append(pointers(kinds), &can) {
		t.kinds[string(k.Kind)] = k
		if k.Section != "" {
			t.sections[k.Section] = k
		}
		for _, w := range k.Taken {
			t.kinds[plainWord(w)], t.sections[plainWord(w)+"s"] = k, k
		}
	}
	return t
})

// plainWord is a word in which letter case is free and _ and - are blanks.
func plainWord(word string) string {
	if len(word) > words.MaxCompared {
		return ""
	}
	between := func(r rune) bool { return r == ' ' || r == '_' || r == '-' }
	return strings.Join(strings.FieldsFunc(strings.ToLower(strings.TrimSpace(word)), between), " ")
}

func pointers(infos []KindInfo) []*KindInfo {
	all := make([]*KindInfo, len(infos))
	for i := range infos {
		all[i] = &infos[i]
	}
	return all
}

// kindWords are all words that mean a kind, folded, singular and plural.
var kindWords = sync.OnceValue(func() map[string]*KindInfo {
	found := map[string]*KindInfo{}
	for _, k := range append(pointers(kinds), &can) {
		for _, w := range slices.Concat([]string{string(k.Kind), k.Section}, k.Words) {
			for _, form := range []string{w, w + "s", w + "es"} {
				if f := words.FoldWord(form); w != "" && found[f] == nil {
					found[f] = k
				}
			}
		}
	}
	return found
})

// FindKey returns what a table of keys says of one, or nil.
func FindKey(keys []KeyInfo, name string) *KeyInfo {
	for i := range keys {
		if keys[i].Name == name {
			return &keys[i]
		}
	}
	return nil
}

// Alternatives are the ways to write a table of which exactly one is used, each the keys that stand
// together. There are none where no key may stand in the place of another.
func Alternatives(keys []KeyInfo) [][]string {
	var ways [][]string
	var places []string // the Or that the keys of each way have in common
	for _, k := range keys {
		if k.Or == "" {
			continue
		}
		// Keys with the same Or stand together, unless each is another of several choices.
		if i := slices.Index(places, k.Or); i >= 0 && !strings.Contains(k.Or, " or ") {
			ways[i] = append(ways[i], k.Name)
			continue
		}
		ways, places = append(ways, []string{k.Name}), append(places, k.Or)
	}
	return ways
}

// KeyNames are the names of the keys of a table.
func KeyNames(keys []KeyInfo) []string {
	names := make([]string, len(keys))
	for i, k := range keys {
		names[i] = k.Name
	}
	return names
}

// SectionKind returns the kind of a section such as [capacitors] or [condensers]; of [line cords] it is
// the plug's, which has no section of its own.
func SectionKind(section string) *KindInfo { return taken().sections[plainWord(section)] }

var (
	grades     = []string{string(Functional), string(Basic), string(Supplementary), string(Double), string(Reinforced)}
	conditions = []string{string(Good), string(Suspect), string(Failed)}

	plugStyles     = []string{"plain", "polarized", "grounding"}
	capacitorTypes = []string{"paper", "film", "ceramic", "mica", "electrolytic"}
	rectifierTypes = []string{"selenium", "silicon"}
	lampTypes      = []string{"40", "41", "43", "44", "46", "47", "48", "49", "51", "55", "1847"}
	readingPlugs   = []string{"as-marked", "reversed", "out"}
)

// safetyClasses are the classes of IEC 60384-14, alone or marked together.
var safetyClasses = []string{
	"X1", "X2", "Y1", "Y2", "Y4", "X1/Y1", "X1/Y2", "X1/Y4", "X2/Y1", "X2/Y2", "X2/Y4",
}
