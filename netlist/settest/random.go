package settest

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"pgregory.net/rapid"

	"coldcheck/netlist"
)

// Drawn is a set that was drawn at random, before it is written out as a file. Nodes stand in
// the parts' text as ‹name›, so that a law can rename them.
type Drawn struct {
	Mains     string
	Earthed   string // what of the mains is earthed, "" for the neutral
	Condition string // of every part that says none, "" for none
	Points    []Point
	Parts     []Part // the plug first
}

// Point is a touch point, and what the file says of it.
type Point struct{ Name, Keys string }

// Part is a part, and what the file says of it besides its kind.
type Part struct{ Name, Kind, Keys string }

// ownTubes are types that no catalogue has: two cathodes without a rectifier, and a tap counted
// from the second heater pin.
const ownTubes = `
[tube_types."12TWIN"]
heater = { pins = [4, 5], volts = 12.6, amps = 0.15, tap = { pin = 9, volts = 5.0, from = 5 } }
cathodes = [3, 8]
elements = { 1 = "plate 2", 3 = "cathode 2", 6 = "plate 1", 8 = "cathode 1" }
working = [ { plate = 6, cathode = 8, plate_volts = 100.0, plate_milliamps = 5.0 } ]
`

// Text is the set file.
func (r *Drawn) Text() string { return r.TextWith(func(name string) string { return name }) }

// TextWith writes the set file with every node but the building's earth called by another name.
func (r *Drawn) TextWith(rename func(string) string) string {
	call := func(name string) string {
		if name != netlist.BuildingEarth {
			name = rename(name)
		}
		return strconv.Quote(name)
	}
	var b strings.Builder
	fmt.Fprintf(&b, "[set]\nname = \"drawn at random\"\nmains = %q\n", r.Mains)
	for _, key := range []struct{ name, value string }{{"earthed", r.Earthed}, {"condition", r.Condition}} {
		if key.value != "" {
			fmt.Fprintf(&b, "%s = %q\n", key.name, key.value)
		}
	}
	b.WriteString("\n[nodes]\n")
	for _, p := range r.Points {
		fmt.Fprintf(&b, "%s = { %s }\n", call(p.Name), p.Keys)
	}
	b.WriteString("\n[parts]\n")
	for _, p := range r.Parts {
		keys := p.Keys
		for {
			before, rest, found := strings.Cut(keys, "‹")
			if !found {
				break
			}
			name, after, _ := strings.Cut(rest, "›")
			keys = before + call(name) + after
		}
		fmt.Fprintf(&b, "%s = { kind = %q, %s }\n", p.Name, p.Kind, keys)
	}
	b.WriteString(ownTubes)
	return b.String()
}

// Limits bound a random set.
type Limits struct {
	Parts    [2]int // besides the plug: at least, at most
	Switches int    // and selectors
	Controls int    // potentiometers
	Sections int    // rectifying ones
	Failed   bool   // parts in condition failed may be among them
}

func (d *Drawer) plug() Part {
	p := Part{Name: "PL1", Kind: "plug", Keys: "hot = ‹line 1›, neutral = ‹line 2›"}
	switch d.N(5) {
	case 1:
		p.Keys = "ends = [‹line 1›, ‹line 2›]"
	case 2, 3:
		p.Keys += `, style = "polarized"`
	case 4:
		earth := OneOf(d, d.touch...)
		p.Keys += `, style = "grounding", earth = ‹` + earth + `›`
	}
	return p
}

// Draw draws a valid set. Its wiring is random, so it is seldom a sensible one.
func Draw(t *rapid.T, l Limits) *Drawn {
	d := &Drawer{t: t, limits: l}
	d.touch = []string{"chassis", "shaft", "aerial"}[:2+d.N(2)]
	inner := []string{"B-", "B+", "h1", "mid point", "ΔX", "grid"}[:2+d.N(5)]
	d.Pool = slices.Concat([]string{"line 1", "line 2"}, d.touch, inner)
	if d.Percent(25) {
		d.Pool = append(d.Pool, netlist.BuildingEarth)
	}
	r := &Drawn{Mains: OneOf(d, "120 V 60 Hz", "220 V 50 Hz", "117 V 60 Hz"), Parts: []Part{d.plug()}}
	if d.Percent(12) {
		r.Earthed = OneOf(d, "midpoint", "star", "nowhere")
	}
	switch d.N(10) {
	case 8:
		d.attic, r.Condition = true, "suspect"
	case 9:
		d.chain = true
	}
	r.Parts = append(r.Parts, d.wirings()...)
	for k := range l.Parts[0] + d.N(l.Parts[1]-l.Parts[0]+1) {
		kind := d.allowed(d.kind())
		r.Parts = append(r.Parts, Part{fmt.Sprintf("%c%d", kind[0]-'a'+'A', k+1), kind, d.extras(d.Keys(kind))})
	}
	for k, node := range d.touch {
		if !slices.ContainsFunc(r.Parts, func(p Part) bool { return strings.Contains(p.Keys, "‹"+node+"›") }) {
			r.Parts = append(r.Parts, Part{fmt.Sprintf("CX%d", k), "capacitor",
				fmt.Sprintf("ends = [‹%s›, ‹%s›], value = \"0.1 uF\", type = \"film\"", OneOf(d, "line 1", "line 2"), node)})
		}
		keys := fmt.Sprintf("touch = %q", []string{"chassis", "control", "antenna"}[k])
		if d.Percent(30) {
			keys += fmt.Sprintf(", guard = %q", OneOf(d, "cabinet", "knob"))
			if d.Percent(30) {
				keys += `, guard_condition = "suspect"`
			}
		}
		r.Points = append(r.Points, Point{node, keys})
	}
	return r
}

// Bench is what a set is plugged into and what is clipped to it, which is no matter of a set's file.
type Bench struct {
	Isolated bool
	Earthed  []string
}

// DrawBench draws a bench: the mains, mostly.
func DrawBench(t *rapid.T, set *netlist.Set) Bench {
	d := NewDrawer(t)
	var b Bench
	switch d.N(5) {
	case 3:
		b.Isolated = true
	case 4:
		b.Isolated = d.Percent(60)
		b.Earthed = []string{OneOf(d, set.Nodes...).Name}
	}
	return b
}
