package diagnose

import (
	"math"

	"coldcheck/analysis"
	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/nodal"
	"coldcheck/netlist"
)

// figure is an explanation with one figure to find: the value of a part, or a leakage in ohms.
type figure struct {
	Explanation
	least, most float64
	shunts      func(value float64) []nodal.Shunt // what makes the branches have that value
}

// How far a value is looked for, and a leakage: below leakLeast it is a short, above leakMost it is
// none.
const (
	valueSpan = 1e3 // times and times less than what is stated
	valueMost = 1e8 // Ω
	leakLeast = 300.0
	leakMost  = 1e9
)

// allFigures lists what may have another value, and what may leak. It makes their ports.
func (x *explainer) allFigures() []figure {
	c := x.gauge.c
	var all []figure
	for _, p := range c.Set.Parts {
		// The value of a part that is stated as shorted does not matter.
		shorted := func(ohms float64) bool { return p.Condition == netlist.Failed && ohms >= circuit.SafeguardOhms }
		switch d := p.Detail.(type) {
		case *netlist.Resistor:
			if !shorted(d.InUse()) {
				all = append(all, x.ohmsFigure(p.Name, d.InUse()))
			}
		case *netlist.Potentiometer:
			if !shorted(d.Ohms) {
				all = append(all, x.ohmsFigure(p.Name, d.Ohms))
			}
		case *netlist.Coil:
			all = append(all, x.ohmsFigure(p.Name, d.Ohms))
		case *netlist.Capacitor:
			all = append(all, x.faradsFigure(p.Name, d.Farads), x.leakFigure(p.Name, d.Ends, d.LeakOhms))
		}
	}
	for _, f := range c.Faults {
		if f.Kind == analysis.InsulationOut || f.Kind == analysis.HeaterCathode {
			all = append(all, x.leakFigure(f.Part, f.Nodes, 0))
		}
	}
	return all
}

// branchesOf are the resistive pieces of a part, the first two: a potentiometer has no more.
func (x *explainer) branchesOf(part string) []*circuit.Element {
	c := x.gauge.c
	var all []*circuit.Element
	for i := range c.Elements {
		if e := &c.Elements[i]; e.Sort == circuit.Load && c.PartOf(e).Name == part && len(all) < 2 {
			all = append(all, e)
		}
	}
	return all
}

// scaled is what makes the branches of a part have so many times their ohms, hot and cold.
func (x *explainer) scaled(branches []*circuit.Element, times, timesCold float64) []nodal.Shunt {
	var add []nodal.Shunt
	for _, e := range branches {
		cold := e.Ohms
		if e.Heater {
			cold *= circuit.ColdHeater
		}
		reactance := x.gauge.c.Omega * e.Henrys
		add = append(add, nodal.Shunt{
			Port: x.gauge.port(e.A, e.B),
			AC:   1/complex(e.Ohms*times, reactance) - 1/complex(e.Ohms, reactance),
			DC:   (1/times - 1) / e.Ohms,
			Cold: (1/timesCold - 1) / cold,
		})
	}
	return add
}

func (x *explainer) ohmsFigure(part string, stated float64) figure {
	branches := x.branchesOf(part)
	x.scaled(branches, 1, 1) // makes the ports
	return figure{
		Explanation: Explanation{Kind: OtherValue, Part: part, Unit: netlist.Ohm, Stated: stated},
		least:       stated / valueSpan, most: max(min(stated*valueSpan, valueMost), 2*stated),
		shunts: func(value float64) []nodal.Shunt { return x.scaled(branches, value/stated, value/stated) },
	}
}

func (x *explainer) faradsFigure(part string, stated float64) figure {
	p := x.gauge.c.Set.Part(part)
	d := p.Detail.(*netlist.Capacitor)
	port, omega := x.across(d.Ends), x.gauge.c.Omega
	return figure{
		Explanation: Explanation{Kind: OtherValue, Part: part, Unit: netlist.Farad, Stated: stated},
		least:       stated / valueSpan, most: stated * valueSpan,
		shunts: func(value float64) []nodal.Shunt {
			return []nodal.Shunt{{Port: port, AC: complex(0, omega*(value-stated))}}
		},
	}
}

