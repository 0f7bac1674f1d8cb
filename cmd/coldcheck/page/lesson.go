package page

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules"
)

// lessonView is the walk through one set, about its foremost piece of metal.
type lessonView struct {
	Metal  string
	Guard  string
	Steps  []stepView
	Stands []string // how many safeguards stand, and why
	Two    []string // what would make it two
	Remedy string   // of the strongest finding about the metal
}

// stepView is one step, and where the bench stands for it.
type stepView struct {
	Text, Figure string
	Head         string
	Band         int
	Fault, Way   int
	Combo        int
}

// stepNoDifference is how much a figure must change to count as a difference.
const stepNoDifference = 1.05

// lesson makes the steps of a scene.
func (t *table) lesson(r *rules.Report, lead int) lessonView {
	s := t.scenes[lead]
	l := &lesson{t: t, scene: lead, name: netlist.Visible(s.target)}
	v := lessonView{Metal: s.name()}
	if g := s.metal.Points[0].Guard; g != "" {
		v.Guard = fmt.Sprintf("A %s is meant to keep fingers off it; the figures are those of the bare metal.", g)
	}
	l.plug()
	l.controls()
	l.supply()
	for _, kind := range faultSteps {
		l.faults(kind)
	}
	l.several()
	v.Steps = l.steps
	v.Stands, v.Two = s.stands(t), s.two()
	for i := range r.Findings {
		if f := &r.Findings[i]; slices.Contains(f.Nodes, s.target) && v.Remedy == "" {
			v.Remedy = sentence(capital(f.Remedy))
		}
	}
	return v
}

type lesson struct {
	t     *table
	scene int
	name  string
	steps []stepView
}

func (l *lesson) at(p place) *reading { return &l.t.readings[p.fault][p.state][l.scene] }

// step adds a step that sets the bench to a place.
func (l *lesson) step(p place, words string) {
	r := l.at(p)
	n := l.t.combos()
	l.steps = append(l.steps, stepView{Text: words, Figure: l.figure(r), Head: verdictHeads[r.verdict().head()], Band: r.verdict().head(),
		Fault: p.fault, Way: p.state / n, Combo: p.state % n})
}

func (l *lesson) figure(r *reading) string {
	words := fmt.Sprintf("%s: %s through a body; on a meter %s.", l.name, bodyWords(r.Reading), meterWords(r.Reading))
	if note := r.note(); note != "" {
		words += " " + note
	}
	return words
}

// differs tells whether two readings differ by enough to speak of: not where both are under the
// first limit.
func differs(a, b *reading) bool {
	if a.cleared != b.cleared {
		return true
	}
	if a.Class() != b.Class() {
		return true
	}
	x, y := a.most(), b.most()
	return a.Class() > analysis.UnderLimit && max(x, y) > stepNoDifference*min(x, y)
}

// change tells what a state does against another.
func change(from, to *reading) string {
	switch {
	case to.cleared:
		return "That shorts the line: a breaker or a fuse opens."
	case !differs(from, to):
		return "It makes no difference here."
	case to.Class() > from.Class():
		return map[analysis.Class]string{analysis.Startles: "Now it startles.", analysis.Live: "Now it is live."}[to.Class()]
	case to.Class() < from.Class():
		return map[analysis.Class]string{analysis.UnderLimit: "Now it is under the first limit.", analysis.Startles: "Now it no longer holds a hand, and still startles."}[to.Class()]
	case to.most() > from.most():
		return "The current is higher, in the same class."
	}
	return "The current is lower, in the same class."
}

// plug shows both ways of the plug.
func (l *lesson) plug() {
	_, plug := l.t.k.Set.Plug()
	n := l.t.combos()
	marked, turned := place{0, 0}, place{0, n}
	on := ""
	if len(l.t.k.Circuit.Switches) > 0 {
		on = ", " + l.settings(0)
	}
	hot, other := l.t.k.Circuit.Blades(analysis.AsMarked)
	if plug.Style == "plain" {
		l.step(marked, fmt.Sprintf("The plug one way round: the hot side of the outlet is on %s%s.", netlist.Visible(hot), on))
	} else {
		l.step(marked, fmt.Sprintf("The plug as marked, in a right outlet: %s is hot%s.", netlist.Visible(hot), on))
	}
	l.step(turned, fmt.Sprintf("Turn the plug round, or meet an outlet wired backwards, which is the same thing: now %s is hot. %s",
		netlist.Visible(other), change(l.at(marked), l.at(turned))))
}

