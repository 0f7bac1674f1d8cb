package setfile

import (
	"fmt"
	"slices"
	"strconv"
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
	plain := strings.Join(words.Apart(strings.ToLower(word)), " ")
	for _, said := range append([]string{plain}, strings.Fields(plain)...) { // the whole, else a word of it
		if meant := meantWords[key.Name][said]; slices.Contains(key.Words, meant) {
			return meant
		}
		if said != plain && slices.Contains(key.Words, said) {
			return said
		}
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
	for _, mark := range kindMarks {
		if w.Keys.Has(mark.key) {
			return netlist.FindKind(mark.kind)
		}
	}
	info := netlist.FindKind(kindLetters[strings.ToUpper(strings.TrimRight(w.Name, "0123456789"))])
	if info == nil || len(w.Keys.Entries) == 0 {
		return nil
	}
	foreign := slices.ContainsFunc(w.Keys.Entries, func(e netlist.Entry) bool {
		word := strings.ToLower(e.Key)
		meant := slices.ContainsFunc(keyWords()[word], func(key string) bool { return info.Key(key) != nil })
		return info.Key(e.Key) == nil && !meant && !slices.Contains(pairWords, word)
	})
	if foreign {
		return nil
	}
	return info
}

// meantKind is the kind that a word means which no file may write for it: another word of the trade, the last of
// several words, or one that is near; nil where none is meant.
func meantKind(n *nearCounter, word string) *netlist.KindInfo {
	if kind := netlist.KindByWord(word); kind != nil {
		return kind
	}
	if all := words.Apart(word); len(all) > 1 {
		if kind := netlist.KindByWord(all[len(all)-1]); kind != nil {
			return kind
		}
	}
	var known []string
	for _, k := range netlist.KindsAndCan() {
		known = append(append(known, string(k.Kind)), k.Words...)
	}
	return netlist.KindByWord(n.near(word, known))
}

// sectionWords are other words for the sections that are not named after a kind.
var sectionWords = map[string]string{
	"points": "nodes", "node": "nodes", "touch": "nodes", "touch points": "nodes", "metal": "nodes", "components": "parts", "part": "parts", "parts list": "parts",
	"radio": "set", "header": "set", "general": "set", "info": "set", "measurements": "readings", "meter": "readings", "tubetypes": "tube_types", "tube types": "tube_types",
}

// polarKey complains of ends where the two ends differ, and reports whether the key is that.
func (r *partReader) polarKey(e netlist.Entry) bool {
	ways := map[netlist.Kind][2]string{netlist.KindRectifier: {"anode", "cathode"}, netlist.KindBattery: {"positive", "negative"}}[r.info.Kind]
	if e.Key != "ends" || ways[0] == "" {
		return false
	}
	points, _ := e.Value.Data.([]netlist.Value)
	r.keys = r.keys.Clone()
	for i, key := range ways {
		r.excuse(key)
		if i < len(points) && !r.has(key) {
			r.keys.Set(netlist.Entry{Key: key, Pos: e.Pos, Value: points[i]})
		}
	}
	r.addf(e.Pos, "%s %s has no ends, for its two are not alike; write %s and %s", r.info.Kind, r.quoted, r.info.Key(ways[0]).Example, r.info.Key(ways[1]).Example)
	return true
}

// windingKey complains of a winding that stands beside windings, and reads it as one of them.
func (r *partReader) windingKey(e netlist.Entry) bool {
	points, isList := e.Value.Data.([]netlist.Value)
	if r.info.Kind != netlist.KindTransformer || !isList || len(points) != 2 {
		return false
	}
	r.addf(e.Pos, "transformer %s has no key %s; its windings stand in one table, like %s", r.quoted, words.Quote(e.Key), r.info.Key("windings").Example)
	r.excuse("windings")
	r.keys = r.keys.Clone()
	windings, has := r.keys.Get("windings")
	table, _ := windings.Value.Data.(*netlist.Table)
	if !has {
		table = &netlist.Table{Pos: e.Pos}
		windings = netlist.Entry{Key: "windings", Pos: e.Pos, Value: netlist.Value{Pos: e.Value.Pos}}
	}
	if table != nil && !table.Has(e.Key) {
		table.Set(e)
		windings.Value.Data = table
		r.keys.Set(windings)
	}
	return true
}

// severalValues is how a can of several sections is marked: 20-20 mfd, 40/20 mfd.
var severalValues = words.Pattern(`^\s*([0-9.]+)\s*([-+/x×&])\s*([0-9.]+)\D*$`)

// valueWithRating is how parts lists mark a capacitor: .05-400, 16 mfd 450 V. A second figure that is a usual rating
// is no capacitance.
var valueWithRating = words.Pattern(`(?i)^\s*([0-9]{0,2}\.?[0-9]+)\s*(?:u|µ|m|mf?d?\.?|uf)?\s*[-,@ ]\s*(150|160|200|250|300|350|400|450|475|500|600|1000|1600)\s*(?:v|wv|wvdc|volts?)?\.?\s*$`)

// sectionsMeant complains of a capacitor whose value is that of several sections, or has its rating with it, and
// reports whether it is.
func (r *partReader) sectionsMeant() bool {
	e, _ := r.keys.Get("value")
	text, _ := e.Value.Data.(string)
	if len(strings.FieldsFunc(text, func(r rune) bool { return !strings.ContainsRune("0123456789.", r) })) < 2 {
		return false // both have a second figure, and most values need no pattern
	}
	if m := valueWithRating().FindStringSubmatch(text); m != nil {
		r.addf(e.Value.Pos, "value of %s: %s is a capacitance with its rating; write value = \"%s uF\", rating = \"%s V\"", r.quoted, words.Quote(text), m[1], m[2])
		return true
	}
	m := severalValues().FindStringSubmatch(text)
	if m == nil {
		return false
	}
	first, _ := strconv.ParseFloat(m[1], 64)
	second, _ := strconv.ParseFloat(m[3], 64)
	if m[2] == "/" && first < second { // a fraction
		return false
	}
	r.addf(e.Value.Pos, "value of %s: %s is of a can of several sections; move the line under [cans] and write sections = [\"%s uF\", \"%s uF\"], with %s and %s",
		r.quoted, words.Quote(text), m[1], m[3], netlist.FindKey(netlist.Can().Keys, "positive").Example, netlist.FindKey(netlist.Can().Keys, "negative").Example)
	return true
}
