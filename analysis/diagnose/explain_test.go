package diagnose

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
	"coldcheck/analysis/internal/circuit"
	"coldcheck/netlist"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/settest"
)

// floating is a B-minus that a capacitor and a resistor join to the chassis, with a heater.
const floating = `S1 = { kind = "switch", ends = ["N", "B-"] }
R9 = { kind = "resistor", ends = ["L", "B-"], value = 800, tolerance = 5 }
C1 = { kind = "capacitor", ends = ["B-", "chassis"], value = "0.1 uF", type = "film" }
R1 = { kind = "resistor", ends = ["B-", "chassis"], value = "220k", tolerance = 5 }
D1 = { kind = "rectifier", anode = "L", cathode = "B+", type = "silicon" }
C2 = { kind = "capacitor", ends = ["B+", "B-"], value = "40 uF", type = "electrolytic" }
R2 = { kind = "resistor", ends = ["B+", "B-"], value = "10k", tolerance = 5 }
`

func reading(at, figure string) string {
	return "[[readings]]\nat = [" + at + "]\n" + figure + "\n"
}

const coldBlade = `"N", "chassis"`

func explained(t *testing.T, parts string, readings ...string) *Account {
	t.Helper()
	a := Explain(analysistest.New(t, settest.Load(t, settest.With(parts, "chassis")+strings.Join(readings, "")), analysis.Bench{}))
	if a == nil {
		t.Fatal("no account of the readings")
	}
	return a
}

// What the described wiring gives is found to agree, meter loading included: behind 220 kΩ and
// 0.1 µF a meter of 10 kΩ shows less than one of 10 MΩ.
func TestReadingsThatAgree(t *testing.T) {
	z := 1 / complex(1/220e3, 2*math.Pi*60*0.1e-6)
	loaded := 120 * 10e3 / math.Hypot(10e3+real(z), imag(z))
	a := explained(t, floating,
		reading(coldBlade, `ohms = "220k"`),
		reading(`"chassis", "building earth"`, "volts = 119\nplug = \"reversed\""),
		reading(`"chassis", "building earth"`, "volts = "+netlist.FormatValue(loaded, netlist.Volt)[:4]+"\nplug = \"reversed\"\nmeter = \"10k\""))
	if !a.Agree() || len(a.Explanations) > 0 {
		t.Fatalf("agree %v, %d explanations, predicted %v for %v", a.Agree(), len(a.Explanations), a.Described.Predicted, a.Shown)
	}
	settest.Near(t, "loaded", a.Described.Predicted[2], loaded, 0.001)
	if a.Described.Predicted[1] < 1.2*a.Described.Predicted[2] {
		t.Errorf("a meter of 10 kΩ loads nothing: %v", a.Described.Predicted)
	}
}

// first is the explanation of that kind and part among the leading ones.
func first(t *testing.T, a *Account, kind ExplanationKind, part string) *Explanation {
	t.Helper()
	if a.Agree() {
		t.Fatal("the readings agree")
	}
	for i := range a.Explanations[:a.Leading] {
		if e := &a.Explanations[i]; e.Kind == kind && e.Part == part {
			return e
		}
	}
	t.Fatalf("%s of %s does not lead: %+v", kind, part, a.Explanations[:a.Leading])
	return nil
}

func TestLeakageIsFoundWithItsOhms(t *testing.T) {
	// 220 kΩ with 22 kΩ of leakage across it is 20 kΩ; 120 V through 20 kΩ ∥ 0.1 µF on 1.5 kΩ.
	z := 1 / complex(1/20e3, 2*math.Pi*60*0.1e-6)
	check := 120 * 1500 / math.Hypot(1500+real(z), imag(z))
	a := explained(t, floating,
		reading(coldBlade, `ohms = "20k"`),
		reading(`"chassis", "building earth"`, "volts = "+netlist.FormatValue(check, netlist.Volt)[:4]+"\nplug = \"reversed\"\nmeter = \"1.5k\""))
	e := first(t, a, Leaks, "C1")
	settest.Near(t, "leakage", e.Value, 22e3, 0.05)
	if !e.Fits || e.Score > 0.2 {
		t.Errorf("fits %v, score %v", e.Fits, e.Score)
	}
}

