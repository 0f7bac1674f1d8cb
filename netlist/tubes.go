package netlist

import (
	_ "embed"
	"maps"
	"regexp"
	"slices"
	"strings"
	"sync"
)

//go:embed tubes.toml
var tubesTOML []byte

// catalogue reads the embedded tube types once. A type that the format refuses is left out here,
// and told by a test.
var catalogue = sync.OnceValue(func() *tubeIndex {
	types, _ := readCatalogue()
	return indexTubes(types)
})

// readCatalogue reads the embedded tube types and says what is wrong with them.
func readCatalogue() ([]*TubeType, Problems) {
	p := parseTable("tubes.toml", tubesTOML)
	if p.root == nil {
		return nil, p.problems
	}
	b := &builder{doc: &Document{File: "tubes.toml"}, set: &Set{}, problemList: problemList{problems: p.problems}, start: Pos{"tubes.toml", 1, 1}}
	var types []*TubeType
	for _, e := range p.root.Entries {
		t, ok := e.Value.Data.(*Table)
		if e.Key != "tube_types" || !ok {
			b.addf(e.Pos, "only [tube_types] belongs here")
			continue
		}
		for _, typed := range t.Entries {
			if tt := b.tubeType(typed); tt != nil {
				types = append(types, tt)
			}
		}
	}
	for _, n := range b.set.Notices {
		b.addf(n.Pos, "%s", n.Text)
	}
	return types, b.problems
}

// Catalogue returns the tube types that the program knows, sorted by name.
func Catalogue() []*TubeType {
	types := slices.Collect(maps.Values(catalogue().byName))
	slices.SortFunc(types, func(a, b *TubeType) int { return strings.Compare(a.Name, b.Name) })
	return types
}

// FindTubeType returns the catalogue's type of that name; a suffix may be left out or added where
// only one type fits. It returns nil where none fits or several do, and then the names that do.
func FindTubeType(name string) (*TubeType, []string) { return catalogue().find(name) }

// NearestTubeType returns the name in the catalogue that is nearest to a name, "" where none is.
func NearestTubeType(name string) string { return nearest(name, catalogue().names()) }

// tubeIndex finds tube types by their names.
type tubeIndex struct {
	byName  map[string]*TubeType   // as the table writes it
	byPlain map[string]*TubeType   // without blanks and hyphens, in capitals
	byBase  map[string][]*TubeType // without suffix, every name that it is known by
}

func indexTubes(types []*TubeType) *tubeIndex {
	ix := &tubeIndex{byName: map[string]*TubeType{}, byPlain: map[string]*TubeType{}, byBase: map[string][]*TubeType{}}
	for _, t := range types {
		ix.byName[t.Name] = t
	}
	for _, name := range slices.Sorted(maps.Keys(ix.byName)) {
		t := ix.byName[name]
		if plain := plainTubeName(name); ix.byPlain[plain] == nil || t.FromFile {
			ix.byPlain[plain] = t
		}
		for _, base := range tubeBases(name) {
			ix.byBase[base] = append(ix.byBase[base], t)
		}
	}
	return ix
}

// find returns the type of that name, or the only one that fits but for its suffix. Where several
// fit it returns their names instead.
func (ix *tubeIndex) find(name string) (*TubeType, []string) {
	if t := ix.byName[name]; t != nil {
		return t, nil
	}
	if t := ix.byPlain[plainTubeName(name)]; t != nil {
		return t, nil
	}
	var fits []*TubeType
	for _, base := range tubeBases(name) {
		for _, t := range ix.byBase[base] {
			if !slices.Contains(fits, t) {
				fits = append(fits, t)
			}
		}
	}
	if own := slices.DeleteFunc(slices.Clone(fits), func(t *TubeType) bool { return !t.FromFile }); len(own) > 0 {
		fits = own // a file's own types come before the catalogue's
	}
	if len(fits) == 1 {
		return fits[0], nil
	}
	names := make([]string, len(fits))
	for i, t := range fits {
		names[i] = t.Name
	}
	return nil, names
}

// names returns the names of all types, sorted.
func (ix *tubeIndex) names() []string { return slices.Sorted(maps.Keys(ix.byName)) }

// plainTubeName takes out what is written now so and now otherwise: letter case, blanks, hyphens.
func plainTubeName(name string) string {
	return strings.Map(func(r rune) rune {
		if r == ' ' || r == '-' {
			return -1
		}
		return r
	}, strings.ToUpper(strings.TrimSpace(name)))
}

// tubeSuffix is what a maker adds behind the figure: G and GT are the glass of it, A to F its
// version, M the metal of it, W and Y its ruggedness.
var tubeSuffix = regexp.MustCompile(`^(.*[0-9])(GT/G|G/GT|GTX?[A-F]?|GA|GB|GC|GY|MG|WA|WB|WGT|[A-FGMSWXY])$`)

// tubeBases are the names of a tube without suffix; "39/44" is known by both its halves.
func tubeBases(name string) []string {
	plain := plainTubeName(name)
	bare := func(s string) string {
		if m := tubeSuffix.FindStringSubmatch(s); m != nil {
			return m[1]
		}
		return s
	}
	bases := []string{bare(plain)}
	if bases[0] == plain && strings.Contains(plain, "/") {
		for half := range strings.SplitSeq(plain, "/") {
			if b := bare(half); b != "" && !slices.Contains(bases, b) {
				bases = append(bases, b)
			}
		}
	}
	return bases
}
