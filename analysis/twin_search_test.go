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

// twinControl is a switch, a selector or a potentiometer as the twin lists it.
type twinControl struct {
	name string
	at   []string
	pot  bool // its first position is at rest
}

func (w *twin) positions() []twinControl {
	var all, controls []twinControl
	for _, p := range w.set.Parts {
		switch d := p.Detail.(type) {
		case *netlist.Switch:
			all = append(all, twinControl{p.Name, []string{"on", "off"}, false})
		case *netlist.Selector:
			if d.Fixed != "" {
				all = append(all, twinControl{p.Name, []string{d.Fixed}, false})
			} else {
				all = append(all, twinControl{p.Name, d.Positions, false})
			}
		case *netlist.Potentiometer:
			if d.Wiper == "" || d.Wiper == d.Ends[0] || d.Wiper == d.Ends[1] {
				controls = append(controls, twinControl{p.Name, []string{"full", "zero"}, true})
			} else {
				controls = append(controls, twinControl{p.Name, []string{"middle", d.Ends[0], d.Ends[1]}, true})
			}
		}
	}
	return append(all, controls...)
}

// away is how many controls are not at rest.
func (w *twin) away(at map[string]string) int {
	count := 0
	for _, c := range w.positions() {
		count += flag(c.pot && at[c.name] != c.at[0])
	}
	return count
}

// eachSetting visits both plug polarities with every position of every switch and every control, of which
// at most two are away from rest at once.
func (w *twin) eachSetting(visit func(condition)) {
	all := w.positions()
	var turn func(k, left int, x condition)
	turn = func(k, left int, x condition) {
		if k == len(all) {
			visit(x)
			return
		}
		for place, at := range all[k].at {
			rest := left
			if all[k].pot && place > 0 {
				rest--
			}
			if rest < 0 {
				continue
			}
			next := condition{plug: x.plug, at: map[string]string{all[k].name: at}}
			for name, other := range x.at {
				next.at[name] = other
			}
			turn(k+1, rest, next)
		}
	}
	for _, plug := range []Polarity{AsMarked, Reversed} {
		turn(0, 2, condition{plug: plug})
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
