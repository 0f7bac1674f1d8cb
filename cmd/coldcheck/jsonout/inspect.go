package jsonout

import (
	"coldcheck/analysis"
	"coldcheck/rules"
	"coldcheck/rules/overview"
	"coldcheck/rules/phrase"
)

// Inspect is what is said of one set.
type Inspect struct {
	Format      version    `json:"format" jsonschema_description:"the version of this JSON"`
	Set         Set        `json:"set" jsonschema_description:"the set that was looked at, and the bench"`
	TouchPoints []Point    `json:"touch_points" jsonschema_description:"every piece of metal that a hand can reach"`
	Findings    []Finding  `json:"findings" jsonschema_description:"what was found, strongest first"`
	Between     []Pair     `json:"between" jsonschema_description:"each pair of touch points, hand to hand"`
	Together    Together   `json:"together" jsonschema_description:"all bare touch points, joined as by one hand"`
	Stored      []Stored   `json:"stored" jsonschema_description:"capacitors that stay over 60 V DC after unplugging"`
	NotJudged   Count      `json:"not_judged" jsonschema_description:"states that were not judged, as the line is shorted in them"`
	Reduced     *Reduced   `json:"reduced,omitempty" jsonschema:"nullable" jsonschema_description:"there where the search looked at fewer failures at once than it was asked to, as the set is too large"`
	InShort     []InShort  `json:"in_short" jsonschema_description:"the answer: a row for each piece of metal, worst first"`
	LeftOut     [][]string `json:"pairs_left_out,omitempty" jsonschema_description:"pieces of metal of which no pairs were looked at: there are too many"`
}

// InShort is the answer for one piece of metal: what it does in everyday use, and with every switch off.
type InShort struct {
	Nodes       []string  `json:"nodes" jsonschema_description:"the touch points that conductors join, the bare ones first"`
	Signal      shortWord `json:"signal" jsonschema_description:"the strongest signal word of any finding that speaks of it"`
	Milliamps   *float64  `json:"milliamps" jsonschema:"nullable" jsonschema_description:"mA AC through the body network of IEC 60990, the worst with no fault"`
	MilliampsDC *float64  `json:"milliamps_dc" jsonschema:"nullable" jsonschema_description:"mA DC through 2000 Ω"`
	State       *State    `json:"state" jsonschema:"nullable" jsonschema_description:"the state, null where every one was cleared"`
	Off         Off       `json:"off" jsonschema_description:"the worst with no fault and every switch off, either way of the plug"`
}

// Off is the worst with every switch off: all null where no switch turns off, or every such state was
// cleared.
type Off struct {
	Milliamps   *float64 `json:"milliamps" jsonschema:"nullable" jsonschema_description:"mA AC through the body network of IEC 60990"`
	MilliampsDC *float64 `json:"milliamps_dc" jsonschema:"nullable" jsonschema_description:"mA DC through 2000 Ω"`
	State       *State   `json:"state" jsonschema:"nullable" jsonschema_description:"the state, null where none is told"`
}

// Reduced says that the search looked at fewer failures at once than it was asked to.
type Reduced struct {
	Asked    int `json:"asked" jsonschema_description:"safeguards that may fail at once, as asked for"`
	Searched int `json:"searched" jsonschema_description:"how many were"`
	Together int `json:"together" jsonschema_description:"how many failures were tried together"`
}

// Point is a touch point. Depth is null where nothing was found up to the limit.
type Point struct {
	Node          string     `json:"node" jsonschema_description:"the node's name"`
	Touch         touchKind  `json:"touch" jsonschema_description:"what a hand touches there"`
	Guard         guardKind  `json:"guard" jsonschema_description:"what keeps fingers off it, empty where it is bare"`
	Depth         *int       `json:"depth" jsonschema:"nullable" jsonschema_description:"how many safeguards stand between the line and a hand; null where nothing was found up to the limit asked for"`
	DepthAsMarked *int       `json:"depth_as_marked" jsonschema:"nullable" jsonschema_description:"the same with the plug's reversal counted as a failure"`
	Normal        Worst      `json:"normal" jsonschema_description:"the worst with no fault, as if no guard were there"`
	OneFault      Worst      `json:"one_fault" jsonschema_description:"the worst at cost 1 or less, as if no guard were there"`
	FaultSets     []FaultSet `json:"fault_sets" jsonschema_description:"the minimal sets of faults that make the point live"`
}