// The insulation of a part's frame may lie across the part itself. Its leakage is in parallel with
// the part's own: 250 kΩ ∥ 1 MΩ is 200 kΩ.
func TestLeakageOfFrameBesideThePartsOwn(t *testing.T) {
	set := settest.Load(t, settest.With(floating+`C9 = { kind = "capacitor", ends = ["hidden", "case"], value = "100 pF", leakage = "40 uA at 10 V", frame = "case", frame_insulation = "basic" }`+"\n", "chassis"))
	c := analysistest.New(t, set, analysis.Bench{})
	own := set.Part("C9").Detail.(*netlist.Capacitor).LeakOhms
	settest.Near(t, "own leakage", own, 250e3, 1e-9)
	for _, stated := range []float64{0, own} {
		e := Explanation{Kind: Leaks, Part: "C9", Nodes: [2]string{"hidden", "case"}, Unit: netlist.Ohm, Value: 1e6, Stated: stated}
		were, _ := Were(c, &e)
		want := 1e6
		if stated == 0 {
			want = 200e3
		}
		settest.Near(t, "ohms", were.ColdOhms(map[string]string{"S1": "off"}, "hidden", "case", false), want, 1e-3)
	}
}

func TestSwitchInTheOtherLeg(t *testing.T) {
	off := "\nswitches = { S1 = \"off\" }"
	// In the hot leg as marked the switch leaves B-minus on the neutral: chassis dead as marked
	// whether on or off, and with the plug reversed at the line even when off.
	a := explained(t, floating,
		reading(coldBlade, `ohms = "220k"`+off),
		reading(`"chassis", "building earth"`, "volts = 0.1\nplug = \"as-marked\""+off),
		reading(`"chassis", "building earth"`, "volts = 118\nplug = \"reversed\""+off))
	if e := a.Explanations[0]; e.Kind != SwitchMoved || e.Part != "S1" || e.Nodes[0] != "L" {
		t.Errorf("first is %+v", e)
	}
}

func TestPlugTheOtherWayRound(t *testing.T) {
	a := explained(t, floating,
		reading(coldBlade, `ohms = "220k"`),
		reading(`"chassis", "building earth"`, "volts = 118\nplug = \"as-marked\""),
		reading(`"chassis", "building earth"`, "volts = 0.05\nplug = \"reversed\""))
	if e := a.Explanations[0]; e.Kind != PlugReversed || len(e.Faults) > 0 {
		t.Errorf("first is %+v", e)
	}
}

func TestPartOfAnotherValue(t *testing.T) {
	a := explained(t, floating, reading(`"L", "B-"`, `ohms = 1300`), reading(coldBlade, `ohms = "220k"`))
	settest.Near(t, "R9", first(t, a, OtherValue, "R9").Value, 1300, 0.05)
}

// Two faults are looked for where none does alone.
func TestTwoFaultsTogether(t *testing.T) {
	a := explained(t, floating, reading(coldBlade, `ohms = 0`), reading(`"L", "N"`, `ohms = "100 meg"`), reading(`"B+", "B-"`, `ohms = "10k"`))
	e := a.Explanations[0]
	if !e.Fits || len(e.Faults) != 2 {
		t.Fatalf("first is %+v", e)
	}
	open := false
	for _, f := range e.Faults {
		open = open || f.Part == "R9" && f.Kind == analysis.Open
	}
	if !open {
		t.Errorf("R9 open is not among %v", e.Faults)
	}
}

