package settest

import (
	"fmt"
	"slices"
	"strings"
)

// kindWeights: how often each kind is drawn.
var kindWeights = []struct {
	kind   string
	weight int
}{
	{"capacitor", 6}, {"resistor", 6}, {"tube", 4}, {"wire", 3}, {"switch", 2}, {"potentiometer", 2}, {"coil", 2}, {"lamp", 2},
	{"transformer", 3}, {"rectifier", 2}, {"insulation", 2}, {"selector", 2}, {"fuse", 2}, {"motor", 1}, {"battery", 1}, {"thermistor", 1},
}

func (d *Drawer) kind() string {
	total := 0
	for _, k := range kindWeights {
		total += k.weight
	}
	at := d.N(total)
	for _, k := range kindWeights {
		if at -= k.weight; at < 0 {
			return k.kind
		}
	}
	return "wire"
}

var (
	someOhms   = []string{"22", "150", "470 ohm", "1k", "4k7", "9.9k", "10k", "22k", "100k", "220k", "470k", "1 meg", "4.7 megohm"}
	someFarads = []string{"100 mmf", "250 pF", "1 nF", "4.7 nF", "0.01 mfd", "0.05 µF", "0.1 uF", "0.25 mf", "1 uF", "20 uF", "40 mfd"}
	someGrades = []string{"basic", "functional", "supplementary", "double", "reinforced"}
)

// randomTubes: heater pins, then the others that may be wired, and its rectifying sections.
var randomTubes = []struct {
	name     string
	heater   []int
	others   []int
	sections [][2]int
}{
	{"50C5", []int{3, 4}, []int{1, 2, 6, 7}, nil},
	{"12SQ7", []int{7, 8}, []int{3, 2, 6, 4, 5}, nil},
	{"12TWIN", []int{4, 5}, []int{9, 3, 8, 6}, nil},
	{"35W4", []int{3, 4}, []int{6, 5, 7}, [][2]int{{5, 7}}},
	{"25Z5", []int{1, 6}, []int{5, 4, 2, 3}, [][2]int{{5, 4}, {2, 3}}},
	{"6X5GT", []int{2, 7}, []int{3, 5, 8}, [][2]int{{3, 8}, {5, 8}}},
	{"5Y3GT", []int{2, 8}, []int{4, 6}, [][2]int{{4, 8}, {6, 8}}},
}

func (d *Drawer) tube() string {
	var fits []int
	for k, tube := range randomTubes {
		if d.sections+len(tube.sections) <= d.limits.Sections {
			fits = append(fits, k)
		}
	}
	tube := randomTubes[OneOf(d, fits...)]
	var pins []string
	wired := map[int]bool{}
	for _, pin := range append(slices.Clone(tube.heater), tube.others...) {
		if len(wired) > 0 && !d.Percent(80) {
			continue
		}
		wired[pin] = true
		pins = append(pins, fmt.Sprintf("%d = ‹%s›", pin, d.node()))
	}
	for _, s := range tube.sections {
		if wired[s[0]] && wired[s[1]] {
			d.sections++
		}
	}
	return fmt.Sprintf("type = %q, pins = { %s }", tube.name, strings.Join(pins, ", "))
}

func (d *Drawer) capacitor() string {
	ends := d.Nodes(2)
	keys := fmt.Sprintf("ends = %s, value = %q", Nodes(ends...), OneOf(d, someFarads...))
	if d.Percent(50) {
		keys += fmt.Sprintf(", type = %q", OneOf(d, "film", "paper", "ceramic", "mica", "electrolytic"))
	}
	if d.Percent(25) {
		keys += fmt.Sprintf(", class = %q", OneOf(d, "X1", "X2", "Y1", "Y2", "Y4", "X1/Y2", "X1/Y1"))
	}
	if d.Percent(25) {
		keys += fmt.Sprintf(", leakage = %q", OneOf(d, "250k", "40 uA at 10 V", "2 meg"))
	}
	if d.Percent(20) {
		keys += ", positive = ‹" + OneOf(d, ends...) + "›"
	}
	return keys
}

