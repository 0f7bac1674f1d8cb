package live

import (
	"cmp"
	"fmt"
	"html/template"
	"net/http"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/survey"
	"coldcheck/cmd/coldcheck/page"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// asked is a state that a page sets.
type asked struct {
	Plug     string            `json:"plug"`     // a polarity; "" for as marked
	Settings map[string]string `json:"settings"` // switches and controls; those not named stand first
	Faults   []string          `json:"faults"`   // by faultNames
	Isolated bool              `json:"isolated"`
	Earthed  []string          `json:"earthed"` // points with an earth clip
	Steps    []step            `json:"steps"`   // of the plan at hand
	Done     int               `json:"done"`    // so many of them are done
}

// mostFaults is how many failures a state has at most.
const mostFaults = 3

// stateAnswer is what the bench shows of a state.
type stateAnswer struct {
	Head     head       `json:"head"`
	Controls controls   `json:"controls"`
	Words    string     `json:"words"`   // the state
	Dropped  []string   `json:"dropped"` // what was asked for and is not there
	Cleared  bool       `json:"cleared"`
	Cards    []card     `json:"cards"`
	Hands    []pairView `json:"hands"` // from one piece of metal to another, the worst first
	Rows     []stateRow `json:"rows"`  // the same state with each rectifier conducting in turn
}

// head is what a page says of the set at its top.
type head struct {
	Edition int      `json:"edition"`
	Plan    int      `json:"plan"`
	File    string   `json:"file"`
	Name    string   `json:"name"`
	Facts   []string `json:"facts"`
	Slips   []string `json:"slips"`
	Gone    bool     `json:"gone"`
	// Of the plan file: what it is for, its steps, and what is wrong with it.
	PlanName  string   `json:"plan_name"`
	PlanSteps []step   `json:"plan_steps"`
	PlanSlips []string `json:"plan_slips"`
}

// controls are what can be set.
type controls struct {
	Plugs    []choice     `json:"plugs"`
	Switches []switchView `json:"switches"`
	Faults   []faultView  `json:"faults"`
	Points   []string     `json:"points"` // for earth clips, and for plans
	Parts    []choice     `json:"parts"`
	Set      asked        `json:"set"` // what of the asked state stands
}

type choice struct {
	Value string `json:"value"`
	Label string `json:"label"`
}

type switchView struct {
	Name      string   `json:"name"`
	Label     string   `json:"label"`
	Positions []choice `json:"positions"`
}

type faultView struct {
	choice
	Group string `json:"group"`
}

// card is a piece of metal in the state.
type card struct {
	Name     string        `json:"name"`
	Node     string        `json:"node"` // the point of it that reads worst
	Points   []string      `json:"points"`
	Band     int           `json:"band"`
	Body     string        `json:"body"`
	Head     string        `json:"head"`
	Figures  template.HTML `json:"figures"`
	Drawing  template.HTML `json:"drawing"`
	Ways     template.HTML `json:"ways"`
	Branches [][]string    `json:"branches"`
	pointFigures
}

// pointFigures are in V and mA, as in the JSON of states.
type pointFigures struct {
	VoltsOpen   float64 `json:"volts_open"`
	VoltsMeter  float64 `json:"volts_meter"`
	Milliamps   float64 `json:"milliamps"`
	VoltsDC     float64 `json:"volts_dc"`
	MilliampsDC float64 `json:"milliamps_dc"`
}

func figuresOf(r analysis.Reading) pointFigures {
	return pointFigures{r.VoltsOpen, r.VoltsMeter, r.Milliamps, r.VoltsDC, r.MilliampsDC}
}

type stateRow struct {
	Rectifier string         `json:"rectifier"`
	Blown     []string       `json:"blown,omitempty"`
	Cleared   bool           `json:"cleared"`
	Points    []pointFigures `json:"points"` // in the order of the file
}

// answerState tells a state, or of a file that holds no set yet what is wrong with it.
func (b *Bench) answerState(r *http.Request) (any, error) {
	var a asked
	if err := read(r, &a); err != nil {
		return nil, err
	}
	var answer *stateAnswer
	err := b.work.do(r.Context(), answerTime, func() (err error) {
		answer, err = b.files.now().state(a)
		return err
	})
	return answer, err
}

// noSet is the refusal of what cannot be asked yet.
func (e *edition) noSet() error {
	return refuse(http.StatusConflict, "%s", "the file holds no set that can be looked at yet: "+strings.Join(e.slips, "; "))
}

func (e *edition) head() head {
	h := head{Edition: e.number, Plan: e.planNumber, Slips: some(e.slips), Gone: e.gone, Facts: []string{},
		PlanName: e.planName, PlanSteps: e.steps, PlanSlips: some(e.planSlips)}
	if h.PlanSteps == nil {
		h.PlanSteps = []step{}
	}
	if e.set == nil {
		return h
	}
	h.File, h.Name = netlist.Visible(e.set.File), netlist.Visible(e.set.Name)
	h.Facts = []string{text.Mains(e.set), text.Inventory(e.base.Circuit)}
	if note := netlist.Visible(e.set.Note); note != "" {
		h.Facts = append(h.Facts, note)
	}
	return h
}

func some(list []string) []string {
	if list == nil {
		return []string{}
	}
	return list
}

// state works out what a state does to each piece of metal.
func (e *edition) state(a asked) (*stateAnswer, error) {
	if e.set == nil {
		return &stateAnswer{Head: e.head()}, nil
	}
	c, dropped, err := e.circuitFor(&a)
	if err != nil {
		return nil, err
	}
	state, more, err := c.stateOf(&a)
	if err != nil {
		return nil, err
	}
	answer := &stateAnswer{Head: e.head(), Dropped: some(append(dropped, more...)), Words: phrase.InWordsOf(c.Circuit, phrase.State(state)), Cards: []card{}, Rows: []stateRow{}}
	rows := slices.DeleteFunc(c.JudgedAt([]int{state.Position}, state.Faults...), func(row analysis.Row) bool { return row.State.Plug != state.Plug || row.State.Without })
	answer.rows(rows)
	if err := answer.cards(c, state, rows); err != nil {
		return nil, err
	}
	answer.Hands = c.hands(state, answer.Cards)
	answer.Controls = c.controls(a)
	return answer, nil
}

// circuitFor gives the set as the steps that are done leave it, on the bench that is asked for. What is not there to
// be clipped to is dropped.
func (e *edition) circuitFor(a *asked) (*circuitOf, []string, error) {
	a.Done = max(0, min(a.Done, len(a.Steps)))
	set, key := e.set, ""
	if a.Done > 0 {
		staged, err := e.stage(a.Steps[:a.Done])
		if err != nil {
			return nil, nil, err
		}
		set, key = staged.set, staged.key
	}
	var dropped, earthed []string
	for _, node := range a.Earthed {
		switch {
		case set.Node(node) == nil:
			dropped = append(dropped, fmt.Sprintf("there is no point %s to clip to", netlist.Visible(node)))
		case !slices.Contains(earthed, node):
			earthed = append(earthed, node)
		}
	}
	slices.Sort(earthed)
	a.Earthed = some(earthed)
	key = fmt.Sprintf("%s\n%t %q", key, a.Isolated, earthed)
	c, err := e.circuit(key, func() (*circuitOf, error) {
		return newCircuit(key, set, analysis.Bench{Isolated: a.Isolated, Earthed: earthed})
	})
	if err != nil {
		return nil, nil, refuse(http.StatusUnprocessableEntity, "%s", err.Error())
	}
	return c, dropped, nil
}

// stateOf finds the state that is asked for. What the set has not, or not any more, is dropped and told.
func (c *circuitOf) stateOf(a *asked) (state analysis.State, dropped []string, err error) {
	plug := analysis.AsMarked
	switch a.Plug {
	case "", string(analysis.AsMarked):
	case string(analysis.Reversed):
		plug = analysis.Reversed
	default:
		return state, nil, refuse(http.StatusUnprocessableEntity, "the plug stands as-marked or reversed, not %q", netlist.Visible(a.Plug))
	}
	a.Plug = string(plug)
	settings := map[string]string{}
	for name, at := range a.Settings {
		if slices.Contains(c.positionsOf(name), at) {
			settings[name] = at
		} else {
			dropped = append(dropped, fmt.Sprintf("%s has no position %s", netlist.Visible(name), netlist.Visible(at)))
		}
	}
	slices.Sort(dropped)
	a.Settings = settings
	state = c.StateOf(plug, settings)
	for name, at := range settings {
		if state.At(name) != at {
			return state, nil, refuse(http.StatusUnprocessableEntity, "more than two controls away from the middle, or from full, at once is no state that is looked at; turn one back")
		}
	}
	faults, more, err := c.namedFaults(a.Faults)
	if err != nil {
		return state, nil, err
	}
	a.Faults = some(nil)
	for _, f := range faults {
		a.Faults = append(a.Faults, c.faultNames()[f.Index])
	}
	return state.WithFaults(faults...), append(dropped, more...), nil
}

func (c *circuitOf) positionsOf(name string) []string {
	for _, s := range c.Switches {
		if s.Name == name {
			return s.Positions
		}
	}
	for _, s := range c.Circuit.Controls {
		if s.Name == name {
			return s.Positions
		}
	}
	return nil
}

// faultNames name every fault, each apart from the others, in the order of Faults.
func (c *circuitOf) faultNames() []string {
	names, seen := make([]string, len(c.Faults)), map[string]int{}
	for i, f := range c.Faults {
		names[i] = f.String()
		if seen[names[i]]++; seen[names[i]] > 1 {
			names[i] = fmt.Sprintf("%s, the %d.", names[i], seen[names[i]])
		}
	}
	return names
}

// faultsOf finds faults by their names, in the order of the file.
func (c *circuitOf) namedFaults(names []string) (faults []*analysis.Fault, dropped []string, err error) {
	known := c.faultNames()
	for _, name := range names {
		i := slices.Index(known, name)
		switch {
		case i < 0:
			dropped = append(dropped, fmt.Sprintf("%s cannot fail so, or is not there", netlist.Visible(name)))
			continue
		case slices.Contains(faults, c.Faults[i]):
			continue
		case len(faults) == mostFaults:
			return nil, nil, refuse(http.StatusUnprocessableEntity, "%d failures at once are the most", mostFaults)
		}
		for _, f := range faults {
			if analysis.Contradictory(f, c.Faults[i]) {
				return nil, nil, refuse(http.StatusUnprocessableEntity, "%s and %s cannot be together", phrase.Fault(f), phrase.Fault(c.Faults[i]))
			}
		}
		faults = append(faults, c.Faults[i])
	}
	slices.SortFunc(faults, func(f, g *analysis.Fault) int { return cmp.Compare(f.Index, g.Index) })
	return faults, dropped, nil
}

func (s *stateAnswer) rows(rows []analysis.Row) {
	for _, row := range rows {
		out := stateRow{Rectifier: row.State.Rectifier, Blown: row.State.Blown, Cleared: row.Cleared, Points: []pointFigures{}}
		for _, r := range row.Readings {
			out.Points = append(out.Points, figuresOf(r))
		}
		s.Rows = append(s.Rows, out)
		s.Cleared = s.Cleared || row.Cleared
	}
}

// cards tell each piece of metal at the point of it that reads worst: a failure may part what is one piece else.
func (s *stateAnswer) cards(c *circuitOf, state analysis.State, rows []analysis.Row) error {
	metals := c.bareFirst()
	var nodes, at []string
	for _, piece := range metals {
		node, told := c.Points[worstOf(piece, rows)].Name, ""
		if len(piece) > 1 && node != c.Points[piece[0]].Name {
			told = netlist.Visible(node)
		}
		nodes, at = append(nodes, node), append(at, told)
	}
	all := survey.Of(c.Circuit, nodes, state)
	shown, err := page.Cards(all, at, "drawing-")
	if err != nil {
		return err
	}
	for i, piece := range metals {
		k := card{Node: nodes[i], Band: shown[i].Band, Body: shown[i].Body, Head: shown[i].Head, Figures: shown[i].Figures, Drawing: shown[i].Drawing, Ways: shown[i].Ways,
			Branches: shown[i].Branches, pointFigures: figuresOf(all.At(survey.Place{}, i).Reading)}
		var names []string
		for _, point := range piece {
			k.Points = append(k.Points, netlist.Visible(c.Points[point].Name))
			names = append(names, phrase.Guarded(&c.Points[point]))
		}
		k.Name = phrase.Metal(names)
		s.Cards = append(s.Cards, k)
	}
	return nil
}

// bareFirst are the pieces of metal, and the points of each, the bare ones before those behind a guard that someone
// vouches for: a hand finds those.
func (c *circuitOf) bareFirst() [][]int {
	guarded := func(point int) int { return min(c.Points[point].GuardCost(), 1) }
	var all [][]int
	for _, piece := range c.metals {
		piece = slices.Clone(piece)
		slices.SortStableFunc(piece, func(a, b int) int { return cmp.Compare(guarded(a), guarded(b)) })
		all = append(all, piece)
	}
	slices.SortStableFunc(all, func(a, b []int) int { return cmp.Compare(guarded(a[0]), guarded(b[0])) })
	return all
}

// worstOf is the point of a piece of metal at which some rows read worst, the foremost of equals.
func worstOf(piece []int, rows []analysis.Row) int {
	worst, class, most := piece[0], analysis.UnderLimit, -1.0
	for _, point := range piece {
		for _, row := range rows {
			r := row.Readings[point]
			if r.Class() > class || r.Class() == class && r.Severity() > clearly*most {
				worst, class, most = point, r.Class(), r.Severity()
			}
		}
	}
	return worst
}

// clearly is by how much one point must read more than another to be told instead.
const clearly = 1.01

// controls lists what can be set, and what of what was asked stands.
func (c *circuitOf) controls(a asked) controls {
	v := controls{Plugs: []choice{}, Switches: []switchView{}, Faults: []faultView{}, Points: []string{}, Parts: []choice{}, Set: a}
	v.Set.Steps = nil // the page has them
	for _, plug := range []analysis.Polarity{analysis.AsMarked, analysis.Reversed} {
		v.Plugs = append(v.Plugs, choice{string(plug), capital(phrase.PlugOf(c.Circuit, plug))})
	}
	add := func(name, label string, positions []string) {
		s := switchView{Name: name, Label: label}
		for _, at := range positions {
			s.Positions = append(s.Positions, choice{at, netlist.Visible(at)})
		}
		v.Switches = append(v.Switches, s)
	}
	for _, s := range c.Switches {
		add(s.Name, netlist.Visible(s.Name), s.Positions)
	}
	for _, s := range c.Circuit.Controls {
		add(s.Name, netlist.Visible(s.Name)+" turned to", s.Positions)
	}
	names := c.faultNames()
	for i, f := range c.Faults {
		label := phrase.Fault(f)
		if p := c.Set.Part(f.Part); p != nil && f.Cost == 0 && p.Condition != netlist.Good {
			label += " (doubtful)"
		}
		v.Faults = append(v.Faults, faultView{choice{names[i], label}, c.groupOf(f)})
	}
	slices.SortStableFunc(v.Faults, func(f, g faultView) int {
		return cmp.Compare(slices.Index(groups, f.Group), slices.Index(groups, g.Group))
	})
	for _, n := range c.Set.Nodes {
		v.Points = append(v.Points, n.Name)
	}
	for _, p := range c.Set.Parts {
		v.Parts = append(v.Parts, choice{p.Name, phrase.Part(c.Set, p.Name)})
	}
	return v
}

// The groups of failures, in the order of the page.
const (
	ofSupply     = "The supply"
	ofSafeguards = "Capacitor or resistor shorts"
	ofRectifiers = "Rectifier shorts"
	ofInsulation = "Insulation fails"
	ofTubes      = "Tube pulled"
	ofOpen       = "Part opens"
	ofSwitches   = "Switch or earth wire"
)

var groups = []string{ofSupply, ofSafeguards, ofRectifiers, ofInsulation, ofTubes, ofOpen, ofSwitches}

func (c *circuitOf) groupOf(f *analysis.Fault) string {
	switch {
	case f.Part == analysis.SupplyName:
		return ofSupply
	case f.Kind == analysis.Shorted && survey.ClassOfFault(c.Set, f.Part, f.Kind) == survey.Rectifies:
		return ofRectifiers
	case f.Kind == analysis.Shorted:
		return ofSafeguards
	case f.Kind == analysis.InsulationOut, f.Kind == analysis.HeaterCathode:
		return ofInsulation
	case f.Kind == analysis.Pulled:
		return ofTubes
	case f.Kind == analysis.Open:
		return ofOpen
	}
	return ofSwitches
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