// A capacitor or a resistor shorted read alike cold: the readings are said not to tell, and a
// measurement is named only where one would.
func TestFurtherMeasurementTellsApart(t *testing.T) {
	a := explained(t, floating, reading(`"chassis", "building earth"`, "volts = 118\nplug = \"as-marked\""))
	if a.Leading < 2 {
		t.Fatalf("one hot reading tells everything: %+v", a.Explanations)
	}
	if a.Further == nil {
		t.Fatal("no further measurement")
	}
	differ := false
	for _, p := range a.Further.Predicted[1:] {
		differ = differ || math.Abs(p-a.Further.Predicted[0]) > MeterShare*math.Abs(p)
	}
	if !differ || len(a.Further.Predicted) != a.Leading {
		t.Errorf("the further measurement tells nothing: %+v", a.Further)
	}
}

// What the file states as failed is proved where the readings fit with it alone.
func TestStatedFailureIsProved(t *testing.T) {
	failed := strings.Replace(floating, `type = "film" }`, `type = "film", condition = "failed" }`, 1)
	if a := explained(t, failed, reading(coldBlade, "ohms = 0.2")); len(a.Proved) != 1 || a.Proved[0] != "C1" {
		t.Errorf("proved: %v", a.Proved)
	}
	if a := explained(t, failed, reading(`"L", "B-"`, "ohms = 800")); len(a.Proved) != 0 {
		t.Errorf("proved by a reading that does not bear on it: %v", a.Proved)
	}
}

// The quick predictions are those of a circuit built anew as the explanation has it.
func TestPredictionsOfRebuiltSets(t *testing.T) {
	for _, example := range examples.Sets() {
		set := settest.Load(t, example.Text)
		c := analysistest.New(t, set, analysis.Bench{})
		ms := Measurable(c)
		if k := slices.IndexFunc(set.Parts, func(p *netlist.Part) bool { return p.Kind == netlist.KindTube }); k >= 0 {
			for _, m := range ms[:len(ms):len(ms)] { // each with a tube pulled too
				m.Pulled = []string{set.Parts[k].Name}
				ms = append(ms, m)
			}
		}
		if k := slices.IndexFunc(set.Parts, func(p *netlist.Part) bool { return p.Kind == netlist.KindCapacitor }); k >= 0 {
			for _, m := range Measurable(c) { // or with a lead off
				m.Lifted = []string{set.Parts[k].Name}
				ms = append(ms, m)
			}
		}
		x := newExplainer(set, analysis.Bench{}, ms, false)
		which, into := make([]int, len(ms)), make([]float64, len(ms))
		for k := range which {
			which[k] = k
		}
		for _, f := range x.figures {
			e := f.Explanation
			e.Value = math.Sqrt(f.least * f.most)
			if e.Kind == OtherValue {
				e.Value = e.Stated * 3
			}
			x.gauge.predictShunted(which, f.Part, f.shunts(e.Value), into)
			were, _ := Were(c, &e)
			if were == nil {
				t.Fatalf("%s: no set for %+v", example.Name, e)
			}
			g, err := newGauge(were.Set, analysis.Bench{}, ms, false)
			if err != nil {
				t.Fatal(err)
			}
			for k, want := range g.predictIdle(nil, false) {
				if ms[k].without(e.Part) {
					want = x.idle[k] // the rebuilt set has the leakage as a part of its own
				}
				if math.Abs(into[k]-want) > 1e-4*math.Abs(want)+1e-3 {
					t.Fatalf("%s, %s of %s at %g: %+v: %g, rebuilt %g", example.Name, e.Kind, e.Part, e.Value, ms[k], into[k], want)
				}
			}
		}
	}
}

