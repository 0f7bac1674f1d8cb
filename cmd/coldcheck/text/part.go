package text

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// Parts lists the kinds of part, what else the format has, and the tube types.
func (p *Page) Parts(kinds []netlist.KindInfo, topics []netlist.Topic, tubes []*netlist.TubeType) {
	table := &Table{Widths: []int{16, Width - 18}, Names: true}
	for _, k := range kinds {
		table.Row(string(k.Kind), k.Meaning)
	}
	p.Table(0, table)
	p.Blank()
	p.Line("And what is no part")
	table = &Table{Widths: []int{16, Width - 18}, Names: true}
	for _, t := range topics {
		table.Row(t.Name, t.Meaning)
	}
	p.Table(0, table)
	p.Blank()
	p.TubeTypes(tubes)
	p.Blank()
	p.Para("", "coldcheck part KIND tells the keys of one, coldcheck part TUBE the pins of a type, coldcheck part --tubes 150mA the types of one heater current.")
}

// Topic tells what the format says of something that is no kind of part.
func (p *Page) Topic(t *netlist.Topic) {
	p.Title(t.Name)
	p.Para("", t.Meaning)
	for _, note := range t.Notes {
		p.Blank()
		p.Para("", note)
	}
	for _, table := range t.Tables {
		p.Blank()
		p.Line(table.Title)
		p.keys(table.Keys)
		rows := &Table{Widths: []int{18, Width - 22}, Names: true}
		for _, row := range table.Rows {
			rows.Row(row[0], row[1])
		}
		p.Table(2, rows)
	}
	if t.Example == "" {
		return
	}
	p.Blank()
	p.Line("Lines to copy")
	for line := range strings.SplitSeq(t.Example, "\n") {
		p.Line("  " + line)
	}
}

// TubesOf lists the types of one heater current, which are those that one string can hold.
func (p *Page) TubesOf(amps float64, tubes []*netlist.TubeType) {
	p.Title("heaters of " + netlist.FormatValue(amps, netlist.Ampere))
	table := &Table{Widths: []int{10, 7, 20, Width - 50}, Names: true}
	doubtful := false
	for _, t := range tubes {
		name := t.Name
		if t.Doubtful != "" {
			name, doubtful = name+" *", true
		}
		table.Row(name, netlist.FormatValue(t.Heater.Volts, netlist.Volt), t.Base, t.Use)
	}
	p.Table(2, table)
	p.Blank()
	if doubtful {
		p.Para("* ", "some pins are taken for granted: hold them against a tube manual; coldcheck part TUBE names them")
	}
	p.Line("The volts of a series string add up to about its mains, dropping resistor aside.")
}

// TubeTypes lists the tube types by name.
func (p *Page) TubeTypes(tubes []*netlist.TubeType) {
	var names []string
	for _, t := range tubes {
		names = append(names, t.Name)
	}
	p.Para("tube types: ", strings.Join(names, ", "))
}

// Kind tells what a kind takes. common are the keys that any part may have.
func (p *Page) Kind(k *netlist.KindInfo, common []netlist.KeyInfo) {
	p.Title(string(k.Kind))
	p.Para("", k.Meaning)
	if len(k.Taken) > 0 {
		p.label("or written", strings.Join(k.Taken, ", "))
	}
	if others := slices.DeleteFunc(slices.Clone(k.Words), func(w string) bool { return slices.Contains(k.Taken, w) }); len(others) > 0 {
		p.label("also called", strings.Join(others, ", "))
	}
	if k.Section != "" {
		p.label("section", fmt.Sprintf("[%s], where kind is not written; or [parts] with kind = %q", k.Section, string(k.Kind)))
	} else {
		p.label("section", fmt.Sprintf("[parts] with kind = %q", string(k.Kind)))
	}
	p.label("terminals", strings.Join(k.Terminals, ", "))
	p.Blank()
	p.keys(k.Keys)
	if k.Kind == netlist.KindSelector {
		p.Blank()
		p.Line("A deck takes")
		p.keys(netlist.DeckKeys())
	}
	p.Blank()
	p.Line("Any part may also have")
	p.keys(slices.DeleteFunc(slices.Clone(common), func(key netlist.KeyInfo) bool { return key.Name == "kind" }))
	p.Blank()
	p.Line("A line to copy, in [parts]")
	p.Line("  " + k.Example)
}

func (p *Page) keys(keys []netlist.KeyInfo) {
	table := &Table{Widths: []int{18, Width - 22}, Names: true}
	for _, key := range keys {
		table.Row(key.Name, keyWords(key))
		table.Row("", key.Example)
	}
	p.Table(2, table)
}

// keyWords tell one key: what it means, what it takes, whether it must be there.
func keyWords(key netlist.KeyInfo) string {
	words := []string{key.Meaning, takes(key)}
	switch {
	case key.Required:
		words = append(words, "must be there")
	case key.Or != "":
		words = append(words, "must be there, or "+key.Or)
	case key.Default != "":
		words = append(words, "left out: "+key.Default)
	}
	return strings.Join(slices.DeleteFunc(words, func(s string) bool { return s == "" }), "; ")
}

// plainSorts need no word: the meaning and the example tell what they are.
var plainSorts = []netlist.Sort{netlist.SortNode, netlist.SortEnds, netlist.SortText, netlist.SortNames, netlist.SortThrows,
	netlist.SortPoles, netlist.SortDecks, netlist.SortWindings, netlist.SortPins, netlist.SortPercent, netlist.SortWindingVolts, netlist.SortBands,
	netlist.SortTable}

