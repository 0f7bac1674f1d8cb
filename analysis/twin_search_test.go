package analysis

import (
	"math/cmplx"

	"coldcheck/netlist"
)

func cabs(v complex128) float64 { return cmplx.Abs(v) }

func flag(b bool) int {
	if b {
		return 1
	}
	return 0
}

// twinControl is a switch or a selector as the twin lists it.
type twinControl struct {
	name string
	at   []string
}

func (w *twin) positions() []twinControl {
	var all []twinControl
	for _, p := range w.set.Parts {
		switch d := p.Detail.(type) {
		case *netlist.Switch:
			all = append(all, twinControl{p.Name, []string{"on", "off"}})
		case *netlist.Selector:
			if d.Fixed != "" {
				all = append(all, twinControl{p.Name, []string{d.Fixed}})
			} else {
				all = append(all, twinControl{p.Name, d.Positions})
			}
		}
	}
	return all
}

// eachSetting visits both plug polarities with every position of every control, the last control changing
// fastest.
func (w *twin) eachSetting(visit func(condition)) {
	controls := w.positions()
	var turn func(k int, x condition)
	turn = func(k int, x condition) {
		if k == len(controls) {
			visit(x)
			return
		}
		for _, at := range controls[k].at {
			next := condition{plug: x.plug, at: map[string]string{controls[k].name: at}}
			for name, other := range x.at {
				next.at[name] = other
			}
			turn(k+1, next)
		}
	}
	for _, plug := range []Polarity{AsMarked, Reversed} {
		turn(0, condition{plug: plug})
	}
}

// eachFaults visits every set of up to that many faults that does not contradict itself, by size,
// then in the order of the file.
func (w *twin) eachFaults(limit int, visit func([]twinFault)) {
	list := w.faults()
	var choose func(n, from int, set []twinFault)
	choose = func(n, from int, set []twinFault) {
		if n == 0 {
			if !clash(set) {
				visit(set)
			}
			return
		}
		for k := from; k < len(list); k++ {
			choose(n-1, k+1, append(set[:len(set):len(set)], list[k]))
		}
	}
	for size := 0; size <= limit; size++ {
		choose(size, 0, nil)
	}
}
