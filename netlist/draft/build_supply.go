package draft

import (
	"fmt"
	"slices"

	"coldcheck/netlist"
)

// The nodes of the supply.
const (
	bPlus    = "B+"
	plateAt  = "rectifier plate"
	pumpNode = "pump"
	highNode = "high"
)

// circuitKind is how the rectifier is connected: half-wave where that is not known or not possible.
func (s answers) circuitKind() string {
	switch word := s.or("circuit", halfWave); {
	case word == doubler && s.canDouble(), word == fullWave && s.canFullWave():
		return word
	}
	return halfWave
}

func (s answers) hasRectifier() bool {
	return !s.is("rectifier", none) && (s.transformed() || s.is("entry", byString))
}

// plateFeed is the node that feeds the rectifier, ahead of any resistor: "" where the line does.
func (s answers) plateFeed() string {
	if s.hasRectifier() && s.rectifierTap() != nil && s.is("plate", atTap) {
		return tapNode
	}
	return ""
}

func (s answers) hasSurge() bool {
	text, ok := s.known("surge")
	return ok && text != none && s.circuitKind() != fullWave
}

// feed is the node that the rectifier's plates are on.
func (b *builder) feed() string {
	switch {
	case b.s.transformed():
		return highNode
	case b.s.plateFeed() != "":
		return tapNode
	}
	return b.top
}

// plateNode is where the plate is, behind the resistor ahead of it if there is one.
func (s answers) plateNode(feed string) string {
	if s.hasSurge() {
		return plateAt
	}
	return feed
}

// rectifierPins are the pins of the rectifier's sections in the tube at a place, with their nodes.
func (s answers) rectifierPins(at int) map[int]string {
	pins := map[int]string{}
	if !s.hasRectifier() || s.rectifierKind() != byTube {
		return pins
	}
	feed := highNode
	if !s.transformed() {
		if feed = s.plateFeed(); feed == "" {
			feed = s.topNode()
		}
	}
	feed = s.plateNode(feed)
	for k, x := range s.sections() {
		if x.at != at {
			continue
		}
		anode, cathode := feed, bPlus
		switch circuit := s.circuitKind(); {
		case circuit == doubler && k == 0:
			anode = pumpNode
		case circuit == doubler && k == 1:
			anode, cathode = s.minus(), pumpNode
		case circuit == doubler:
			continue
		case circuit == fullWave && k%2 == 1:
			anode = highNode + " 2"
		}
		pins[x.Anode], pins[x.Cathode] = anode, cathode
	}
	return pins
}

// topNode is the end of the leg that is not B-minus.
func (s answers) topNode() string {
	legs := s.legs()
	if finish := s.ends(); finish[0] == bMinus || finish[0] == chassis {
		return legs[1].last()
	}
	return legs[0].last()
}

// supply is the transformer if there is one, the rectifier and the reservoirs.
func (b *builder) supply() {
	if b.s.transformed() {
		b.transformer()
	}
	if !b.s.hasRectifier() {
		return
	}
	b.group("Rectifier and reservoirs.")
	plate := b.s.plateNode(b.feed())
	b.note("plate")
	b.note("surge")
	b.note("circuit")
	if b.s.hasSurge() {
		b.between(netlist.KindResistor, b.keysOr("surge", netlist.KindResistor, nil), b.feed(), plate, "note", "ahead of the rectifier")
	}
	if b.s.rectifierKind() == byTube {
		b.note("rectifier")
	} else {
		b.dryRectifiers(plate)
	}
	b.reservoirs(plate)
}

func (b *builder) dryRectifiers(plate string) {
	dry := func(anode, cathode string) {
		b.assume("rectifier")
		prefix := "SR"
		if b.s.rectifierKind() == bySilicon {
			prefix = "D"
		}
		b.part(prefix, netlist.KindRectifier, netlist.Keys("anode", anode, "cathode", cathode, "type", b.s.rectifierKind()))
	}
	switch b.s.circuitKind() {
	case doubler:
		dry(b.s.minus(), pumpNode)
		dry(pumpNode, bPlus)
	case fullWave:
		dry(highNode, bPlus)
		dry(highNode+" 2", bPlus)
	default:
		dry(plate, bPlus)
	}
}

// reservoirs are the capacitors from the rectifier onward, with what stands between them.
func (b *builder) reservoirs(plate string) {
	list := b.s.reservoirList()
	capacitor := func(keys *netlist.Table, from, to, positive string, pairs ...any) {
		keys = keys.Clone()
		if !keys.Has("type") {
			keys.Entries = append(keys.Entries, netlist.Keys("type", "electrolytic").Entries...)
		}
		keys.Entries = append(keys.Entries, netlist.Keys("positive", positive).Entries...)
		b.assume("reservoirs")
		b.between(netlist.KindCapacitor, keys, from, to, pairs...)
	}
	if b.s.circuitKind() == doubler && len(list) > 0 {
		capacitor(list[0], plate, pumpNode, pumpNode, "note", "hangs on the line")
		list = list[1:]
	}
	at := bPlus
	for i, keys := range list {
		if i > 0 {
			next := fmt.Sprintf("%s %d", bPlus, i+1)
			b.filter(i-1, at, next)
			at = next
		}
		capacitor(keys, at, b.s.minus(), at)
	}
}

