package analysis

import (
	"fmt"
	"math"
	"math/cmplx"
	"reflect"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/netlist"
	"coldcheck/netlist/settest"
)

// answers are figures of a circuit by every method that works something out.
type answers struct {
	Judged, Each [][]Row
	Volts        []complex128
	DC           []float64
	Ends         [][]string
	Paths        [][]Path
	Cold         []float64
	Stresses     []Stress
	Result       Result
}

// ask asks a circuit everything, in an order that depends on the turn.
func ask(c *Circuit, set *netlist.Set, turn int) *answers {
	a := &answers{}
	steps := []func(){
		func() {
			a.Judged = append(a.Judged, c.Judged())
			for _, f := range c.Faults[:min(4, len(c.Faults))] {
				a.Judged = append(a.Judged, c.Judged(f))
			}
		},
		func() {
			a.Each = make([][]Row, len(c.Faults))
			c.JudgedEach(c.Faults, func(i int, rows []Row) { a.Each[i] = rows })
		},
		func() {
			for _, state := range c.Normal() {
				if len(c.Diodes) > 0 && turn%2 == 1 {
					c.Solve(State{Plug: state.Plug, Settings: state.Settings, Controls: state.Controls, Position: state.Position, Rectifier: smallDiodes})
				}
				s := c.Solve(state)
				for _, n := range set.Nodes {
					a.Volts, a.DC = append(a.Volts, s.Volts(n.Name)), append(a.DC, s.VoltsDC(n.Name))
				}
				r := s.Read(c.Points[0].Name, "")
				a.DC = append(a.DC, r.VoltsMeter, r.Milliamps, r.MilliampsDC, s.Touch(c.Points[0].Name).Severity())
			}
		},
		func() {
			for _, state := range c.Normal() {
				w := c.Wiring(state)
				hot, _ := c.Blades(state.Plug)
				a.Ends = append(a.Ends, w.Ends())
				for _, p := range c.Points {
					a.Paths = append(a.Paths, w.Paths(hot, p.Name, 3, Query{Avoid: w.Ends()}))
				}
			}
		},
		func() {
			for _, p := range c.Points {
				a.Cold = append(a.Cold, c.ColdOhms(nil, c.Plug.Hot, p.Name, true), c.ColdOhms(nil, c.Plug.Hot, p.Name, false, c.Faults[0]))
			}
		},
		func() { a.Stresses = c.Stresses(nil) },
		func() { a.Result = *c.Examine(Options{Faults: 2}); a.Result.Circuit = nil },
	}
	for k := range steps {
		steps[(k+turn)%len(steps)]()
	}
	return a
}

// TestOneCircuitForManyGoroutines: a circuit that many goroutines ask at once, and that forgets in
// between, answers as a circuit of its own does to each.
func TestOneCircuitForManyGoroutines(t *testing.T) {
	settest.Check(t, 15, func(t *rapid.T) {
		text := settest.Draw(t, settest.Limits{Parts: [2]int{4, 14}, Switches: 2, Controls: 1, Sections: 2, Failed: true}).Text()
		set := settest.Load(t, text)
		bench := drawBench(t, set)
		want := ask(newCircuit(t, set, bench), set, 0)
		c := newCircuit(t, set, bench)
		var wait sync.WaitGroup
		got := make([]*answers, 8)
		for k := range got {
			wait.Go(func() {
				if k == 5 {
					c.Forget()
				}
				got[k] = ask(c, set, k)
			})
		}
		wait.Wait()
		for k := range got {
			if at := difference(reflect.ValueOf(*got[k]), reflect.ValueOf(*want)); at != "" {
				t.Fatalf("goroutine %d, answers%s\n%s", k, at, text)
			}
		}
	})
}

