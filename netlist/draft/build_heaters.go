package draft

import (
	"fmt"
	"math"

	"coldcheck/netlist"
)

// unknownAmps is the current of a string of which nothing is known: the more it lets through, the less it hides.
const unknownAmps = 0.3

// loadOhms stands for what is not known between the two legs.
const loadOhms = 400

// heaters are the string from the line to B-minus, or what stands in its place. Those of a set with a transformer
// come with it.
func (b *builder) heaters() {
	switch {
	case b.s.transformed():
		b.note("tubes")
		return
	case !b.s.is("entry", byString):
		b.between(netlist.KindResistor, nil, b.top, b.s.minus(), "value", number(loadOhms), "condition", string(netlist.Suspect), "note", "stands for what was not traced between the legs")
		return
	case b.s.tubes() == nil:
		b.assume("tubes")
		b.between(netlist.KindResistor, nil, b.top, b.s.minus(), "value", number(roundOhms(max(b.s.mainsVolts(), 1)/unknownAmps)), "note", "stands for the heaters")
		return
	}
	at := b.dropper(b.top)
	list := b.s.tubes()
	place := b.s.or("lamp-at", usualLampPlace(b.s))
	lamp, hasLamp := b.s.known("lamp")
	hasLamp = hasLamp && lamp != none
	b.note("lamp")
	if hasLamp && place == inSeries {
		at = b.lamp(at, "heater lamp")
	}
	for i, t := range list {
		next := b.s.minus()
		if i < len(list)-1 {
			next = fmt.Sprintf("heater %d", i+1)
		}
		b.heater(i, t, at, next, hasLamp && place == atTap)
		at = next
	}
	if hasLamp && place == atLine {
		b.lamp(b.top, b.s.minus())
	}
}

func (b *builder) lamp(from, to string) string {
	b.assume("lamp-at")
	b.between(netlist.KindLamp, b.keysOr("lamp", netlist.KindLamp, nil), from, to)
	return to
}

// dropper is what stands in series ahead of the heaters. It returns the node behind it.
func (b *builder) dropper(at string) string {
	text, ok := b.s.known("dropper")
	note := "dropper"
	if ok && text == none {
		return at
	}
	_, guess := b.s.leftOver()
	if !ok && guess == 0 {
		b.note("dropper")
		return at
	}
	keys := netlist.Keys("value", number(guess))
	if ok {
		if len(text) > len(cordWord) && text[:len(cordWord)+1] == cordWord+" " {
			text, note = text[len(cordWord)+1:], "in the cord"
		}
		keys, _ = fields(netlist.KindResistor, withoutKind(netlist.KindResistor, text))
	}
	b.assume("dropper")
	b.between(netlist.KindResistor, keys, at, "string top", "note", note)
	return "string top"
}

// heater is one tube of the string, from one node to the next, with its tap and its rectifier where they are
// wired.
func (b *builder) heater(i int, t tube, from, to string, lampAtTap bool) {
	if t.known == nil {
		b.between(netlist.KindResistor, nil, from, to, "value", number(threeDigits(t.volts/t.amps)), "note", t.text+", of a tube that the catalogue has not")
		return
	}
	h := t.known.Heater
	pins := map[int]string{h.Pins[0]: from, h.Pins[1]: to}
	fed := b.s.plateFeed()
	if i == b.s.tapped() {
		if h.Tap.From == h.Pins[1] {
			pins = map[int]string{h.Pins[1]: from, h.Pins[0]: to}
		}
		if lampAtTap || fed == tapNode {
			pins[h.Tap.Pin] = tapNode
		}
		if lampAtTap {
			b.lamp(from, tapNode)
		}
	}
	for pin, node := range b.s.rectifierPins(i) {
		pins[pin] = node
	}
	b.pending(t.text, pins)
}

// tapNode is the tap of the rectifier's heater.
const tapNode = "heater tap"

// pending keeps a tube until the parts before it are written.
func (b *builder) pending(typed string, pins map[int]string) {
	heading := b.heading
	b.heading = ""
	if len(b.tubes) == 0 {
		b.heading = "The tubes: heaters and rectifier. What is on their other pins was not asked."
		if !b.s.transformed() {
			b.heading = "The string, from the line to B-minus: heaters and rectifier. What is on the other pins was not asked."
		}
	}
	waiting, doubtful := b.waiting, b.doubtful
	b.waiting, b.doubtful = nil, false
	b.tube(typed, pins)
	b.heading, b.waiting, b.doubtful = heading, waiting, doubtful
}

// number is a figure as a file has it: a whole one without decimals.
func number(x float64) any {
	if x == math.Trunc(x) && math.Abs(x) < 1e15 {
		return int64(x)
	}
	return x
}

func threeDigits(x float64) float64 {
	step := math.Pow(10, math.Floor(math.Log10(x))-2)
	return math.Round(x/step) * step
}
