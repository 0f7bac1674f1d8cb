package jsonout

import (
	"coldcheck/analysis"
	"coldcheck/rules"
)

// Inspect is what is said of one set.
type Inspect struct {
	Format      int       `json:"format"`
	Set         Set       `json:"set"`
	TouchPoints []Point   `json:"touch_points"`
	Findings    []Finding `json:"findings"`
	Between     []Pair    `json:"between"`
	Together    Together  `json:"together"`
	Stored      []Stored  `json:"stored"`
	NotJudged   Count     `json:"not_judged"`
	Reduced     *Reduced  `json:"reduced,omitempty"`
	NotPaired   bool      `json:"not_paired,omitempty"`        // hand to hand was not looked at
	NotBeside   bool      `json:"not_paired_beside,omitempty"` // nor was it where a suspect part fails beside another
}

// Reduced says that the search looked at fewer failures at once than it was asked to.
type Reduced struct {
	Asked    int `json:"asked"`    // safeguards that may fail at once
	Searched int `json:"searched"` // how many were
	Suspects int `json:"suspects"` // suspect parts tried together
}

// Point is a touch point. Depth is null where nothing was found up to the limit.
type Point struct {
	Node          string     `json:"node"`
	Touch         string     `json:"touch"`
	Guard         string     `json:"guard"`
	Depth         *int       `json:"depth"`
	DepthAsMarked *int       `json:"depth_as_marked"`
	Normal        Worst      `json:"normal"`
	OneFault      Worst      `json:"one_fault"`
	FaultSets     []FaultSet `json:"fault_sets"`
}

// Worst is the worst of several states: V, mA, and the state. All are null where every state was
// cleared.
type Worst struct {
	VoltsOpen   *float64 `json:"volts_open"`
	VoltsMeter  *float64 `json:"volts_meter"`
	Milliamps   *float64 `json:"milliamps"`
	VoltsDC     *float64 `json:"volts_dc"`
	MilliampsDC *float64 `json:"milliamps_dc"`
	State       *State   `json:"state"`
}

// FaultSet is a minimal set of faults that makes a point live.
type FaultSet struct {
	Cost   int     `json:"cost"`
	Faults []Fault `json:"faults"`
}

// Finding is one thing found.
type Finding struct {
	Rule        string   `json:"rule"`
	Signal      string   `json:"signal"`
	Node        string   `json:"node"`
	Nodes       []string `json:"nodes"`
	Parts       []string `json:"parts"`
	Path        []string `json:"path"`
	State       *State   `json:"state"`
	Milliamps   *float64 `json:"milliamps"`
	MilliampsDC *float64 `json:"milliamps_dc"`
	Message     string   `json:"message"`
	Figures     string   `json:"figures"`
	BetweenText string   `json:"between_text"`
	Notes       []string `json:"notes"`
	Remedy      string   `json:"remedy"`
	Caution     string   `json:"caution"`
}

// Pair is two touch points, hand to hand.
type Pair struct {
	Nodes [2]string `json:"nodes"`
	Worst
	OneFault Worst `json:"one_fault"`
}

// Together is all bare touch points, joined as by one hand.
type Together struct {
	Nodes []string `json:"nodes"`
	Worst
}

// Stored is a capacitor whose charge stays: V, J, and s until 60 V, null where nothing drains it.
type Stored struct {
	Part    string   `json:"part"`
	Volts   float64  `json:"volts"`
	Joules  float64  `json:"joules"`
	Seconds *float64 `json:"seconds"`
}

// Count is so many of so many.
type Count struct {
	States int `json:"states"`
	Of     int `json:"of"`
}