// Worst is the worst of several states: V, mA, and the state. All are null where every state was
// cleared.
type Worst struct {
	VoltsOpen   *float64 `json:"volts_open" jsonschema:"nullable" jsonschema_description:"V AC rms with nothing connected"`
	VoltsMeter  *float64 `json:"volts_meter" jsonschema:"nullable" jsonschema_description:"V AC on a meter of 10 MΩ"`
	Milliamps   *float64 `json:"milliamps" jsonschema:"nullable" jsonschema_description:"mA AC through the body network of IEC 60990"`
	VoltsDC     *float64 `json:"volts_dc" jsonschema:"nullable" jsonschema_description:"V DC with nothing connected"`
	MilliampsDC *float64 `json:"milliamps_dc" jsonschema:"nullable" jsonschema_description:"mA DC through 2000 Ω"`
	State       *State   `json:"state" jsonschema:"nullable" jsonschema_description:"the state, null where none is told"`
}

// FaultSet is a minimal set of faults that makes a point live.
type FaultSet struct {
	Cost   int     `json:"cost" jsonschema_description:"how many safeguards had to fail"`
	Faults []Fault `json:"faults" jsonschema_description:"what had gone wrong"`
}

// Finding is one thing found.
type Finding struct {
	Rule        string     `json:"rule" jsonschema_description:"the rule that found it"`
	Signal      signalWord `json:"signal" jsonschema_description:"signal word of ANSI Z535 and ISO 3864"`
	Node        string     `json:"node" jsonschema_description:"the node's name"`
	Nodes       []string   `json:"nodes" jsonschema_description:"the nodes that it speaks of, the foremost first"`
	Parts       []string   `json:"parts" jsonschema_description:"the parts that it speaks of"`
	Path        []string   `json:"path" jsonschema_description:"the way of the current, parts and nodes by turns"`
	State       *State     `json:"state" jsonschema:"nullable" jsonschema_description:"the state, null where none is told"`
	Milliamps   *float64   `json:"milliamps" jsonschema:"nullable" jsonschema_description:"mA AC through the body network of IEC 60990"`
	MilliampsDC *float64   `json:"milliamps_dc" jsonschema:"nullable" jsonschema_description:"mA DC through 2000 Ω"`
	Message     string     `json:"message" jsonschema_description:"what, and where"`
	Figures     string     `json:"figures" jsonschema_description:"the figures in words"`
	BetweenText string     `json:"between_text" jsonschema_description:"what stands between the line and a hand"`
	Notes       []string   `json:"notes" jsonschema_description:"further sentences"`
	Remedy      string     `json:"remedy" jsonschema_description:"what to do"`
	RemedyPlan  string     `json:"remedy_plan,omitempty" jsonschema_description:"the remedy as the text of a plan file, where it was tried and held"`
	Caution     string     `json:"caution" jsonschema_description:"what to take care of"`
}

// Pair is two pieces of metal, hand to hand, each by one of its points.
type Pair struct {
	Nodes [2]string `json:"nodes" jsonschema_description:"a point of each piece"`
	Worst
	OneFault      Worst      `json:"one_fault" jsonschema_description:"the worst at cost 1 or less, as if no guard were there"`
	Depth         *int       `json:"depth" jsonschema:"nullable" jsonschema_description:"how many safeguards stand between the two hands; null where nothing was found up to the limit asked for"`
	DepthAsMarked *int       `json:"depth_as_marked" jsonschema:"nullable" jsonschema_description:"the same with the plug's reversal counted as a failure"`
	FaultSets     []FaultSet `json:"fault_sets" jsonschema_description:"the minimal sets of faults that make the pair live"`
}

// Together is all bare touch points, joined as by one hand.
type Together struct {
	Nodes []string `json:"nodes" jsonschema_description:"the bare touch points"`
	Worst
}

