package draft

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// takes are the keys of a kind of part that an answer may say, the first of which it must.
var takes = map[netlist.Kind][]string{
	netlist.KindCapacitor:  {"value", "rating", "class", "type"},
	netlist.KindResistor:   {"value", "watts"},
	netlist.KindCoil:       {"ohms", "henries"},
	netlist.KindMotor:      {"volts", "watts", "amps"},
	netlist.KindLamp:       {"type", "volts", "amps"},
	netlist.KindFuse:       {"amps"},
	netlist.KindInsulation: {"grade"},
	netlist.KindWire:       nil,
}

// mayLack are the kinds of which nothing need be said.
func mayLack(kind netlist.Kind) bool {
	return kind == netlist.KindInsulation || kind == netlist.KindWire
}

// samples are how a part of each kind is written.
var samples = map[netlist.Kind]string{
	netlist.KindCapacitor: "0.1 uF 400 V paper", netlist.KindResistor: "220k 1/2 W", netlist.KindCoil: "450 ohm", netlist.KindMotor: "120 V 20 W",
	netlist.KindLamp: "47, or 6.3 V 150 mA", netlist.KindFuse: "1 A", netlist.KindInsulation: "basic", netlist.KindWire: "nothing",
}

// longestField is how many words a field has at most: 400 V AC.
const longestField = 3

// fields parts what is said of a part into its keys: of 0.1 uF 400 V paper value, rating and type.
func fields(kind netlist.Kind, text string) (*netlist.Table, error) {
	info := netlist.FindKind(kind)
	found := map[string]string{}
	rest := strings.Fields(text)
	for len(rest) > 0 {
		rest[0] = strings.Trim(rest[0], ",;")
		if rest[0] == "" || slices.Contains([]string{"class", "type", "rated", "of"}, strings.ToLower(rest[0])) {
			rest = rest[1:]
			continue
		}
		key, value, n := firstField(info, found, rest)
		if n == 0 {
			return nil, notAField(info, found, rest)
		}
		found[key] = value
		rest = rest[n:]
	}
	t := &netlist.Table{}
	for _, key := range takes[kind] {
		if value, ok := found[key]; ok {
			t.Entries = append(t.Entries, netlist.Keys(key, value).Entries...)
		}
	}
	if first := takes[kind]; !mayLack(kind) && len(found) == 0 || kind == netlist.KindCapacitor && found[first[0]] == "" {
		return nil, fmt.Errorf("the %s of the %s is not said; it is written like %s", first[0], kind, samples[kind])
	}
	return t, nil
}

// firstField finds the key that the first words say, and how many words they are.
func firstField(info *netlist.KindInfo, found map[string]string, rest []string) (key, value string, n int) {
	for n := min(longestField, len(rest)); n > 0; n-- {
		piece := strings.Trim(strings.Join(rest[:n], " "), ",;")
		for i, key := range takes[info.Kind] {
			if found[key] != "" {
				continue
			}
			if value := fits(info.Key(key), piece, i == 0); value != "" {
				return key, value, n
			}
		}
	}
	return "", "", 0
}

// fits returns a text as a key takes it, "" where it does not. A figure without a unit is that of the first key.
func fits(key *netlist.KeyInfo, text string, first bool) string {
	unit := key.Unit
	figure := text
	switch key.Sort {
	case netlist.SortWord:
		for _, w := range key.Words {
			if words.FoldWord(w) == words.FoldWord(text) {
				return w
			}
		}
		return ""
	case netlist.SortRating:
		unit = netlist.Volt
		if last := strings.LastIndexByte(text, ' '); last >= 0 && (strings.EqualFold(text[last+1:], "AC") || strings.EqualFold(text[last+1:], "DC")) {
			figure = text[:last]
		}
	}
	q, err := netlist.ParseQuantity(figure, unit)
	if err != nil || q.Bare && !first || netlist.CheckRange(q.Value, unit, figure) != nil {
		return ""
	}
	return text
}

// notAField says what is wrong with words that say no key.
func notAField(info *netlist.KindInfo, found map[string]string, rest []string) error {
	if keys := takes[info.Kind]; len(keys) > 0 && found[keys[0]] == "" {
		if key := info.Key(keys[0]); key.Sort == netlist.SortValue {
			if _, err := netlist.ParseValue(strings.Join(rest[:min(2, len(rest))], " "), key.Unit); err != nil {
				return err
			}
		}
	}
	return fmt.Errorf("%s is not understood; a %s is written like %s", words.Quote(rest[0]), info.Kind, samples[info.Kind])
}
