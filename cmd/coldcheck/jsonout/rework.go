package jsonout

import (
	"coldcheck/analysis"
	"coldcheck/netlist/plan"
	"coldcheck/rules"
	"coldcheck/rules/rework"
)

// Rework is what a change of a set does.
type Rework struct {
	Format version `json:"format" jsonschema_description:"the version of this JSON"`
	Set    Set     `json:"set" jsonschema_description:"the set that was looked at, and the bench"`
	After  Set     `json:"after" jsonschema_description:"the set as it will be"`
	Plan   *Plan   `json:"plan" jsonschema:"nullable" jsonschema_description:"the plan; null where two sets are compared"`
	// Cured, Left and New are findings with the step that did it.
	Cured       []ReworkFinding `json:"cured" jsonschema_description:"findings that are gone"`
	Left        []ReworkFinding `json:"left" jsonschema_description:"findings that stay"`
	New         []ReworkFinding `json:"new" jsonschema_description:"findings that come"`
	Searched    int             `json:"searched" jsonschema_description:"up to how many safeguards failing at once the set as it will be was looked at"`
	TouchPoints []PointChange   `json:"touch_points" jsonschema_description:"every touch point before and after"`
	Stages      []Stage         `json:"stages" jsonschema_description:"what stands after each step"`
	// UnlookedFrom is the step from which on the stages on the way were not looked at, 0 where all were.
	UnlookedFrom int `json:"unlooked_from,omitempty" jsonschema_description:"there where the set is too large to look at every stage: what stands after this step and each later one but the last was not looked at, so do not plug in between"`
}

// Plan is a plan as carried out.
type Plan struct {
	Name  string     `json:"name" jsonschema_description:"what the plan is for"`
	File  string     `json:"file" jsonschema_description:"the file that was read, - for standard input"`
	Steps []PlanStep `json:"steps" jsonschema_description:"the steps in their order"`
}

// PlanStep is a step in words.
type PlanStep struct {
	Step int    `json:"step" jsonschema_description:"the number of the step; of a finding null where none is known"`
	Do   string `json:"do" jsonschema_description:"what is done"`
	Text string `json:"text" jsonschema_description:"in words"`
	Why  string `json:"why,omitempty" jsonschema_description:"why it is done"`
}

// ReworkFinding is a finding and the step that cured or brought it: null where none is known. From is
// another number than Step where the steps from one to the other did it together.
type ReworkFinding struct {
	Finding
	Was  signalWord `json:"was" jsonschema_description:"the signal word that it had before"`
	From *int       `json:"from_step" jsonschema:"nullable" jsonschema_description:"the first of the steps that did it together"`
	Step *int       `json:"step" jsonschema:"nullable" jsonschema_description:"the number of the step; of a finding null where none is known"`
}

// PointChange is a touch point before and after, null where it is none then.
type PointChange struct {
	Node   string `json:"node" jsonschema_description:"the node's name"`
	Before *Point `json:"before" jsonschema:"nullable" jsonschema_description:"as it was; null where it was none"`
	After  *Point `json:"after" jsonschema:"nullable" jsonschema_description:"as it will be; null where it will be none"`
}

// Stage is what stands after so many steps. Whole is false where the parts are no set then, and Why
// says why; CordOff tells that a blade of the plug leads nowhere. Findings are those of WARNING and
// more, Passing those of them that stand on the way alone, each with the step that ends it.
type Stage struct {
	Step     int            `json:"step" jsonschema_description:"the number of the step; of a finding null where none is known"`
	Whole    bool           `json:"whole" jsonschema_description:"the parts are a set then"`
	Why      []string       `json:"why" jsonschema_description:"why the parts are no set then"`
	CordOff  bool           `json:"cord_off" jsonschema_description:"a blade of the plug leads nowhere"`
	Findings []StageFinding `json:"findings" jsonschema_description:"what was found, strongest first"`
	Passing  []Passing      `json:"passing" jsonschema_description:"findings of the way alone"`
}

// StageFinding is a finding of the way in short.
type StageFinding struct {
	Rule    string     `json:"rule" jsonschema_description:"the rule that found it"`
	Signal  signalWord `json:"signal" jsonschema_description:"signal word of ANSI Z535 and ISO 3864"`
	Nodes   []string   `json:"nodes" jsonschema_description:"the nodes that it speaks of, the foremost first"`
	Parts   []string   `json:"parts" jsonschema_description:"the parts that it speaks of"`
	Message string     `json:"message" jsonschema_description:"what, and where"`
}

// Passing is a hazard of the way.
type Passing struct {
	Finding
	Until int `json:"until_step" jsonschema_description:"the step that ends it"`
}

// OfRework puts a comparison into the shape of its JSON.
func OfRework(c *rework.Comparison) *Rework {
	before, after := c.Before.Case.Circuit, c.After.Case.Circuit
	out := &Rework{
		Format: Format, Set: setOf(before, ""), After: setOf(after, ""), TouchPoints: []PointChange{}, Stages: []Stage{},
		Cured: itemsOf(before, c.Cured), Left: itemsOf(after, c.Left), New: itemsOf(after, c.New),
		Searched: c.After.Case.Result.Options.Faults, UnlookedFrom: c.Unexamined,
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
					stage.Findings = append(stage.Findings, StageFinding{f.Rule.Name, signalWord(f.Signal.String()), some(f.Nodes), some(f.Parts), f.Message})
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
		f := ReworkFinding{Finding: findingOf(c, &items[i].Finding), Was: signalWord(items[i].Was.String())}
		if items[i].Step > 0 {
			f.From, f.Step = &items[i].From, &items[i].Step
		}
		out = append(out, f)
	}
	return out
}