// Stored is a capacitor whose charge stays: V, J, and s until 60 V, null where nothing drains it.
type Stored struct {
	Part    string   `json:"part" jsonschema_description:"the part's name"`
	Volts   float64  `json:"volts" jsonschema_description:"V"`
	Joules  float64  `json:"joules" jsonschema_description:"J"`
	Seconds *float64 `json:"seconds" jsonschema:"nullable" jsonschema_description:"s until 60 V; null where nothing drains it"`
}

// Count is so many of so many.
type Count struct {
	States int `json:"states" jsonschema_description:"so many states"`
	Of     int `json:"of" jsonschema_description:"of so many"`
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
	if reduced := k.Result.Reduced; reduced != nil {
		out.Reduced = &Reduced{reduced.Asked, k.Result.Options.Faults, reduced.Together}
	}
	for _, piece := range k.Result.LeftOut {
		var names []string
		for _, p := range piece {
			names = append(names, p.Name)
		}
		out.LeftOut = append(out.LeftOut, names)
	}
	for _, p := range k.Result.Points {
		out.TouchPoints = append(out.TouchPoints, pointOf(p))
	}
	for i := range r.Findings {
		out.Findings = append(out.Findings, findingOf(k.Circuit, &r.Findings[i]))
	}
	for _, p := range k.Result.Between {
		out.Between = append(out.Between, Pair{[2]string{p.A.Name, p.B.Name}, worstOf(p.Normal), worstOf(p.OneFault), depth(p.Depth), depth(p.DepthAsMarked), setsOf(p.FaultSets)})
	}
	out.InShort = inShortOf(overview.Of(r))
	for _, p := range k.Circuit.Bare() {
		out.Together.Nodes = append(out.Together.Nodes, p.Name)
	}
	for _, s := range k.Result.Stored {
		out.Stored = append(out.Stored, Stored{s.Part, round(s.Volts), round(s.Joules), finite(s.Seconds)})
	}
	return out
}

func inShortOf(o *overview.Overview) []InShort {
	rows := []InShort{}
	for _, m := range o.Metals {
		row := InShort{Nodes: m.Nodes(), Signal: shortWord(phrase.Band(analysis.UnderLimit)), Off: offOf(m.Off)}
		if m.Found {
			row.Signal = shortWord(m.Signal.String())
		}
		now := offOf(m.Normal)
		row.Milliamps, row.MilliampsDC, row.State = now.Milliamps, now.MilliampsDC, now.State
		rows = append(rows, row)
	}
	return rows
}

func offOf(w *analysis.Worst) Off {
	if w == nil {
		return Off{}
	}
	return Off{rounded(w.Milliamps), rounded(w.MilliampsDC), stateOf(w.State)}
}

func pointOf(p *analysis.PointResult) Point {
	out := Point{
		Node: p.Name, Touch: touchKind(p.Touch), Guard: guardKind(p.Guard), Depth: depth(p.Depth), DepthAsMarked: depth(p.DepthAsMarked),
		Normal: worstOf(p.Normal), OneFault: worstOf(p.OneFault), FaultSets: setsOf(p.FaultSets),
	}
	return out
}

func setsOf(sets []analysis.FaultSet) []FaultSet {
	out := []FaultSet{}
	for _, s := range sets {
		out = append(out, FaultSet{s.Cost, faultsOf(s.Faults)})
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
		Rule: f.Rule.Name, Signal: signalWord(f.Signal.String()), Node: f.Node(), Nodes: some(f.Nodes), Parts: some(f.Parts),
		Path: []string{}, Message: f.Message, Figures: f.Figures, BetweenText: f.Between, Notes: some(f.Notes),
		Remedy: f.Remedy, RemedyPlan: f.RemedyPlan, Caution: f.Caution,
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
// terminal, or with the plug alone where no blade is the hot one.
func pathOf(c *analysis.Circuit, p analysis.Path) []string {
	var path []string
	if phrase.AtPlug(c.Set, p.From) {
		terminal, _ := c.Set.Plug()
		name := terminal.Name
		if blade := phrase.Blade(c.Set, p.From); blade != "" {
			name += "." + blade
		}
		path = append(path, name)
	}
	path = append(path, p.From)
	for _, s := range p.Steps {
		path = append(path, s.Part, s.To)
	}
	return path
}
