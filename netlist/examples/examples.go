package examples

import (
	"embed"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"

	"coldcheck/netlist/setfile"
)

//go:embed *.toml
var exampleFiles embed.FS

// Example is a set file that the program brings along.
type Example struct {
	Name  string // of the file, without its ending
	Title string // the set's name
	Text  string
}

var examples = sync.OnceValue(func() []Example {
	names, err := fs.Glob(exampleFiles, "*.toml")
	if err != nil {
		return nil
	}
	var list []Example
	for _, name := range names {
		data, err := exampleFiles.ReadFile(name)
		if err != nil {
			continue
		}
		e := Example{Name: strings.TrimSuffix(path.Base(name), ".toml"), Text: string(data)}
		if doc, _, _ := setfile.ParseDocument(e.Name, data); doc != nil {
			title, _ := doc.Header.Get("name")
			e.Title, _ = title.Value.Data.(string)
		}
		list = append(list, e)
	}
	slices.SortFunc(list, func(a, b Example) int { return strings.Compare(a.Name, b.Name) })
	return list
})

// Examples returns the example set files, sorted by name.
func Sets() []Example { return slices.Clone(examples()) }

// FindExample returns the example of that name; the ending .toml may be written.
func FindSet(name string) (Example, bool) {
	name = strings.TrimSuffix(name, ".toml")
	for _, e := range examples() {
		if e.Name == name {
			return e, true
		}
	}
	return Example{}, false
}