func takes(key netlist.KeyInfo) string {
	switch {
	case len(key.Words) > 0 && !slices.ContainsFunc(key.Words, func(word string) bool { return !strings.Contains(key.Meaning, word+":") }):
		return "" // the meaning has them all
	case len(key.Words) > 0:
		return "one of " + strings.Join(key.Words, ", ")
	case key.Unit == netlist.Ampere && strings.HasSuffix(key.Name, "milliamps"):
		return "in mA"
	case key.Unit != "":
		return "in " + string(key.Unit)
	case slices.Contains(plainSorts, key.Sort):
		return ""
	}
	return string(key.Sort)
}

// Tube tells what a tube type is, pin by pin.
func (p *Page) Tube(t *netlist.TubeType) {
	p.Title(t.Name)
	if t.Use != "" {
		p.label("use", t.Use)
	}
	if t.Base != "" {
		p.label("base", t.Base)
	}
	if len(t.Also) > 0 {
		p.label("also called", strings.Join(t.Also, ", "))
	}
	p.label("heater", heaterWords(t.Heater))
	if t.Drop.Volts > 0 {
		p.label("drop", fmt.Sprintf("%s from plate to cathode at %s a plate", netlist.FormatValue(t.Drop.Volts, netlist.Volt), netlist.FormatValue(t.Drop.Amps, netlist.Ampere)))
	}
	for _, w := range t.Working {
		p.label("works at", workingWords(w))
	}
	if t.Doubtful != "" {
		p.label("doubtful", "taken for granted, to be held against a tube manual: "+t.Doubtful)
	}
	pins := t.PinNumbers()
	p.Blank()
	table := &Table{Widths: []int{6, Width - 10}, Names: true}
	for _, pin := range pins {
		table.Row(fmt.Sprintf("pin %d", pin), onceNamed.Replace(pinWords(t, pin)))
	}
	p.Table(2, table)
	p.Blank()
	p.Line("A line to copy into [tubes], with your own points")
	p.Line("  " + tubeLine(t, pins))
}

// onceNamed takes out an electrode's name where what it is to a rectifier says it.
var onceNamed = strings.NewReplacer("plate, anode of", "plate of", "cathode, cathode of", "cathode of")

// tubeLine is a line of [tubes] with every pin on a point of its own.
func tubeLine(t *netlist.TubeType, pins []int) string {
	times := map[string]int{}
	for _, pin := range pins {
		times[firstPhrase(pinWords(t, pin))]++
	}
	count := map[string]int{}
	var wired []string
	for _, pin := range pins {
		name := firstPhrase(pinWords(t, pin))
		count[name]++
		if times[name] > 1 {
			name = fmt.Sprintf("%s %d", name, count[name])
		}
		wired = append(wired, fmt.Sprintf("%d = %q", pin, name))
	}
	return fmt.Sprintf("V1 = { type = %q, pins = { %s } }", t.Name, strings.Join(wired, ", "))
}

func heaterWords(h *netlist.Heater) string {
	if h == nil {
		return "none"
	}
	words := fmt.Sprintf("pins %d and %d, %s, %s, %s hot", h.Pins[0], h.Pins[1], netlist.FormatValue(h.Volts, netlist.Volt),
		netlist.FormatValue(h.Amps, netlist.Ampere), phrase.Figure(h.Volts/h.Amps)+" Ω")
	if h.Tap != nil {
		words += fmt.Sprintf("; tap on pin %d, %s from pin %d", h.Tap.Pin, netlist.FormatValue(h.Tap.Volts, netlist.Volt), h.Tap.From)
	}
	return words
}

// workingWords tell a usual working point of a section.
func workingWords(w netlist.Working) string {
	words := fmt.Sprintf("plate on pin %d %s, %s", w.Plate, netlist.FormatValue(w.PlateVolts, netlist.Volt), netlist.FormatValue(w.PlateAmps, netlist.Ampere))
	if w.Screen != 0 {
		words += fmt.Sprintf("; screen on pin %d %s, %s", w.Screen, netlist.FormatValue(w.ScreenVolts, netlist.Volt), netlist.FormatValue(w.ScreenAmps, netlist.Ampere))
	}
	return words
}

// pinWords tell what a pin is.
func pinWords(t *netlist.TubeType, pin int) string {
	var words []string
	if h := t.Heater; h != nil {
		what := "heater"
		if t.DirectlyHeated() {
			what = "heater (it is the cathode too)"
		}
		switch {
		case pin == h.Pins[0] || pin == h.Pins[1]:
			words = append(words, what)
		case h.Tap != nil && pin == h.Tap.Pin:
			words = append(words, "heater tap")
		}
	}
	if name := t.Elements[pin]; name != "" && !slices.Contains(words, name) {
		words = append(words, name)
	}
	for i, s := range t.Rectifiers {
		which := "the rectifier"
		if len(t.Rectifiers) > 1 {
			which = fmt.Sprintf("rectifier %d", i+1)
		}
		switch pin {
		case s.Anode:
			words = append(words, "anode of "+which)
		case s.Cathode:
			words = append(words, "cathode of "+which)
		}
	}
	if slices.Contains(t.Cathodes, pin) && !slices.ContainsFunc(words, func(s string) bool { return strings.Contains(s, "cathode") }) {
		words = append(words, "cathode")
	}
	return strings.Join(words, ", ")
}

// firstPhrase is the first of several words for a pin.
func firstPhrase(s string) string {
	first, _, _ := strings.Cut(s, ",")
	first, _, _ = strings.Cut(first, " (")
	return first
}