func (d *Drawer) transformer() string {
	names := []string{"primary", "heater", "high"}[:OneOf(d, 2, 2, 3)]
	volts := []string{"120", "6.3", OneOf(d, "55", "150", "250")}
	var windings, rated []string
	for k, name := range names {
		windings = append(windings, name+" = "+Nodes(d.Nodes(2)...))
		rated = append(rated, name+" = "+volts[k])
	}
	keys := "windings = { " + strings.Join(windings, ", ") + " }"
	if d.Percent(75) {
		keys += ", volts = { " + strings.Join(rated, ", ") + " }"
	}
	if d.Percent(40) {
		keys += fmt.Sprintf(", insulation = %q", OneOf(d, someGrades...))
	}
	return keys
}

func (d *Drawer) selector() string {
	d.switches++
	if d.Percent(50) {
		n := d.Nodes(6)
		keys := fmt.Sprintf("decks = [{ common = ‹%s›, throws = %s }, { common = ‹%s›, throws = %s }]",
			n[0], Nodes(n[1], n[2]), n[3], Nodes(n[4], OneOf(d, n[5], "")))
		if d.Percent(50) {
			keys += `, positions = ["line", "battery"]`
			if d.Percent(20) {
				keys += `, fixed = "line"`
			}
		}
		return keys
	}
	n := d.Nodes(4)
	keys := fmt.Sprintf("common = ‹%s›, throws = %s, positions = [\"first\", \"second\", \"third\"]", n[0], Nodes(n[1], n[2], OneOf(d, n[3], "")))
	if d.Percent(25) {
		keys += `, fixed = "second"`
	}
	return keys
}

// Keys draws what one part of a kind says, its condition and frame aside.
func (d *Drawer) Keys(kind string) string {
	ends := func() string { return "ends = " + Nodes(d.Nodes(2)...) }
	switch kind {
	case "switch":
		d.switches++
		if d.Percent(50) {
			n := d.Nodes(4)
			return fmt.Sprintf("poles = [%s, %s]", Nodes(n[0], n[1]), Nodes(n[2], n[3]))
		}
		return ends()
	case "selector":
		return d.selector()
	case "resistor":
		keys := fmt.Sprintf("%s, value = %q", ends(), OneOf(d, someOhms...))
		if d.Percent(20) {
			keys += fmt.Sprintf(", measured = %q", OneOf(d, someOhms...))
		}
		return keys
	case "potentiometer":
		d.controls++
		n := d.Nodes(3)
		keys := fmt.Sprintf("ends = %s, value = %q", Nodes(n[:2]...), OneOf(d, "500k", "1 meg", "5k", "25k"))
		switch d.N(4) {
		case 0, 1:
			keys += ", wiper = ‹" + n[2] + "›"
		case 2:
			keys += ", wiper = ‹" + OneOf(d, n[:2]...) + "›"
		}
		return keys
	case "thermistor":
		return ends() + OneOf(d, `, hot = 44, cold = "400"`, `, hot = "1k", cold = "9k"`, `, hot = "15k", cold = "100k"`)
	case "capacitor":
		return d.capacitor()
	case "coil":
		return fmt.Sprintf("%s, ohms = %s, henries = %q", ends(), OneOf(d, "1", "450", "10.5"), OneOf(d, "20 mH", "1.5 H"))
	case "motor":
		return ends() + ", volts = 120, " + OneOf(d, "watts = 20", `amps = "150 mA"`)
	case "lamp":
		return fmt.Sprintf("%s, volts = %s, amps = %s", ends(), OneOf(d, "6.3", "120"), OneOf(d, "0.15", "0.05"))
	case "transformer":
		return d.transformer()
	case "tube":
		return d.tube()
	case "rectifier":
		d.sections++
		n := d.Nodes(2)
		return fmt.Sprintf("anode = ‹%s›, cathode = ‹%s›", n[0], n[1])
	case "battery":
		n := d.Nodes(2)
		return fmt.Sprintf("positive = ‹%s›, negative = ‹%s›, volts = %s", n[0], n[1], OneOf(d, "9", "67.5", "180"))
	case "insulation":
		return fmt.Sprintf("%s, grade = %q", ends(), OneOf(d, someGrades...))
	}
	return ends() // wire, fuse
}

