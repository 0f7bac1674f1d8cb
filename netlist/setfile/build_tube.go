package setfile

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/tomltext"
	"coldcheck/netlist/internal/words"
)

func buildTube(r *partReader) netlist.Detail {
	d := &netlist.Tube{}
	wired := r.tubePins(d)
	e, ok := r.keys.Get("type")
	if !ok {
		return d
	}
	name, ok := e.Value.Data.(string)
	if !ok {
		like := "35W4"
		if n, isInt := e.Value.Data.(int64); isInt {
			like = strconv.FormatInt(n, 10)
		}
		r.addf(e.Value.Pos, "type of %s is %s; write the type in quotes, like type = %q", r.quoted, e.Value.Describe(), like)
		return d
	}
	d.TypeName = strings.TrimSpace(name)
	if r.b.ownType(d.TypeName) {
		return d // the file's own table of this type is what is wrong
	}
	known, several := r.b.tubes.find(d.TypeName)
	switch {
	case len(several) > 1:
		r.addf(e.Value.Pos, "several tube types fit %s; write which one it is: %s", words.Quote(d.TypeName), words.QuoteAll(several))
	case d.TypeName == "":
		r.addf(e.Value.Pos, "type of %s is empty; write what is printed on the tube, like type = \"35W4\"", r.quoted)
	case known == nil && r.b.unread.hides(d.TypeName):
	case known == nil && r.firstWord(d) != nil:
		r.addf(e.Value.Pos, "the tube type %s is not known; did you mean %q? What else is printed on the tube can stand in a note", words.Quote(d.TypeName), r.firstWord(d).Name)
		d.Type = r.firstWord(d)
		r.checkPins(d, wired)
	case known == nil:
		r.unknownType(d, e.Value.Pos)
	default:
		d.Type = known
		r.checkPins(d, wired)
	}
	return d
}

// firstWord is the type that the first of several words names: of 6L6 metal, 6L6.
func (r *partReader) firstWord(d *netlist.Tube) *netlist.TubeType {
	first, _, more := strings.Cut(d.TypeName, " ")
	if !more {
		return nil
	}
	known, _ := r.b.tubes.find(first)
	return known
}

// ownType reports whether the file has a table of a type that could not be read.
func (b *builder) ownType(name string) bool {
	return b.doc.TubeTypes.Has(name) && (b.tubes.byName[name] == nil || !b.tubes.byName[name].fromFile)
}

// tubePins reads the pins in the order of their numbers, and where each was written.
func (r *partReader) tubePins(d *netlist.Tube) map[int]netlist.Pos {
	wired := map[int]netlist.Pos{}
	e, ok := r.keys.Get("pins")
	if !ok {
		return wired
	}
	t, ok := e.Value.Data.(*netlist.Table)
	if !ok || len(t.Entries) == 0 {
		r.addf(e.Value.Pos, "pins of %s is %s; write each pin's number and its point, like %s", r.quoted, emptyOr(e.Value), r.info.Key("pins").Example)
		return wired
	}
	places := map[int]netlist.Pos{}
	for _, p := range t.Entries {
		if r.b.strays(p, "pins of "+r.quoted, t) {
			continue
		}
		pin, ok := pinNumber(p.Key)
		if !ok {
			r.addf(p.Pos, "pins of %s: %s is not a pin; write its number, like 3 = \"h4\"", r.quoted, words.Quote(p.Key))
			continue
		}
		if node := r.b.nodeName(p.Value, fmt.Sprintf("pin %d of %s", pin, r.quoted)); node != "" {
			d.Pins = append(d.Pins, netlist.Pin{Number: pin, Node: node})
			wired[pin], places[pin] = p.Pos, p.Value.Pos
		}
	}
	slices.SortFunc(d.Pins, func(a, b netlist.Pin) int { return a.Number - b.Number })
	for _, p := range d.Pins {
		r.terminal(fmt.Sprintf("pin %d", p.Number), p.Node, places[p.Number])
	}
	return wired
}

// checkPins complains of wired pins that the type has not.
func (r *partReader) checkPins(d *netlist.Tube, wired map[int]netlist.Pos) {
	has := d.Type.PinNumbers()
	for _, p := range d.Pins {
		if slices.Contains(has, p.Number) {
			continue
		}
		names := make([]string, len(has))
		for i, pin := range has {
			names[i] = fmt.Sprintf("%d %s", pin, words.Visible(d.Type.PinName(pin)))
		}
		r.addf(wired[p.Number], "type %s has no pin %d; it has %s", words.Quote(d.Type.Name), p.Number, words.And(names))
	}
}

// unknownType tells of a type that no table has, with a table to fill in.
func (r *partReader) unknownType(d *netlist.Tube, pos netlist.Pos) {
	hint := words.Meant(r.b.near(d.TypeName, r.b.tubes.names()), "look at the spelling")
	r.addf(pos, "the tube type %s is not known; %s\n%s", words.Quote(d.TypeName), hint, r.typeBlock(d))
}

// typeBlock is a [tube_types] block to paste and fill in. Its figures are zero, which the format
// refuses: a block that is pasted and not filled in must not pass for a tube.
func (r *partReader) typeBlock(d *netlist.Tube) string {
	elements := make([]string, 0, len(d.Pins))
	for _, p := range d.Pins {
		elements = append(elements, fmt.Sprintf("%d = \"?\"", p.Number))
	}
	lines := []string{
		"if it is right, paste this at the end of the file and fill in every 0 and ? from a tube manual:",
		"    [tube_types." + tomltext.Text(d.TypeName) + "]",
		`    use    = "?"`,
		`    base   = "?"`,
		`    heater = { pins = [0, 0], volts = 0, amps = 0 }   # for a tap, add: tap = { pin = 0, volts = 0, from = 0 }`,
		`    rectifiers = [ { anode = 0, cathode = 0 } ]       # power rectifying sections; else take the line out`,
		`    cathodes   = [0]                                  # indirectly heated ones; else take the line out`,
		"    elements   = { " + strings.Join(elements, ", ") + " }",
	}
	if len(elements) == 0 {
		lines[len(lines)-1] = `    elements   = { 1 = "?" }`
	}
	return strings.Join(lines, "\n")
}