func (x *explainer) leakFigure(part string, nodes [2]string, stated float64) figure {
	port, before := x.across(nodes), 0.0
	if stated > 0 {
		before = 1 / stated
	}
	return figure{
		Explanation: Explanation{Kind: Leaks, Part: part, Nodes: nodes, Unit: netlist.Ohm, Stated: stated},
		least:       leakLeast, most: leakMost,
		shunts: func(value float64) []nodal.Shunt {
			y := 1/value - before
			return []nodal.Shunt{{Port: port, AC: complex(y, 0), DC: y, Cold: y}}
		},
	}
}

func (x *explainer) across(nodes [2]string) int {
	return x.gauge.port(x.gauge.node(nodes[0]), x.gauge.node(nodes[1]))
}

// gridSteps is how many values, evenly in the logarithm, are tried before the best is refined.
const gridSteps = 48

// fitted finds the value of a figure that fits best.
func (x *explainer) fitted(f figure, which []int, shown []float64) Explanation {
	e := f.Explanation
	e.Predicted, e.Off = make([]float64, len(which)), make([]float64, len(which))
	try := func(log float64) float64 {
		e.Value = math.Exp(log)
		x.gauge.predictShunted(which, f.Part, f.shunts(e.Value), e.Predicted)
		x.score(&e, x.loosely(which, e.Predicted), which, shown)
		return e.rank
	}
	low, high := math.Log(f.least), math.Log(f.most)
	step := (high - low) / gridSteps
	best, at := math.Inf(1), low
	for k := 0; k <= gridSteps; k++ {
		if r := try(low + float64(k)*step); r < best {
			best, at = r, low+float64(k)*step
		}
	}
	// Golden section (Kiefer 1953) between the neighbours of the best.
	const golden = 0.6180339887498949
	a, b := max(at-step, low), min(at+step, high)
	p, q := b-golden*(b-a), a+golden*(b-a)
	atP, atQ := try(p), try(q)
	for range 24 {
		if atP < atQ {
			b, q, atQ = q, p, atP
			p = b - golden*(b-a)
			atP = try(p)
		} else {
			a, p, atP = p, q, atQ
			q = a + golden*(b-a)
			atQ = try(q)
		}
	}
	if middle := (a + b) / 2; try(middle) > best {
		try(at)
	}
	return e
}

// toleranced is a part at the edge of its tolerance.
type toleranced struct {
	part string
	add  []nodal.Shunt
}

// What parts are good for where the file does not say.
const (
	capacitorShare = 0.20
	coilShare      = 0.10
	heaterShare    = 0.10 // a hot heater or lamp
	coldShare      = 0.40 // a cold one
)

// tolerances lists every part at the upper edge of its tolerance. It makes their ports.
func (x *explainer) tolerances() []toleranced {
	var all []toleranced
	omega := x.gauge.c.Omega
	for _, p := range x.gauge.c.Set.Parts {
		branches := x.branchesOf(p.Name)
		share, cold := 0.0, 0.0
		switch d := p.Detail.(type) {
		case *netlist.Resistor:
			share = d.Tolerance / 100
			if d.Measured > 0 {
				share = MeterShare
			}
			cold = share
		case *netlist.Potentiometer:
			share, cold = defaultTolerance, defaultTolerance
		case *netlist.Coil, *netlist.Motor, *netlist.Transformer:
			share, cold = coilShare, coilShare
		case *netlist.Tube, *netlist.Lamp:
			share, cold = heaterShare, coldShare
		case *netlist.Capacitor:
			all = append(all, toleranced{p.Name, []nodal.Shunt{{Port: x.across(d.Ends), AC: complex(0, omega*d.Farads*capacitorShare)}}})
			continue
		default:
			continue
		}
		if len(branches) > 0 {
			all = append(all, toleranced{p.Name, x.scaled(branches, 1+share, 1+cold)})
		}
	}
	return all
}

// defaultTolerance is a potentiometer's.
const defaultTolerance = 0.20
