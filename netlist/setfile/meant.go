package setfile

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// What is plainly meant is told by its right name, and read on as that, so that what else is wrong with it is told
// in the same go.

// renamed is a table in which an entry has the key that was meant; the table itself where it has that already.
func renamed(t *netlist.Table, from, to string) *netlist.Table {
	if t.Has(to) {
		return t
	}
	c := *t
	c.Entries = slices.Clone(t.Entries)
	for i := range c.Entries {
		if c.Entries[i].Key == from {
			c.Entries[i].Key = to
		}
	}
	return &c
}

// unitKeys are units that stand as keys of a capacitor.
var unitKeys = map[string]string{"uf": "uF", "mfd": "mfd", "mf": "mf", "pf": "pF", "mmf": "mmf", "mmfd": "mmf", "nf": "nF"}

// goOnAs reads a key on as the one that was meant, and returns what more is to be said of it.
func (r *partReader) goOnAs(e netlist.Entry, meant string) string {
	r.excuse(meant)
	unit := unitKeys[strings.ToLower(e.Key)]
	switch figure := e.Value.Data.(type) {
	case int64, float64:
		if unit != "" {
			return fmt.Sprintf(", with its unit in it: %s = \"%v %s\"", meant, figure, unit)
		}
	case string:
		if unit != "" && strings.Trim(figure, "0123456789. ") == "" {
			return fmt.Sprintf(", with its unit in it: %s = \"%s %s\"", meant, figure, unit)
		}
	}
	r.keys = renamed(r.keys, e.Key, meant)
	return ""
}

// meantKeys are other words for the keys of tables that are no parts.
var meantKeys = map[string][]string{
	"title": {"name"}, "model": {"name"}, "radio": {"name"}, "voltage": {"mains"}, "line": {"mains"}, "supply": {"mains"}, "line_voltage": {"mains"},
	"type": {"touch"}, "kind": {"touch"}, "metal": {"touch"}, "touchable": {"touch"}, "protection": {"guard"}, "knob": {"guard"}, "cover": {"guard"}, "cabinet": {"guard"}, "behind": {"guard"}, "covered": {"guard"},
	"between": {"at"}, "points": {"at"}, "where": {"at"}, "nodes": {"at"}, "ends": {"at"}, "from": {"at"},
	"ac_volts": {"volts"}, "volts_ac": {"volts"}, "ac": {"volts"}, "v": {"volts"}, "volts_dc": {"dc_volts"}, "dc": {"dc_volts"}, "vdc": {"dc_volts"},
	"resistance": {"ohms"}, "ma": {"milliamps"}, "current": {"milliamps", "amps"}, "switch": {"switches"}, "polarity": {"plug"}, "control": {"controls"},
	"role": {"use"}, "function": {"use"}, "socket": {"base"}, "filament": {"heater"}, "cathode": {"cathodes"},
	"remark": {"note"}, "comment": {"note"}, "notes": {"note"}, "state": {"condition"},
}

// meantKey is the key among some that another word stands for, "" where it stands for none.
func meantKey(word string, known []netlist.KeyInfo) string {
	for _, meant := range meantKeys[strings.ToLower(word)] {
		if netlist.FindKey(known, meant) != nil {
			return meant
		}
	}
	return ""
}

// meantWords are other words for those that a key takes.
var meantWords = map[string]map[string]string{
	"touch": {
		"shaft": "control", "knob": "control", "set screw": "control", "volume control": "control", "aerial": "antenna", "loop": "antenna",
		"screw": "fastener", "screws": "fastener", "foot": "fastener", "foot screws": "fastener", "handle": "trim", "bezel": "trim", "cabinet": "trim",
		"escutcheon": "trim", "case": "trim", "tone arm": "pickup", "turntable": "pickup", "grille": "speaker", "grill": "speaker", "earth": "ground",
	},
	"guard": {
		"back": "cover", "back cover": "cover", "lid": "cover", "plastic knob": "knob", "case": "cabinet", "box": "cabinet", "boot": "sleeve", "tubing": "sleeve",
	},
	"type": {
		"wax": "paper", "wax paper": "paper", "mylar": "film", "polyester": "film", "disc": "ceramic", "disk": "ceramic", "silver mica": "mica",
		"lytic": "electrolytic", "elko": "electrolytic", "diode": "silicon",
	},
	"condition": {"ok": "good", "new": "good", "bad": "failed", "old": "suspect", "original": "suspect", "unknown": "suspect"},
	"style":     {"grounded": "grounding", "three prong": "grounding", "3 prong": "grounding", "two prong": "plain", "unpolarized": "plain", "polarised": "polarized"},
	"plug":      {"as marked": "as-marked", "normal": "as-marked", "turned": "reversed", "unplugged": "out"},
}