// settings tells where the controls stand in a combination.
func (l *lesson) settings(combo int) string {
	var words []string
	for _, x := range l.t.states[combo].Settings {
		if x.At == "on" || x.At == "off" {
			words = append(words, x.Name+" "+x.At)
		} else {
			words = append(words, x.Name+" at "+netlist.Visible(x.At))
		}
	}
	return strings.Join(words, ", ")
}

func wayName(way analysis.Polarity) string {
	if way == analysis.Reversed {
		return "plug reversed"
	}
	return "plug as marked"
}

// state tells a state's plug and controls.
func (l *lesson) state(i int) string {
	words := wayName(l.t.states[i].Plug)
	if s := l.settings(i); s != "" {
		words += ", " + s
	}
	return words
}

// controls moves each switch from where all stand first, in the plug way in which that does most.
func (l *lesson) controls() {
	n := l.t.combos()
	for i, c := range l.t.k.Circuit.Switches {
		best, from, found := place{}, place{}, false
		for combo := range n {
			if !l.alone(combo, i) {
				continue
			}
			for way := range 2 {
				p, q := place{0, way*n + combo}, place{0, way * n}
				if !found || l.contrast(q, p) > l.contrast(from, best) {
					best, from, found = p, q, true
				}
			}
		}
		if !found {
			continue
		}
		at := l.t.states[best.state].At(c.Name)
		verb := "Set " + c.Name + " to " + netlist.Visible(at)
		if at == "off" {
			verb = "Switch " + c.Name + " off"
		}
		words := fmt.Sprintf("%s, %s. %s", verb, wayName(l.t.states[best.state].Plug), change(l.at(from), l.at(best)))
		if at == "off" && l.at(best).Class() == analysis.Live && (l.at(from).Class() < analysis.Live || len(l.t.k.Circuit.Switches) == 1) {
			words += " Off is not dead."
		}
		l.step(best, words)
	}
}

// alone tells whether in a combination only one control has left its first position.
func (l *lesson) alone(combo, control int) bool {
	for i, x := range l.t.states[combo].Settings {
		first := l.t.k.Circuit.Switches[i].Positions[0]
		if (x.At != first) != (i == control) {
			return false
		}
	}
	return true
}

// contrast is how far two readings are apart, worse counting before better.
func (l *lesson) contrast(from, to place) float64 {
	a, b := l.at(from), l.at(to)
	switch {
	case a.cleared || b.cleared:
		return 0
	case b.most() >= a.most():
		return 1e6*float64(b.Class()-a.Class()) + b.most() - a.most()
	}
	return (a.most() - b.most()) * 1e-3
}

// rise is how much worse a case makes a state.
func (l *lesson) rise(fault, state int) float64 {
	a, b := l.at(place{0, state}), l.at(place{fault, state})
	if a.cleared || b.cleared || !differs(a, b) || b.most() < a.most() {
		return 0
	}
	return 1e6*float64(b.Class()-a.Class()) + b.most() - a.most()
}

// most is the state in which one of some cases does the most harm. Where none does any, it is the
// first that does not short the line.
func (l *lesson) most(faults []int) (best place, rise float64) {
	best = place{faults[0], 0}
	for _, f := range faults {
		for s := range l.t.states {
			if l.at(best).cleared && !l.at(place{f, s}).cleared {
				best = place{f, s}
			}
			if x := l.rise(f, s); x > stepNoDifference*rise {
				best, rise = place{f, s}, x
			}
		}
	}
	return best, rise
}

// cheapest is most among the faults of one failure or none, and among the others where those do no
// harm.
func (l *lesson) cheapest(faults []int) (best place, rise float64) {
	dear := func(i int) bool { return l.t.cases[i].faults[0].Cost > 1 }
	light := slices.DeleteFunc(slices.Clone(faults), dear)
	if len(light) > 0 {
		if best, rise = l.most(light); rise > 0 {
			return best, rise
		}
	}
	return l.most(faults)
}

// shorts names the faults of some cases that short the line in a state in which it was not.
func (l *lesson) shorts(faults []int) string {
	var names []string
	for _, f := range faults {
		for s := range l.t.states {
			if l.at(place{f, s}).cleared && !l.at(place{0, s}).cleared {
				names = append(names, faultsWords(l.t.k.Set, l.t.cases[f].faults))
				break
			}
		}
	}
	if len(names) == 0 {
		return ""
	}
	return " Left aside, since it shorts the line and a breaker or a fuse opens: " + strings.Join(firstFew(names, namesFolded), "; ") + "."
}

// cases lists the cases of one fault that fit.
func (l *lesson) cases(fits func(*analysis.Fault) bool) []int {
	var list []int
	for i, c := range l.t.cases {
		if len(c.faults) == 1 && fits(c.faults[0]) {
			list = append(list, i)
		}
	}
	return list
}

