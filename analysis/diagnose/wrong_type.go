package diagnose

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/setfile"
)

// mostTypes bounds the types that are tried in the place of one tube.
const mostTypes = 6

// wrongTypes are a tube's variants with another type in its socket: of the same base, with its heater on the same
// pins and of the same volts or the same amps, for such a one lights and is left in. Of types that read alike one
// stands for all, the one most like the right type.
func wrongTypes(s *netlist.Set, p *netlist.Part) []variant {
	d, ok := p.Detail.(*netlist.Tube)
	if !ok || d.Type.Heater == nil || d.Type.FromFile {
		return nil
	}
	var fit []*netlist.TubeType
	for _, t := range setfile.Catalogue() {
		if t.Base == d.Type.Base && t.Heater != nil && samePins(t.Heater, d.Type.Heater) && lights(t.Heater, d.Type.Heater) {
			fit = append(fit, t)
		}
	}
	slices.SortStableFunc(fit, func(a, b *netlist.TubeType) int { return cmp.Compare(unlike(a, d.Type), unlike(b, d.Type)) })
	told := map[string]bool{reads(d.Type): true}
	var all []variant
	for _, t := range fit {
		if key := reads(t); !told[key] && len(all) < mostTypes {
			told[key] = true
			now := *p
			now.Detail = changed(d, func(x *netlist.Tube) { x.Type = t })
			all = append(all, variant{Explanation{Kind: WrongType, Part: p.Name, Type: t.Name}, withPart(s, p, &now, "")})
		}
	}
	return all
}

func samePins(a, b *netlist.Heater) bool {
	return a.Pins == b.Pins || a.Pins == [2]int{b.Pins[1], b.Pins[0]}
}

// lights reports whether one heater glows about as it should in the place of another, in a string or across a
// winding.
func lights(a, b *netlist.Heater) bool { return a.Amps == b.Amps || a.Volts == b.Volts }

// unlike counts what of a type is not as in another: whether it rectifies, how many plates it has, and on which
// pins.
func unlike(a, b *netlist.TubeType) int {
	n := 0
	if len(a.Rectifiers) != len(b.Rectifiers) {
		n += 8
	}
	if len(a.Working) != len(b.Working) {
		n += 4
	}
	for i := range min(len(a.Working), len(b.Working)) {
		x, y := a.Working[i], b.Working[i]
		for _, same := range []bool{x.Plate == y.Plate, x.Screen == y.Screen, x.Cathode == y.Cathode} {
			if !same {
				n++
			}
		}
	}
	return n
}

// reads is what a meter can tell of a type: its heater, where it rectifies, and what it draws, to half as much
// again.
func reads(t *netlist.TubeType) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%g V %g A", t.Heater.Volts, t.Heater.Amps)
	if t.Heater.Tap != nil {
		fmt.Fprintf(&b, " tap %v", *t.Heater.Tap)
	}
	for _, s := range t.Rectifiers {
		fmt.Fprintf(&b, " rectifies %d-%d", s.Anode, s.Cathode)
	}
	for _, w := range t.Working {
		fmt.Fprintf(&b, " draws at %d, %d to %d: %.0f", w.Plate, w.Screen, w.Cathode, math.Log(w.PlateAmps/w.PlateVolts)/math.Log(1.5))
	}
	return b.String()
}