// meantWord is which of the words of a key another stands for, "" where it stands for none.
func meantWord(key *netlist.KeyInfo, word string) string {
	plain := strings.Join(strings.FieldsFunc(strings.ToLower(word), func(r rune) bool { return strings.ContainsRune(" _-", r) }), " ")
	if meant := meantWords[key.Name][plain]; slices.Contains(key.Words, meant) {
		return meant
	}
	return ""
}

// pairWords are keys that name one end of a part where ends has both.
var pairWords = []string{"from", "to", "a", "b", "end1", "end2", "end_1", "end_2", "end-1", "end-2", "one", "other", "p1", "p2"}

// pairKey complains of a key that names one end, and makes ends of two of them. It reports whether the key is one.
func (r *partReader) pairKey(e netlist.Entry) bool {
	if r.info.Key("ends") == nil || !slices.Contains(pairWords, strings.ToLower(e.Key)) {
		return false
	}
	if r.misnamed["ends"] || r.has("ends") {
		return r.misnamed["ends"]
	}
	r.excuse("ends")
	var points []netlist.Value
	for _, other := range r.keys.Entries {
		if slices.Contains(pairWords, strings.ToLower(other.Key)) {
			points = append(points, other.Value)
		}
	}
	r.addf(e.Pos, "%s %s has no key %s; both its points stand in ends, like %s", r.info.Kind, r.quoted, words.Quote(e.Key), r.info.Key("ends").Example)
	if len(points) == 2 {
		r.keys = r.keys.Clone()
		r.keys.Set(netlist.Entry{Key: "ends", Pos: e.Pos, Value: netlist.Value{Pos: e.Value.Pos, Data: points}})
	}
	return true
}

// kindMarks are keys by which a part shows its kind.
var kindMarks = []struct {
	key  string
	kind netlist.Kind
}{
	{"pins", netlist.KindTube}, {"windings", netlist.KindTransformer}, {"poles", netlist.KindSwitch}, {"throws", netlist.KindSelector}, {"decks", netlist.KindSelector},
	{"anode", netlist.KindRectifier}, {"hot", netlist.KindPlug}, {"bands", netlist.KindResistor}, {"body_end_dot", netlist.KindResistor}, {"wiper", netlist.KindPotentiometer},
}

// kindLetters are the letters that parts of a kind are named by, as diagrams do.
var kindLetters = map[string]netlist.Kind{
	"R": netlist.KindResistor, "C": netlist.KindCapacitor, "L": netlist.KindCoil, "V": netlist.KindTube, "S": netlist.KindSwitch, "SW": netlist.KindSwitch,
	"F": netlist.KindFuse, "T": netlist.KindTransformer, "PL": netlist.KindPlug, "D": netlist.KindRectifier, "CR": netlist.KindRectifier, "BT": netlist.KindBattery,
	"M": netlist.KindMotor, "DS": netlist.KindLamp, "W": netlist.KindWire, "TH": netlist.KindThermistor,
}

// guessKind is the kind of a part that has none, by its keys or the letters of its name; nil where its keys are
// not all that kind's.
func guessKind(w *netlist.WrittenPart) *netlist.KindInfo {
	kind := kindLetters[strings.ToUpper(strings.TrimRight(w.Name, "0123456789"))]
	for _, mark := range kindMarks {
		if w.Keys.Has(mark.key) {
			kind = mark.kind
			break
		}
	}
	info := netlist.FindKind(kind)
	if info == nil || len(w.Keys.Entries) == 0 || slices.ContainsFunc(w.Keys.Entries, func(e netlist.Entry) bool { return info.Key(e.Key) == nil }) {
		return nil
	}
	return info
}