// supply takes away the neutral, and the earth contact.
func (l *lesson) supply() {
	for _, x := range []struct {
		kind  analysis.FaultKind
		words string
	}{
		{analysis.NeutralLost, "The neutral is lost somewhere in the building or the cord"},
		{analysis.EarthLost, "The earth contact is open: an adapter, an old outlet, a pin cut off"},
	} {
		list := l.cases(func(f *analysis.Fault) bool { return f.Kind == x.kind && f.Part == analysis.SupplyName })
		if len(list) == 0 {
			continue
		}
		best, rise := l.most(list)
		l.told(best, rise, x.words, "whichever way the plug is in and wherever the switches stand")
	}
}

// told adds a step for what goes wrong at a place.
func (l *lesson) told(p place, rise float64, words, nowhere string) {
	if rise == 0 {
		l.step(p, fmt.Sprintf("%s. It makes no difference for the worse here, %s.", words, nowhere))
		return
	}
	before := l.at(place{0, p.state})
	l.step(p, fmt.Sprintf("%s, %s. Before it was %s. %s", words, l.state(p.state), bodyWords(before.Reading), change(before, l.at(p))))
}

// faultStep is a sort of fault that the lesson tries, each of the kind in turn.
type faultStep struct {
	fits    func(set *netlist.Set, f *analysis.Fault) bool
	words   func(f *analysis.Fault) string
	nothing string
}

var faultSteps = []faultStep{
	{
		func(_ *netlist.Set, f *analysis.Fault) bool { return f.Kind == analysis.Pulled },
		func(f *analysis.Fault) string { return "Pull a tube: " + netlist.Visible(f.Part) },
		"Pull a tube, any of them",
	},
	{
		func(_ *netlist.Set, f *analysis.Fault) bool { return f.Kind == analysis.Open },
		func(f *analysis.Fault) string {
			return "Something burns out or breaks: " + netlist.Visible(f.Part) + " opens"
		},
		"A lamp, a fuse, a coil or a resistor opens, any of them",
	},
	{
		func(set *netlist.Set, f *analysis.Fault) bool {
			return f.Kind == analysis.Shorted && classOfFault(set, f.Part, f.Kind) == capacitance
		},
		func(f *analysis.Fault) string { return "A capacitor shorts: " + netlist.Visible(f.Part) },
		"A capacitor shorts, any of them",
	},
	{
		func(set *netlist.Set, f *analysis.Fault) bool {
			return f.Kind == analysis.Shorted && classOfFault(set, f.Part, f.Kind) == resistance
		},
		func(f *analysis.Fault) string { return "A resistor shorts: " + netlist.Visible(f.Part) },
		"A resistor of 10 kΩ or more shorts, any of them",
	},
	{
		func(_ *netlist.Set, f *analysis.Fault) bool {
			return f.Kind == analysis.InsulationOut || f.Kind == analysis.HeaterCathode
		},
		func(f *analysis.Fault) string { return "Insulation breaks down: " + rules.FaultWords(f) },
		"Insulation breaks down, any of it",
	},
}

func (l *lesson) faults(kind faultStep) {
	set := l.t.k.Set
	list := l.cases(func(f *analysis.Fault) bool { return kind.fits(set, f) })
	if len(list) == 0 {
		return
	}
	best, rise := l.cheapest(list)
	words := kind.nothing
	if rise > 0 {
		f := l.t.cases[best.fault].faults[0]
		words = kind.words(f)
		switch {
		case f.Cost == 0:
			words += ", which nobody vouches for"
		case f.Cost > 1:
			words += ", which counts as two failures"
		}
	}
	l.told(best, rise, words, "whichever way the plug is in and wherever the switches stand")
	l.steps[len(l.steps)-1].Text += l.shorts(list)
}

// several shows the first fault set of more than one fault, where no single one makes the metal live.
func (l *lesson) several() {
	p := l.t.scenes[l.scene].metal.Points[0]
	for _, set := range p.FaultSets {
		faults := slices.DeleteFunc(slices.Clone(set.Faults), func(f *analysis.Fault) bool { return f.Kind == analysis.GuardOff })
		if len(faults) < 2 {
			continue
		}
		for i, c := range l.t.cases {
			if slices.Equal(c.faults, faults) {
				best, rise := l.most([]int{i})
				if rise > 0 {
					l.told(best, rise, "Several things at once: "+faultsWords(l.t.k.Set, faults), "")
				}
				return
			}
		}
	}
}