// What a meter is said to show is what the solution of the state says.
func TestGaugeAgreesWithSolution(t *testing.T) {
	set := settest.Load(t, settest.Example(t, "floating-b-minus"))
	c := analysistest.New(t, set, analysis.Bench{})
	ms := Measurable(c)
	g, err := newGauge(set, analysis.Bench{}, ms, false)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range g.c.Faults {
		shown := g.predictIdle([]*analysis.Fault{f}, false)
		for k, m := range ms {
			want := 0.0
			switch m.Quantity {
			case OhmsRead:
				settings := map[string]string{}
				for _, s := range m.Settings {
					settings[s.Name] = s.At
				}
				want = onScale(c.ColdOhms(settings, m.A, m.B, false, c.Faults[f.Index]))
			default:
				s := c.Solve(analysis.State{Plug: m.Plug, Settings: m.Settings, Position: m.position, Faults: []*analysis.Fault{c.Faults[f.Index]}})
				if s.Cleared {
					break
				}
				b := m.B
				if b == netlist.BuildingEarth {
					b = ""
				}
				ac, dcVolts := s.OnMeter(m.A, b, m.MeterOhms)
				switch m.Quantity {
				case VoltsRead:
					want = ac
				case VoltsDCRead:
					want, shown[k] = dcVolts, math.Abs(shown[k])
				case MilliampsRead:
					want = s.Read(m.A, b).Milliamps
				}
			}
			if math.Abs(shown[k]-want) > 1e-4*math.Abs(want)+1e-3 {
				t.Fatalf("%s: %+v: %g, solution %g", f, m, shown[k], want)
			}
		}
	}
}

// On random sets, whatever a meter shows, the account and the checklist come without a figure that
// is none, and a short, a leakage or a value is predicted as a set built so is read.
func TestAccountsOfRandomSets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set := settest.Load(t, settest.Draw(t, settest.Limits{Parts: [2]int{3, 16}, Switches: 1, Controls: 1, Sections: 2, Failed: true}).Text())
		c := analysistest.New(t, set, analysis.Bench(settest.DrawBench(t, set)))
		ms := Measurable(c)
		for range rapid.IntRange(1, 4).Draw(t, "readings") {
			m := ms[rapid.IntRange(0, len(ms)-1).Draw(t, "m")]
			r := netlist.Reading{At: [2]string{m.A, m.B}, Quantity: string(m.Quantity), Plug: string(m.Plug), Meter: m.MeterOhms, Switches: map[string]string{}}
			if m.Plug == "" {
				r.Plug = "out"
			}
			for _, s := range m.Settings {
				r.Switches[s.Name] = s.At
			}
			r.Value = rapid.SampledFrom([]float64{0, 0.4, 60, 120, 800, 22e3, 1e8}).Draw(t, "value")
			set.Readings = append(set.Readings, r)
		}
		l := Checks(c)
		number := func(x float64) {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Fatalf("a figure is %g", x)
			}
		}
		for _, check := range l.Cold {
			number(check.Low)
			number(check.High)
		}
		described := newExplainer(c.Set, c.Bench, l.Account.Measurements, playing(c.Circuit, l.Account.Measurements))
		for i := range l.Account.Explanations {
			e := &l.Account.Explanations[i]
			number(e.Score)
			if e.Kind == PlugReversed {
				continue
			}
			were, faults := Were(c, e)
			if were == nil {
				t.Fatalf("no set for %+v", e)
			}
			g, err := described.gauge.variant(were.Set) // a meter loads it as it loads the set as described
			if err != nil {
				t.Fatal(err)
			}
			for k, want := range g.predict(faultsIn(g.c, faults), false).shows {
				number(e.Predicted[k])
				part := 1e-3
				if l.Account.Measurements[k].whilePlaying() {
					part = 2e-2 // what a solution in time is good for: it began elsewhere
				}
				if math.Abs(want-e.Predicted[k]) > part*math.Abs(want)+1e-2 && want < OhmsRange/10 {
					t.Fatalf("%s of %s: predicted %g, built so %g, of %+v", e.Kind, e.Part, e.Predicted[k], want, l.Account.Measurements[k])
				}
			}
		}
	})
}

// faultsIn are the same faults of another circuit of a set with the same parts.
func faultsIn(c *circuit.Circuit, faults []*analysis.Fault) []*analysis.Fault {
	var same []*analysis.Fault
	for _, f := range faults {
		same = append(same, c.Faults[f.Index])
	}
	return same
}