func (b *builder) filter(i int, from, to string) {
	kind, keys := netlist.KindResistor, netlist.Keys("value", "1k")
	if text, ok := b.s.known("filter"); ok {
		if list := items(text); i < len(list) {
			if k, said, err := filterPart(list[i]); err == nil {
				kind, keys = k, said
			}
		}
	}
	b.assume("filter")
	b.between(kind, keys, from, to)
}

// transformer is the mains transformer with the windings that are used, and its tubes.
func (b *builder) transformer() {
	windings, volts := &netlist.Table{}, &netlist.Table{}
	wind := func(name, from, to string, rated float64) {
		windings.Entries = append(windings.Entries, netlist.Keys(name, ends(from, to)).Entries...)
		volts.Entries = append(volts.Entries, netlist.Keys(name, number(rated)).Entries...)
	}
	wind("primary", b.top, b.far, b.s.mainsVolts())
	if b.s.hasRectifier() {
		high, err := netlist.ParseValue(b.s.or("high-volts", "250 V"), netlist.Volt)
		if err != nil {
			high = 250
		}
		wind("high", highNode, b.s.minus(), high)
		if b.s.circuitKind() == fullWave {
			wind("high2", b.s.minus(), highNode+" 2", high)
		}
	}
	b.windHeaters(wind)
	keys := netlist.Keys("windings", windings, "volts", volts)
	if b.s.minus() != chassis {
		keys.Entries = append(keys.Entries, netlist.Keys("frame", chassis).Entries...)
	}
	if b.s.is("entry", byAuto) {
		keys.Entries = append(keys.Entries, netlist.Keys("note", "where its windings meet was not asked: taken as at "+b.s.minus()).Entries...)
	}
	b.assume("high-volts")
	b.doubtful = false // that says nothing of its insulation
	b.part("T", netlist.KindTransformer, keys)
	b.transformerLamp()
}

// windHeaters gives each voltage of the heaters a winding, and a filament that is a cathode one of its own.
func (b *builder) windHeaters(wind func(name, from, to string, rated float64)) {
	var rails []float64
	rail := func(volts float64) int {
		at := slices.Index(rails, volts)
		if at < 0 {
			at = len(rails)
			rails = append(rails, volts)
		}
		return 2*at + 1
	}
	filaments := 0
	for i, t := range b.s.tubes() {
		if t.known == nil {
			n := rail(t.volts)
			from, to := b.s.railEnds(n)
			b.between(netlist.KindResistor, nil, from, to, "value", number(threeDigits(t.volts/t.amps)), "note", t.text+", of a tube that the catalogue has not")
			continue
		}
		pins := b.s.rectifierPins(i)
		if h := t.known.Heater; h != nil {
			first, second := pins[h.Pins[0]], pins[h.Pins[1]]
			if first == "" && second == "" {
				n := rail(h.Volts)
				pins[h.Pins[0]], pins[h.Pins[1]] = b.s.railEnds(n)
			} else {
				filaments++
				open := fmt.Sprintf("filament %d", filaments)
				for _, pin := range h.Pins {
					if pins[pin] == "" {
						pins[pin] = open
					}
				}
				wind(fmt.Sprintf("filament%d", filaments), pins[h.Pins[0]], pins[h.Pins[1]], h.Volts)
			}
		}
		if len(pins) > 0 {
			b.pending(t.text, pins)
		}
	}
	if b.lampOnWinding() && len(rails) == 0 {
		rails = append(rails, 6.3)
	}
	for i, rated := range rails {
		from, to := b.s.railEnds(2*i + 1)
		wind(fmt.Sprintf("heater%d", 2*i+1), from, to, rated)
	}
}

// railEnds are the ends of a heater winding. Those of an autotransformer are parts of one winding with the primary, so
// that one end of each is at the line, with a rectifier or without. Which it is was not asked: it is taken as that which
// the chassis hangs on.
func (s answers) railEnds(number int) (from, to string) {
	from, to = fmt.Sprintf("heater %d", number), fmt.Sprintf("heater %d", number+1)
	if s.is("entry", byAuto) {
		from = s.minus()
	}
	return from, to
}

func (b *builder) lampOnWinding() bool {
	text, ok := b.s.known("lamp")
	return ok && text != none && b.s.or("lamp-at", usualLampPlace(b.s)) != atLine
}

func (b *builder) transformerLamp() {
	text, ok := b.s.known("lamp")
	switch {
	case !ok || text == none:
		b.note("lamp")
	case b.lampOnWinding():
		from, to := b.s.railEnds(1)
		b.lamp(from, to)
	default:
		b.lamp(b.top, b.far)
	}
}
