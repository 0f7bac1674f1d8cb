package propose

import (
	"fmt"
	"math"

	"coldcheck/netlist"
	"coldcheck/rules"
)

// The values that a bridge is given, chosen so that a touch current stays clear of the 0.5 mA of
// IEC 62368-1 table 4 (ES1) with its tolerances.
const (
	bridgeAmps     = 0.4e-3 // A, that one bridge may pass at the mains as stated
	bridgeOhms     = 1e6    // Ω, each of two resistors in series; IEC 60335-1 22.42
	bridgeOhmsText = "1 meg"
	gangFarads     = 1e-9 // F, up to which an unmarked capacitor is taken for one that is tuned
)

// safetyValues are the usual sizes of class-Y capacitors, the largest first.
var safetyValues = []struct {
	farads float64
	text   string
}{{4.7e-9, "4.7 nF"}, {3.3e-9, "3.3 nF"}, {2.2e-9, "2.2 nF"}, {1e-9, "1 nF"}, {470e-12, "470 pF"}, {100e-12, "100 pF"}}

// safetyValue is the largest usual size that keeps the current of one bridge down.
func safetyValue(set *netlist.Set) (farads float64, text string) {
	for _, v := range safetyValues {
		if 2*math.Pi*set.Hertz*v.farads*set.Volts <= bridgeAmps {
			return v.farads, v.text
		}
	}
	last := safetyValues[len(safetyValues)-1]
	return last.farads, last.text
}

// bridgeValue is the value of a safety capacitor in the place of another: the same where it is
// small enough.
func bridgeValue(set *netlist.Set, c *netlist.Capacitor) string {
	if most, text := safetyValue(set); c.Farads > most {
		return text
	}
	return netlist.FormatValue(c.Farads, netlist.Farad)
}

// tuned reports whether a capacitor is most likely one that is turned or trimmed: small, and nothing
// marked on it. No other part can stand in its place.
func tuned(c *netlist.Capacitor) bool {
	return c.Farads <= gangFarads && c.Type == "" && c.Rating == 0 && c.Class == ""
}

// capacitorRemedies are the remedies about a capacitor.
func (s *search) capacitorRemedies(set *netlist.Set, p *netlist.Part, d *netlist.Capacitor) []*remedy {
	switch {
	case d.Type == "electrolytic" || rules.WindingCapacitance(set, p) != "":
		return nil // the capacitance of a transformer's own windings cannot be cut into
	case tuned(d):
		return []*remedy{partRemedy(p.Name, "series", bridging, 3, inSeries)}
	}
	all := []*remedy{
		partRemedy(p.Name, "Y1", bridging, 2, func(b *builder, p *netlist.Part) { safety(b, p, "Y1") }),
		partRemedy(p.Name, "two Y2", bridging, 3, pairOfCapacitors),
	}
	if s.acrossOrBypass(d) {
		all = append(all, partRemedy(p.Name, "out", renewing, 1, func(b *builder, p *netlist.Part) {
			b.remove(fmt.Sprintf("%s only keeps noise off the line; the set plays without it.", p.Name), p.Name)
		}), partRemedy(p.Name, "X2", renewing, 1, acrossLine))
	}
	return all
}

// acrossOrBypass reports whether a capacitor has an end on a conductor of the cord and only keeps
// noise off: a line filter or a line bypass, not the joint of B-minus and the metal.
func (s *search) acrossOrBypass(d *netlist.Capacitor) bool {
	_, plug := s.set.Plug()
	bus := wired(s.set, mostConnected(s.set))
	for i, end := range d.Ends {
		other := s.set.Node(d.Ends[1-i])
		if end != plug.Hot && end != plug.Neutral || other == nil {
			continue
		}
		if bus[end] && other.Touch != "" {
			return false
		}
		return true
	}
	return false
}

// acrossLine puts a class-X2 capacitor in the place of one across the line.
func acrossLine(b *builder, p *netlist.Part) {
	d := p.Detail.(*netlist.Capacitor)
	b.replace("Across the line belongs a part of class X2, made for it.", p.Name,
		netlist.Keys("kind", "capacitor", "ends", d.Ends[:], "value", netlist.FormatValue(d.Farads, netlist.Farad), "rating", "275 V AC", "class", "X2", "type", "film"))
}

// safety puts a class-Y capacitor in the place of another.
func safety(b *builder, p *netlist.Part, class string) {
	d := p.Detail.(*netlist.Capacitor)
	why := "Class Y1 stands for double insulation: it is made and tested so that a short is very unlikely."
	if class == "Y2" {
		why = "Class Y2 stands for one layer of basic insulation; another safeguard stands beside it here."
	}
	if d.Farads > 0 && bridgeValue(b.set, d) != netlist.FormatValue(d.Farads, netlist.Farad) {
		why += " This value keeps the current through it under 0.5 mA."
	}
	b.replace(why, p.Name, safetyCapacitor(d.Ends[0], d.Ends[1], bridgeValue(b.set, d), class))
}

// pairOfCapacitors puts two class-Y2 capacitors in series in the place of one.
func pairOfCapacitors(b *builder, p *netlist.Part) {
	d := p.Detail.(*netlist.Capacitor)
	middle, second, value := b.node(p.Name+" middle"), b.name("C"), bridgeValue(b.set, d)
	b.replace("Two of class Y2 in series, alike: if one shorts, the other still stands between, and keeps the current under 0.5 mA.",
		p.Name, safetyCapacitor(d.Ends[0], middle, value, "Y2"))
	b.fit("The second of the two.", second, safetyCapacitor(middle, d.Ends[1], value, "Y2"))
}

// inSeries keeps a capacitor that cannot be replaced and puts a class-Y1 capacitor in series.
func inSeries(b *builder, p *netlist.Part) {
	_, value := safetyValue(b.set)
	d := p.Detail.(*netlist.Capacitor)
	end := 0
	for i, node := range d.Ends {
		if touched(b.set, node) {
			end = i
		}
	}
	middle, second := b.node(p.Name+" inner"), b.name("C")
	b.move(fmt.Sprintf("%s carries no rating (a tuning gang, a trimmer): it stays, and a class Y1 capacitor goes in series with it.", p.Name),
		p, netlist.Terminal{Name: fmt.Sprintf("end %d", end+1), Node: d.Ends[end]}, middle)
	b.fit("It is large beside the one that it guards, and hardly detunes it.", second, safetyCapacitor(middle, d.Ends[end], value, "Y1"))
}