// difference says where two values differ by more than rounding, "" for nowhere. What an update shows
// depends in its last digits on which columns of the equations are kept.
func difference(x, y reflect.Value) string {
	at := func(what string, part string) string {
		if part == "" {
			return ""
		}
		return what + part
	}
	switch x.Kind() {
	case reflect.Float64:
		a, b := x.Float(), y.Float()
		if a != b && !(math.Abs(a-b) <= 1e-3*math.Max(math.Abs(a), math.Abs(b))+1e-3) {
			return fmt.Sprintf(": %g and %g", a, b)
		}
	case reflect.Complex128:
		if a, b := x.Complex(), y.Complex(); !(cmplx.Abs(a-b) <= 1e-3*max(cmplx.Abs(a), cmplx.Abs(b))+1e-3) {
			return fmt.Sprintf(": %v and %v", a, b)
		}
	case reflect.Slice, reflect.Array:
		if x.Len() != y.Len() {
			return fmt.Sprintf(" has %d and %d", x.Len(), y.Len())
		}
		for i := range x.Len() {
			if d := at(fmt.Sprintf("[%d]", i), difference(x.Index(i), y.Index(i))); d != "" {
				return d
			}
		}
	case reflect.Struct:
		for i := range x.NumField() {
			if d := at("."+x.Type().Field(i).Name, difference(x.Field(i), y.Field(i))); d != "" {
				return d
			}
		}
	case reflect.Pointer:
		if x.IsNil() != y.IsNil() {
			return " is nil in one"
		}
		if !x.IsNil() {
			return difference(x.Elem(), y.Elem())
		}
	default:
		if !x.Equal(y) {
			return fmt.Sprintf(": %v and %v", x, y)
		}
	}
	return ""
}

// TestOptionsOutOfRange: they are taken as the nearest that are in it, whatever they are.
func TestOptionsOutOfRange(t *testing.T) {
	c := circuitOf(t, `C1 = { kind = "capacitor", ends = ["L", "a"], value = "0.1 uF", type = "paper" }
C2 = { kind = "capacitor", ends = ["a", "b"], value = "0.1 uF", type = "paper" }
C3 = { kind = "capacitor", ends = ["b", "c"], value = "0.1 uF", type = "paper" }
C4 = { kind = "capacitor", ends = ["c", "d"], value = "0.1 uF", type = "paper" }
C5 = { kind = "capacitor", ends = ["d", "e"], value = "0.1 uF", type = "film" }
C6 = { kind = "capacitor", ends = ["e", "chassis"], value = "0.1 uF", type = "film" }
R1 = { kind = "resistor", ends = ["L", "N"], value = "1k" }`, "chassis")
	for _, x := range []struct{ asked, done, depth int }{{-3, 0, None}, {0, 0, None}, {1, 1, None}, {2, 2, 2}, {3, 3, 2}, {4, 3, 2}, {1000, 3, 2}} {
		for together := -1; together <= 12; together++ {
			r := c.Examine(Options{Faults: x.asked, Together: together})
			if want := (Options{Faults: x.done, Together: min(max(together, x.done+1), 6)}); r.Options != want {
				t.Errorf("%d faults, %d together: carried out %+v, want %+v", x.asked, together, r.Options, want)
			}
			// four suspect capacitors and two good ones: a chain of six faults that cost two, whatever the
			// complete search goes to
			if p := r.Point("chassis"); p.Depth != x.depth {
				t.Errorf("%d faults, %d together: depth %d by %v, want %d", x.asked, together, p.Depth, p.FaultSets, x.depth)
			}
		}
	}
}

// TestSameAnswerEveryTime: twenty circuits of one set, to the last bit.
func TestSameAnswerEveryTime(t *testing.T) {
	for _, name := range []string{"hot-chassis", "line-bypass"} {
		set := settest.Load(t, settest.Example(t, name))
		type answer struct {
			Points   []PointResult
			Together *Worst
			Stored   []Stored
			Paths    [][]Path
		}
		var first answer
		for k := range 20 {
			c := newCircuit(t, set, Bench{})
			r := c.Examine(Options{Faults: 1})
			got := answer{Together: r.Together, Stored: r.Stored}
			for _, p := range r.Points {
				q := *p
				q.TouchPoint = nil
				got.Points = append(got.Points, q)
				got.Paths = append(got.Paths, c.Wiring(c.Normal()[0]).Paths("line 1", p.Name, 3, Query{}))
			}
			if k == 0 {
				first = got
			} else if !reflect.DeepEqual(got, first) {
				t.Fatalf("%s: run %d differs from the first", name, k+1)
			}
		}
	}
}
