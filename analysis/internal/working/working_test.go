package working

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/circuit/circuittest"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/settest"
)

const (
	omega    = 2 * math.Pi * 60
	peakLine = 120 * math.Sqrt2
)

// play solves a set of those parts, a polarized plug on L and N before them, in its first position, read
// against N.
func play(t *testing.T, parts string, with ...func(*Options)) (*circuit.Circuit, *Result) {
	t.Helper()
	c := circuittest.With(t, `PL1 = { kind = "plug", style = "polarized", hot = "L", neutral = "N" }`+"\n"+parts, "N")
	o := Options{Plug: circuit.AsMarked, Body: None, Reference: node(t, c, "N")}
	for _, change := range with {
		change(&o)
	}
	r, err := Solve(c, o)
	if err != nil {
		t.Fatal(err)
	}
	return c, r
}

func node(t settest.TB, c *circuit.Circuit, name string) int {
	i, ok := c.Node(name)
	if !ok {
		t.Fatalf("no node %q", name)
	}
	return i
}

func at(t *testing.T, c *circuit.Circuit, r *Result, name string) Volts {
	return r.Nodes[node(t, c, name)]
}

func bisect(low, high float64, f func(float64) float64) float64 {
	for range 200 {
		if mid := (low + high) / 2; f(low)*f(mid) > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// flowAngle is half the angle in which a rectifier behind some ohms feeds a reservoir that does not ripple
// with a mean current that depends on its volts: amps = peak/(π·ohms)·(sin a − a·cos a), V = peak·cos a.
func flowAngle(peak, ohms float64, amps func(volts float64) float64) float64 {
	return bisect(1e-6, 1.5, func(a float64) float64 {
		return peak/(math.Pi*ohms)*(math.Sin(a)-a*math.Cos(a)) - amps(peak*math.Cos(a))
	})
}

// 1 kΩ and 2 µF in series: I = 120/|1000.2 − j/(ω·2 µF)|. 50 Ω and 1 H likewise.
func TestSeriesOfOhmsAndReactance(t *testing.T) {
	_, r := play(t, `R1 = { kind = "resistor", ends = ["L", "a"], value = "1k" }
C1 = { kind = "capacitor", ends = ["a", "N"], value = "2 uF" }`)
	amps := 120 / cmplx.Abs(complex(1000.2, -1/(omega*2e-6)))
	settest.Near(t, "amps", r.Amps, amps, 2e-3)
	settest.Near(t, "watts", r.Watts, amps*amps*1000, 4e-3)
	settest.Near(t, "volts across C1", r.Capacitors[0].VoltsAC, amps/(omega*2e-6), 2e-3)

	_, r = play(t, `L1 = { kind = "coil", ends = ["L", "N"], ohms = 50, henries = 1 }`)
	amps = 120 / cmplx.Abs(complex(50.2, omega))
	settest.Near(t, "amps", r.Amps, amps, 2e-3)
	settest.Near(t, "watts in L1", r.Coils[0].Watts, amps*amps*50, 4e-3)
}

// The mean of half a sine is peak/π; its rms peak/2. The 0.7 V of silicon, from a to π − a, take their part.
func TestHalfWaveIntoOhms(t *testing.T) {
	c, r := play(t, `D1 = { kind = "rectifier", anode = "L", cathode = "k", type = "silicon" }
R1 = { kind = "resistor", ends = ["k", "N"], value = "10k" }`)
	a := math.Asin(0.7 / peakLine)
	settest.Near(t, "mean", at(t, c, r, "k").DC, (2*peakLine*math.Cos(a)-0.7*(math.Pi-2*a))/(2*math.Pi)*1e4/10005.2, 3e-3)
	settest.Near(t, "reverse", r.Rectifiers[0].Reverse, peakLine, 2e-3)
	settest.Near(t, "rms", r.Rectifiers[0].Amps, (peakLine-0.7)/2/10005.2, 5e-3)
}

// A huge reservoir under load stands at the peak times the cosine of the flow angle; a small one saws by
// I/(f·C); one that nothing drains stands at the peak.
func TestReservoir(t *testing.T) {
	const rectifier = `D1 = { kind = "rectifier", anode = "L", cathode = "B+", type = "silicon" }` + "\n"
	c, r := play(t, rectifier+`C1 = { kind = "capacitor", ends = ["B+", "N"], value = "2000 uF" }
R1 = { kind = "resistor", ends = ["B+", "N"], value = 2000 }`)
	a := flowAngle(peakLine-0.7, 5.2, func(v float64) float64 { return v / 2000 })
	volts := (peakLine - 0.7) * math.Cos(a)
	settest.Near(t, "B+", at(t, c, r, "B+").DC, volts, 4e-3)
	settest.Near(t, "mean of D1", r.Rectifiers[0].AmpsDC, volts/2000, 6e-3)

	c, r = play(t, rectifier+`C1 = { kind = "capacitor", ends = ["B+", "N"], value = "10 uF" }
R1 = { kind = "resistor", ends = ["B+", "N"], value = "100k" }`)
	amps := at(t, c, r, "B+").DC / 1e5
	swing := amps / 60 / 10e-6
	off := 1 - math.Acos(1-swing/peakLine)/(2*math.Pi)
	settest.Near(t, "ripple", at(t, c, r, "B+").AC, swing*off/math.Sqrt(12), 0.05)

	c, r = play(t, rectifier+`C1 = { kind = "capacitor", ends = ["B+", "N"], value = "40 uF" }`)
	settest.Near(t, "B+ with no load", at(t, c, r, "B+").DC, peakLine-0.7, 2e-3)
}

// 300-0-300 V into a huge choke: 2/π of the peak, less what the ohms on the way take, the primary's times
// the square of the turns.
func TestChokeInput(t *testing.T) {
	c, r := play(t, `T1 = { kind = "transformer", windings = { p = ["L", "N"], a = ["x", "0"], b = ["0", "y"] }, volts = { p = 120, a = 300, b = 300 } }
D1 = { kind = "rectifier", anode = "x", cathode = "k", type = "silicon" }
D2 = { kind = "rectifier", anode = "y", cathode = "k", type = "silicon" }
L1 = { kind = "coil", ends = ["k", "B+"], ohms = 150, henries = 200 }
R1 = { kind = "resistor", ends = ["B+", "0"], value = "4k" }`)
	way := 4000 + 150 + 5 + 10 + 10.2*6.25
	volts := r.Across(node(t, c, "B+"), node(t, c, "0"))
	settest.Near(t, "B+", volts.DC, (2/math.Pi*300*math.Sqrt2-0.7)*4000/way, 5e-3)
	if at(t, c, r, "B+").HasAC {
		t.Error("the secondary floats against the line, and yet volts are told from one to the other")
	}
	settest.Near(t, "one half against the other", r.Rectifiers[0].AmpsDC, r.Rectifiers[1].AmpsDC, 5e-3)
}

// Three heaters of one current in a row have one share of their volts, 1/6 + 5/6·share^0.6 of their hot ohms.
func TestHeatersHaveTheOhmsOfTheirVolts(t *testing.T) {
	_, r := play(t, `V1 = { kind = "tube", type = "50C5", pins = { 3 = "L", 4 = "a" } }
V2 = { kind = "tube", type = "12BA6", pins = { 3 = "a", 4 = "b" } }
V3 = { kind = "tube", type = "35W4", pins = { 3 = "b", 4 = "N" } }`)
	share, amps := 1.0, 0.0
	for range 100 {
		hot := 97.6 / 0.15 * (1/6.0 + 5/6.0*math.Pow(share, 0.6))
		amps = 120 / (hot + 0.2)
		share = amps * hot / 97.6
	}
	settest.Near(t, "amps", r.Amps, amps, 3e-3)
	for k, rated := range []float64{50, 12.6, 35} {
		settest.Near(t, "volts", r.Heaters[k].Volts, share*rated, 3e-3)
	}
}

// At a quarter of the mains no heater is fed: no tube draws, and no tube rectifies.
func TestColdTubesDrawNothing(t *testing.T) {
	set := settest.Load(t, settest.Example(t, "hot-chassis"))
	c := circuittest.New(t, set, circuit.Bench{})
	for _, percent := range []float64{25, 100} {
		r, err := Solve(c, Options{Plug: circuit.AsMarked, Percent: percent, Body: None, Reference: None})
		if err != nil {
			t.Fatal(err)
		}
		if cold := len(r.Cold) == 5; cold != (percent < 60) {
			t.Errorf("at %g %% of the mains %d of 5 tubes are cold", percent, len(r.Cold))
		}
		if rectified := r.Rectifiers[0].AmpsDC > 1e-3; rectified != (percent > 60) {
			t.Errorf("at %g %% of the mains the rectifier passes %g A", percent, r.Rectifiers[0].AmpsDC)
		}
	}
}

// 120 to 6.3 V on 2 Ω, by phasors: 10.2 Ω, then j2400 Ω beside the load of the other side.
func TestTransformer(t *testing.T) {
	_, r := play(t, `T1 = { kind = "transformer", windings = { p = ["L", "N"], s = ["x", "N"] }, volts = { p = 120, s = 6.3 } }
R1 = { kind = "resistor", ends = ["x", "N"], value = 2 }`)
	turns := 120 / 6.3
	load, core := complex(2.05*turns*turns, 0), complex(0, 2400)
	both := load * core / (load + core)
	settest.Near(t, "watts in R1", r.Resistors[0].Watts, math.Pow(cmplx.Abs(120*both/(both+10.2))/turns*2/2.05, 2)/2, 4e-3)
	settest.Near(t, "amps", r.Amps, cmplx.Abs(120/(both+10.2)), 3e-3)
}

// A lamp in series has the ohms of its own volts.
func TestLampInSeries(t *testing.T) {
	_, r := play(t, `R1 = { kind = "resistor", ends = ["L", "N"], value = 200 }`, func(o *Options) { o.Lamp = &Lamp{Watts: 60, Volts: 120} })
	ohms := 240 * (0.12 + 0.88*math.Pow(r.Limiter.Volts/120, 0.6))
	settest.Near(t, "its amps", r.Limiter.Amps, r.Limiter.Volts/ohms, 5e-3)
	settest.Near(t, "its volts", r.Limiter.Volts, 120*ohms/(ohms+200.2), 5e-3)
}

// 120 V behind 0.1 µF into a body: 120/|Zc + Zb|.
func TestBody(t *testing.T) {
	c := circuittest.With(t, `PL1 = { kind = "plug", style = "polarized", hot = "L", neutral = "N" }
C1 = { kind = "capacitor", ends = ["L", "c"], value = "0.1 uF" }`, "c")
	r, err := Solve(c, Options{Plug: circuit.AsMarked, Body: node(t, c, "c"), Reference: None})
	if err != nil {
		t.Fatal(err)
	}
	settest.Near(t, "amps", r.Touch.Amps, 120/cmplx.Abs(circuit.BodyImpedance(omega)-complex(0, 1/(omega*0.1e-6))), 3e-3)
}

// What comes from the line and the batteries is lost in the parts, to half a percent, on every example; and a
// set that begins where it ended ends there.
func TestWattsBalanceOnExamples(t *testing.T) {
	for _, example := range examples.Sets() {
		c := circuittest.New(t, settest.Load(t, example.Text), circuit.Bench{})
		for _, position := range c.Rest() {
			o := Options{Position: position, Plug: circuit.AsMarked, Body: None, Reference: None}
			r, err := Solve(c, o)
			if err != nil {
				t.Fatalf("%s: %v", example.Name, err)
			}
			if in := r.Watts + r.BatteryWatts; math.Abs(in-r.Lost) > 5e-3*math.Abs(in)+1e-3 {
				t.Errorf("%s: %g W in, %g W lost", example.Name, in, r.Lost)
			}
			o.From = r
			again, err := Solve(c, o)
			if err != nil {
				t.Fatal(err)
			}
			settest.Near(t, example.Name+", begun where it ended", again.Amps, r.Amps, 2e-3)
		}
	}
}

// On random sets a steady state is found, or it is said that none is; watts balance, and no figure is none.
func TestRandomSetsBalance(t *testing.T) {
	solved, none := 0, 0
	settest.Check(t, 200, func(t *rapid.T) {
		c, text := circuittest.Draw(t, settest.Limits{Parts: [2]int{3, 20}, Switches: 1, Controls: 1, Sections: 3, Failed: true}, true)
		for _, position := range c.Rest() {
			r, err := Solve(c, Options{Position: position, Plug: circuit.AsMarked, Body: None, Reference: None})
			if err != nil {
				if !errors.Is(err, ErrRestless) && !errors.Is(err, ErrRectifiers) {
					t.Fatal(err)
				}
				none++
				continue
			}
			solved++
			in := r.Watts + r.BatteryWatts
			// What only goes to and fro is larger than the watts by far, and a step in which a rectifier turns takes
			// some of it: half a percent.
			toAndFro := c.Set.Volts * max(r.Amps, r.OtherAmps)
			if math.IsNaN(in) || math.Abs(in-r.Lost) > 2e-2*max(math.Abs(in), r.Lost)+5e-3*toAndFro+0.02 { // a reservoir that little drains is charged within a step or two
				t.Fatalf("%g W in, %g W lost\n%s", in, r.Lost, text)
			}
		}
	})
	t.Logf("%d solved, %d without a steady state", solved, none)
	if none > 2+solved/50 { // of few a few may
		t.Errorf("%d of %d have no steady state", none, solved+none)
	}
}

// A set of too many capacitors is refused, not worked at for minutes.
func TestTooLarge(t *testing.T) {
	var lines []string
	for k := range mostStores + 1 {
		lines = append(lines, fmt.Sprintf(`C%d = { kind = "capacitor", ends = ["L", "N"], value = "0.01 uF" }`, k+1))
	}
	c := circuittest.With(t, `PL1 = { kind = "plug", style = "polarized", hot = "L", neutral = "N" }`+"\n"+strings.Join(lines, "\n"), "N")
	if _, err := Solve(c, Options{Plug: circuit.AsMarked, Body: None, Reference: None}); !errors.Is(err, ErrTooLarge) {
		t.Errorf("of %d capacitors: %v", mostStores+1, err)
	}
}

// The node against which volts are told: most reservoirs' negative, else where most cathodes lead.
func TestCommonNegative(t *testing.T) {
	for name, want := range map[string]string{"hot-chassis": "chassis", "floating-b-minus": "B-", "three-way-portable": "B-"} {
		c := circuittest.New(t, settest.Load(t, settest.Example(t, name)), circuit.Bench{})
		r, err := Solve(c, Options{Plug: circuit.AsMarked, Body: None, Reference: None})
		if err != nil {
			t.Fatal(err)
		}
		if got := c.NodeName(r.Reference); got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
}

func BenchmarkSolve(b *testing.B) {
	c := circuittest.New(b, settest.Load(b, settest.Large(60, 1)), circuit.Bench{})
	for b.Loop() {
		if _, err := Solve(c, Options{Plug: circuit.AsMarked, Body: None, Reference: None}); err != nil {
			b.Fatal(err)
		}
	}
}

// TestWiresAndSwitchesJoin: behind a wire, a switch and a throw of a selector 1 kΩ draws what it does without them, and
// nothing where the switch is off. A meter of 0.5 Ω across the lower of two of 1 kΩ is 0.49975 Ω with it.
func TestWiresAndSwitchesJoin(t *testing.T) {
	const parts = `W1 = { kind = "wire", ends = ["L", "a"] }
S1 = { kind = "switch", ends = ["a", "b"] }
SL1 = { kind = "selector", common = "b", throws = ["c", "d"] }
R1 = { kind = "resistor", ends = ["c", "N"], value = "1k" }
R2 = { kind = "resistor", ends = ["d", "N"], value = "2k" }`
	c := circuittest.With(t, `PL1 = { kind = "plug", style = "polarized", hot = "L", neutral = "N" }`+"\n"+parts, "N")
	for k, p := range c.Positions {
		stands := map[string]string{}
		for _, x := range p.Settings {
			stands[x.Name] = x.At
		}
		r, err := Solve(c, Options{Plug: circuit.AsMarked, Body: None, Reference: node(t, c, "N"), Position: k})
		if err != nil {
			t.Fatal(err)
		}
		what := fmt.Sprint(stands)
		switch {
		case stands["S1"] == "off":
			settest.Below(t, what, r.Amps, 1e-6)
		case stands["SL1"] == "c":
			settest.Near(t, what, r.Amps, 120/1000.2, 2e-3)
		default:
			settest.Near(t, what, r.Amps, 120/2000.2, 2e-3)
		}
	}
	if len(c.Positions) != 4 {
		t.Errorf("%d positions", len(c.Positions))
	}
	parallel := 0.5 * 1000 / 1000.5
	const divider = `R1 = { kind = "resistor", ends = ["L", "a"], value = "1k" }
R2 = { kind = "resistor", ends = ["a", "N"], value = "1k" }`
	c, _ = play(t, divider)
	_, r := play(t, divider, func(o *Options) { o.Meter = Meter{A: node(t, c, "a"), B: o.Reference, Ohms: 0.5} })
	settest.Near(t, "behind a meter of half an ohm", r.Amps, 120/(1000.2+parallel), 2e-3)
}

// TestFuseAndLostNeutral: a fuse tells what it carries, 120/100.201 A; with the neutral off nothing flows.
func TestFuseAndLostNeutral(t *testing.T) {
	const parts = `F1 = { kind = "fuse", ends = ["L", "a"] }
W1 = { kind = "wire", ends = ["a", "b"] }
R1 = { kind = "resistor", ends = ["b", "N"], value = 100 }`
	c, r := play(t, parts)
	if len(r.Fuses) != 1 || r.Fuses[0].Name != "F1" {
		t.Fatalf("the fuses are %+v", r.Fuses)
	}
	settest.Near(t, "through the fuse", r.Fuses[0].Amps, 120/100.201, 2e-3)
	_, lost := play(t, parts, func(o *Options) {
		o.Faults = []*circuit.Fault{circuittest.Fault(t, c, circuit.SupplyName, circuit.NeutralLost)}
	})
	settest.Below(t, "with the neutral off", lost.Fuses[0].Amps, 1e-6)
}

// TestEarthWireCarries: 1 kΩ from the line to metal on the building's earth draws 120/(1000 + 25 + 0.1) A by way of its
// 25 Ω; on a wire to nowhere, nothing.
func TestEarthWireCarries(t *testing.T) {
	const load = `R1 = { kind = "resistor", ends = ["L", "metal"], value = "1k" }
R2 = { kind = "resistor", ends = ["L", "N"], value = "1 meg" }
`
	_, r := play(t, load+`W1 = { kind = "wire", ends = ["metal", "building earth"] }`)
	settest.Near(t, "by the earth wire", r.Amps, 120/1025.1+120/1e6, 1e-3)
	_, r = play(t, load+`W1 = { kind = "wire", ends = ["metal", "nothing"] }`)
	settest.Near(t, "without it", r.Amps, 120/1e6, 3e-3)
}
