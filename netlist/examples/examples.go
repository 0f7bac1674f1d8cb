package examples

import (
	"embed"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"

	"coldcheck/netlist/plan"
	"coldcheck/netlist/setfile"
)

//go:embed *.toml plans/*.toml
var files embed.FS

// Example is a file that the program brings along.
type Example struct {
	Name  string // of the file, without its ending
	Title string // the set's name, or what the plan is for
	Text  string
}

// PlanSuffix ends the name of an example plan; before it stands the name of the set that it is for.
const PlanSuffix = "-plan"

var (
	sets = sync.OnceValue(func() []Example {
		return read("*.toml", func(e Example) string {
			doc, err := setfile.Parse(e.Name, []byte(e.Text))
			if err != nil {
				return ""
			}
			name, _ := doc.Header.Get("name")
			title, _ := name.Value.Data.(string)
			return title
		})
	})
	plans = sync.OnceValue(func() []Example {
		return read("plans/*.toml", func(e Example) string {
			p, err := plan.Parse(e.Name, []byte(e.Text))
			if err != nil {
				return ""
			}
			return p.Name
		})
	})
)

// read reads the files of a pattern, sorted by name. A test sees to it that each has a title.
func read(pattern string, title func(Example) string) []Example {
	names, err := fs.Glob(files, pattern)
	if err != nil {
		return nil
	}
	var list []Example
	for _, name := range names {
		data, err := files.ReadFile(name)
		if err != nil {
			continue
		}
		e := Example{Name: strings.TrimSuffix(path.Base(name), ".toml"), Text: string(data)}
		e.Title = title(e)
		list = append(list, e)
	}
	slices.SortFunc(list, func(a, b Example) int { return strings.Compare(a.Name, b.Name) })
	return list
}

// Sets returns the example set files, sorted by name.
func Sets() []Example { return slices.Clone(sets()) }

// Plans returns the example plans, sorted by name: NAME-plan is for the example set NAME.
func Plans() []Example { return slices.Clone(plans()) }

// FindSet returns the example set file of that name; the ending .toml may be written.
func FindSet(name string) (Example, bool) { return find(sets(), name) }

// FindPlan returns the example plan of that name; the ending .toml may be written.
func FindPlan(name string) (Example, bool) { return find(plans(), name) }

func find(list []Example, name string) (Example, bool) {
	name = strings.TrimSuffix(name, ".toml")
	for _, e := range list {
		if e.Name == name {
			return e, true
		}
	}
	return Example{}, false
}
