package examples

import (
	"embed"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"

	"coldcheck/netlist/plan"
)

//go:embed plans/*.toml
var examplePlanFiles embed.FS

var examplePlans = sync.OnceValue(func() []Example {
	names, err := fs.Glob(examplePlanFiles, "plans/*.toml")
	if err != nil {
		return nil
	}
	slices.Sort(names)
	var list []Example
	for _, name := range names {
		data, err := examplePlanFiles.ReadFile(name)
		if err != nil {
			continue
		}
		e := Example{Name: strings.TrimSuffix(path.Base(name), ".toml"), Text: string(data)}
		if plan, err := plan.Parse(e.Name, data); err == nil {
			e.Title = plan.Name
		}
		list = append(list, e)
	}
	return list
})

// PlanSuffix ends the name of an example plan; before it stands the name of the set that it is for.
const PlanSuffix = "-plan"

// ExamplePlans returns the example plans, sorted by name: NAME-plan is for the example set NAME.
func Plans() []Example { return slices.Clone(examplePlans()) }

// FindExamplePlan returns the example plan of that name; the ending .toml may be written.
func FindPlan(name string) (Example, bool) {
	name = strings.TrimSuffix(name, ".toml")
	for _, e := range examplePlans() {
		if e.Name == name {
			return e, true
		}
	}
	return Example{}, false
}