// extras draws a part's frame and condition.
func (d *Drawer) extras(keys string) string {
	if d.Percent(20) {
		frame := OneOf(d, d.touch...)
		keys += fmt.Sprintf(", frame = ‹%s›, frame_insulation = %q", frame, OneOf(d, someGrades...))
	}
	paper := strings.Contains(keys, `"paper"`)
	switch {
	case d.limits.Failed && d.Percent(8):
		keys += `, condition = "failed"`
	case d.attic:
		if d.Percent(35) {
			keys += `, condition = "good"`
		}
	case !d.chain && d.doubtful < 2 && (paper && d.Percent(60) || d.Percent(12)):
		d.doubtful++
		if !paper {
			keys += `, condition = "suspect"`
		}
	case paper:
		keys += `, condition = "good"`
	}
	return keys
}

// allowed is a kind that may still be drawn: another in place of one of which there are enough.
func (d *Drawer) allowed(kind string) string {
	switch kind {
	case "switch", "selector":
		if d.switches >= d.limits.Switches || len(d.Pool) < 6 {
			return "resistor"
		}
	case "potentiometer":
		if d.controls >= d.limits.Controls {
			return "resistor"
		}
	case "rectifier":
		if d.sections >= d.limits.Sections {
			return "resistor"
		}
	}
	return kind
}

// wirings draws what a random wiring seldom has: a jack on the wiper of a control, a rheostat before a
// touch point, a fuse in one leg with a capacitor across the line behind it, and, in some sets, a chain of
// unverified capacitors from the line to a touch point.
func (d *Drawer) wirings() []Part {
	var parts []Part
	if d.controls < d.limits.Controls && d.Percent(20) {
		d.controls++
		inner := slices.DeleteFunc(slices.Clone(d.Pool), func(n string) bool { return slices.Contains(d.touch, n) })
		k := d.N(len(inner))
		a, b := inner[k], inner[(k+1+d.N(len(inner)-1))%len(inner)]
		parts = append(parts, Part{"RJ", "potentiometer", fmt.Sprintf("ends = %s, wiper = ‹%s›, value = %q", Nodes(a, b), OneOf(d, d.touch...), OneOf(d, "5k", "500k"))})
	}
	if d.controls < d.limits.Controls && d.Percent(15) {
		d.controls++
		parts = append(parts, Part{"RR", "potentiometer",
			fmt.Sprintf("ends = %s, value = %q", Nodes(OneOf(d, d.Pool[:2]...), OneOf(d, d.touch...)), OneOf(d, "25k", "1 meg"))})
	}
	if d.Percent(30) {
		k := d.N(2)
		parts = append(parts, Part{"F0", "fuse", "ends = " + Nodes(d.Pool[k], "fused")},
			Part{"C0", "capacitor", d.extras("ends = " + Nodes("fused", d.Pool[1-k]) + `, value = "0.1 uF", type = "film"`)})
		d.Pool = append(d.Pool, "fused")
	}
	if d.chain {
		parts = append(parts, d.chained()...)
	}
	return parts
}

// chained draws three to five capacitors in a row, of which one may be good.
func (d *Drawer) chained() []Part {
	count := 3 + d.N(3)
	row := []string{OneOf(d, d.Pool[:2]...)}
	for k := 1; k < count; k++ {
		row = append(row, fmt.Sprintf("c%d", k))
	}
	row = append(row, OneOf(d, d.touch...))
	good := d.N(2*count) - count // none in half of them
	var parts []Part
	for k := range count {
		keys := fmt.Sprintf("ends = %s, value = %q", Nodes(row[k], row[k+1]), OneOf(d, "1 nF", "0.01 uF", "0.05 uF"))
		switch {
		case k == good:
			keys += `, type = "film", condition = "good"`
		case d.Percent(50):
			keys += `, type = "paper"`
		default:
			keys += `, condition = "suspect"`
		}
		parts = append(parts, Part{fmt.Sprintf("K%d", k), "capacitor", keys})
	}
	return parts
}
