package jsonout

import (
	"coldcheck/analysis"
	"coldcheck/netlist/plan"
	"coldcheck/rules"
	"coldcheck/rules/rework"
)

// Rework is what a change of a set does.
type Rework struct {
	Format int   `json:"format"`
	Set    Set   `json:"set"`
	After  Set   `json:"after"`
	Plan   *Plan `json:"plan"` // null where two sets are compared
	// Cured, Left and New are findings with the step that did it.
	Cured       []ReworkFinding `json:"cured"`
	Left        []ReworkFinding `json:"left"`
	New         []ReworkFinding `json:"new"`
	Searched    int             `json:"searched"` // at once, of the set as it will be
	TouchPoints []PointChange   `json:"touch_points"`
	Stages      []Stage         `json:"stages"`
	// UnlookedFrom is the step from which on the stages on the way were not looked at, 0 where all were.
	UnlookedFrom int `json:"unlooked_from,omitempty"`
}

// Plan is a plan as carried out.
type Plan struct {
	Name  string     `json:"name"`
	File  string     `json:"file"`
	Steps []PlanStep `json:"steps"`
}

// PlanStep is a step in words.
type PlanStep struct {
	Step int    `json:"step"`
	Do   string `json:"do"`
	Text string `json:"text"`
	Why  string `json:"why,omitempty"`
}

// ReworkFinding is a finding and the step that cured or brought it: null where none is known. From is
// another number than Step where the steps from one to the other did it together.
type ReworkFinding struct {
	Finding
	Was  string `json:"was"`
	From *int   `json:"from_step"`
	Step *int   `json:"step"`
}

// PointChange is a touch point before and after, null where it is none then.
type PointChange struct {
	Node   string `json:"node"`
	Before *Point `json:"before"`
	After  *Point `json:"after"`
}

// Stage is what stands after so many steps. Whole is false where the parts are no set then, and Why
// says why; CordOff tells that a blade of the plug leads nowhere. Findings are those of WARNING and
// more, Passing those of them that stand on the way alone, each with the step that ends it.
type Stage struct {
	Step     int            `json:"step"`
	Whole    bool           `json:"whole"`
	Why      []string       `json:"why"`
	CordOff  bool           `json:"cord_off"`
	Findings []StageFinding `json:"findings"`
	Passing  []Passing      `json:"passing"`
}

// StageFinding is a finding of the way in short.
type StageFinding struct {
	Rule    string   `json:"rule"`
	Signal  string   `json:"signal"`
	Nodes   []string `json:"nodes"`
	Parts   []string `json:"parts"`
	Message string   `json:"message"`
}

// Passing is a hazard of the way.
type Passing struct {
	Finding
	Until int `json:"until_step"`
}

// OfRework puts a comparison into the shape of its JSON.
func OfRework(c *rework.Comparison) *Rework {
	before, after := c.Before.Case.Circuit, c.After.Case.Circuit
	out := &Rework{
		Format: Format, Set: setOf(before, ""), After: setOf(after, ""), TouchPoints: []PointChange{}, Stages: []Stage{},
		Cured: itemsOf(before, c.Cured), Left: itemsOf(after, c.Left), New: itemsOf(after, c.New),
		Searched: c.After.Case.Result.Options.Faults, UnlookedFrom: c.Unlooked,
	}
	if c.Plan != nil {
		out.Plan = planOf(c.Plan)
	}
	for _, p := range c.Points {
		change := PointChange{Node: p.Node}
		if p.Before != nil {
			point := pointOf(p.Before)
			change.Before = &point
		}
		if p.After != nil {
			point := pointOf(p.After)
			change.After = &point
		}
		out.TouchPoints = append(out.TouchPoints, change)
	}
	for _, s := range c.Stages {
		stage := Stage{Step: s.Step, Whole: s.Report != nil, Why: []string{}, CordOff: s.CordOff(),
			Findings: []StageFinding{}, Passing: []Passing{}}
		for _, why := range s.Why {
			stage.Why = append(stage.Why, why.Text)
		}
		if s.Report != nil {
			circuit := s.Report.Case.Circuit
			for _, f := range s.Report.Findings {
				if f.Signal >= rules.Warning {
					stage.Findings = append(stage.Findings, StageFinding{f.Rule.Name, f.Signal.String(), some(f.Nodes), some(f.Parts), f.Message})
				}
			}
			for i := range s.Passing {
				stage.Passing = append(stage.Passing, Passing{findingOf(circuit, &s.Passing[i].Finding), s.Passing[i].Until})
			}
		}
		out.Stages = append(out.Stages, stage)
	}
	return out
}

func planOf(p *plan.Plan) *Plan {
	out := &Plan{Name: p.Name, File: p.File, Steps: []PlanStep{}}
	for i := range p.Steps {
		s := &p.Steps[i]
		out.Steps = append(out.Steps, PlanStep{s.Number, s.Do, s.String(), s.Why})
	}
	return out
}

func itemsOf(c *analysis.Circuit, items []rework.Item) []ReworkFinding {
	out := []ReworkFinding{}
	for i := range items {
		f := ReworkFinding{Finding: findingOf(c, &items[i].Finding), Was: items[i].Was.String()}
		if items[i].Step > 0 {
			f.From, f.Step = &items[i].From, &items[i].Step
		}
		out = append(out, f)
	}
	return out
}