// OfReport puts a report into the shape of its JSON. supply is what the person asked for, "" for
// nothing.
func OfReport(r *rules.Report, supply string) *Inspect {
	k := r.Case
	out := &Inspect{
		Format: Format, Set: setOf(k.Circuit, supply),
		TouchPoints: []Point{}, Findings: []Finding{}, Between: []Pair{}, Stored: []Stored{},
		Together:  Together{Nodes: []string{}, Worst: worstOf(k.Result.Together)},
		NotJudged: Count(k.Result.NotJudged),
	}
	if less := k.Result.Reduced; less != nil {
		out.Reduced = &Reduced{less.Asked, k.Result.Options.Faults, less.Suspects}
	}
	out.NotPaired, out.NotBeside = k.Result.NotPaired, k.Result.NotBeside
	for _, p := range k.Result.Points {
		out.TouchPoints = append(out.TouchPoints, pointOf(p))
	}
	for i := range r.Findings {
		out.Findings = append(out.Findings, findingOf(k.Circuit, &r.Findings[i]))
	}
	for _, p := range k.Result.Between {
		out.Between = append(out.Between, Pair{[2]string{p.A.Name, p.B.Name}, worstOf(p.Normal), worstOf(p.OneFault)})
	}
	for _, p := range k.Circuit.Bare() {
		out.Together.Nodes = append(out.Together.Nodes, p.Name)
	}
	for _, s := range k.Result.Stored {
		out.Stored = append(out.Stored, Stored{s.Part, round(s.Volts), round(s.Joules), finite(s.Seconds)})
	}
	return out
}

func pointOf(p *analysis.PointResult) Point {
	out := Point{
		Node: p.Name, Touch: p.Touch, Guard: p.Guard, Depth: depth(p.Depth), DepthAsMarked: depth(p.DepthAsMarked),
		Normal: worstOf(p.Normal), OneFault: worstOf(p.OneFault), FaultSets: []FaultSet{},
	}
	for _, s := range p.FaultSets {
		out.FaultSets = append(out.FaultSets, FaultSet{s.Cost, faultsOf(s.Faults)})
	}
	return out
}

func worstOf(w *analysis.Worst) Worst {
	if w == nil {
		return Worst{}
	}
	return Worst{
		VoltsOpen: rounded(w.VoltsOpen), VoltsMeter: rounded(w.VoltsMeter), Milliamps: rounded(w.Milliamps),
		VoltsDC: rounded(w.VoltsDC), MilliampsDC: rounded(w.MilliampsDC), State: stateOf(w.State),
	}
}

func findingOf(c *analysis.Circuit, f *rules.Finding) Finding {
	out := Finding{
		Rule: f.Rule.Name, Signal: f.Signal.String(), Node: f.Node(), Nodes: some(f.Nodes), Parts: some(f.Parts),
		Path: []string{}, Message: f.Message, Figures: f.Figures, BetweenText: f.Between, Notes: some(f.Notes),
		Remedy: f.Remedy, Caution: f.Caution,
	}
	if f.Path != nil {
		out.Path = pathOf(c, *f.Path)
	}
	if f.Worst != nil {
		out.State = stateOf(f.Worst.State)
		if f.Worst.Reading != (analysis.Reading{}) { // a state alone has no figures
			out.Milliamps, out.MilliampsDC = rounded(f.Worst.Milliamps), rounded(f.Worst.MilliampsDC)
		}
	}
	return out
}

// some makes no list an empty one.
func some(list []string) []string {
	if list == nil {
		return []string{}
	}
	return list
}

// pathOf tells a path as parts and nodes by turns; one that begins at the plug begins with its
// terminal.
func pathOf(c *analysis.Circuit, p analysis.Path) []string {
	var path []string
	part, plug := c.Set.Plug()
	switch p.From {
	case plug.Hot:
		path = append(path, part.Name+".hot")
	case plug.Neutral:
		path = append(path, part.Name+".neutral")
	case plug.Earth:
		path = append(path, part.Name+".earth")
	}
	path = append(path, p.From)
	for _, s := range p.Steps {
		path = append(path, s.Part, s.To)
	}
	return path
}
