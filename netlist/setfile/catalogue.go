package setfile

import (
	_ "embed"
	"maps"
	"slices"
	"strings"
	"sync"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/tomltext"
	"coldcheck/netlist/internal/words"
)

//go:embed tubes.toml
var tubesTOML string

// catalogue is the index of the embedded tube types. A set names a handful of them, so that each
// is read when it is first asked for. A type that the format refuses is left out here, and told by
// a test.
var catalogue = sync.OnceValue(func() *tubeIndex {
	sections := catalogueSections()
	entries := make(map[string]*tubeEntry, len(sections))
	for name, text := range sections {
		entries[name] = &tubeEntry{name: name, also: func() []string { return sectionAlso(text) }, read: sync.OnceValue(func() *netlist.TubeType {
			types, _ := readTypes([]byte(text))
			if len(types) != 1 {
				return nil
			}
			return types[0]
		})}
	}
	return &tubeIndex{byName: entries}
})

// sectionHeader begins a type's section of tubes.toml: a line by itself, with the name in quotes.
const sectionHeader = `[tube_types."`

// catalogueSections cuts the embedded table into the texts of its types, by name.
func catalogueSections() map[string]string {
	sections := map[string]string{}
	text := tubesTOML
	for start := strings.Index(text, "\n"+sectionHeader); start >= 0; {
		text = text[start+1:]
		name, _, _ := strings.Cut(text[len(sectionHeader):], `"`)
		start = strings.Index(text, "\n"+sectionHeader)
		section := text
		if start >= 0 {
			section = text[:start+1]
		}
		sections[name] = section
	}
	return sections
}

// sectionAlso finds the other names of a type in its section, without reading the rest of it: they stand in
// a line that begins with the key, each in quotes.
func sectionAlso(section string) []string {
	_, rest, found := strings.Cut(section, "\nalso ")
	if !found {
		return nil
	}
	line, _, _ := strings.Cut(rest, "\n")
	var names []string
	for i, quoted := range strings.Split(line, `"`) {
		if i%2 == 1 {
			names = append(names, quoted)
		}
	}
	return names
}

// readTypes reads tube types as tubes.toml has them and says what is wrong with them.
func readTypes(data []byte) ([]*netlist.TubeType, netlist.Problems) {
	p := tomltext.Parse("tubes.toml", data)
	if p.Root == nil {
		return nil, p.Problems
	}
	b := &builder{doc: &netlist.Document{File: "tubes.toml"}, set: &netlist.Set{}, problemList: problemList{problems: p.Problems}, start: netlist.Pos{File: "tubes.toml", Line: 1, Col: 1}}
	var types []*netlist.TubeType
	for _, e := range p.Root.Entries {
		t, ok := e.Value.Data.(*netlist.Table)
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
func Catalogue() []*netlist.TubeType {
	ix := catalogue()
	var types []*netlist.TubeType
	for _, name := range ix.names() {
		if t := ix.byName[name].read(); t != nil {
			types = append(types, t)
		}
	}
	return types
}

// FindTubeType returns the catalogue's type of that name; a suffix may be left out or added where
// only one type fits. It returns nil where none fits or several do, and then the names that do.
func FindTubeType(name string) (*netlist.TubeType, []string) { return catalogue().find(name) }

// NearestTubeType returns the name in the catalogue that is nearest to a name, "" where none is.
func NearestTubeType(name string) string { return words.Nearest(name, catalogue().names()) }

// tubeEntry is a type's name and how to come by the type.
type tubeEntry struct {
	name     string
	fromFile bool
	also     func() []string
	read     func() *netlist.TubeType
}

// tubeIndex finds tube types by their names.
type tubeIndex struct {
	byName  map[string]*tubeEntry      // as the table writes it; of a file's own types by their other names too
	once    sync.Once                  // fills in what follows, for a name that is not written so
	byPlain map[string]*tubeEntry      // without blanks and hyphens, in capitals; by other names too
	byBase  [2]map[string][]*tubeEntry // without suffix, every name that it is known by; then by its other names
}

// byOtherNames fills in what a name that the table does not write so is looked up in.
func (ix *tubeIndex) byOtherNames() {
	ix.byPlain = map[string]*tubeEntry{}
	ix.byBase = [2]map[string][]*tubeEntry{{}, {}}
	add := func(e *tubeEntry, name string, rank int) {
		plain := plainTubeName(name)
		if ix.byPlain[plain] == nil || e.fromFile && !ix.byPlain[plain].fromFile {
			ix.byPlain[plain] = e
		}
		for _, base := range tubeBases(name) {
			ix.byBase[rank][base] = append(ix.byBase[rank][base], e)
		}
	}
	names := ix.names()
	for _, name := range names {
		add(ix.byName[name], name, 0)
	}
	for _, name := range names {
		for _, other := range ix.byName[name].also() {
			add(ix.byName[name], other, 1)
		}
	}
}

// find returns the type of that name, or the only one that fits but for its suffix. Where several
// fit it returns their names instead.
func (ix *tubeIndex) find(name string) (*netlist.TubeType, []string) {
	if e := ix.byName[name]; e != nil {
		return e.read(), nil
	}
	ix.once.Do(ix.byOtherNames)
	if e := ix.byPlain[plainTubeName(name)]; e != nil {
		return e.read(), nil
	}
	for _, byBase := range ix.byBase {
		if fits := fitting(byBase, name); len(fits) == 1 {
			return fits[0].read(), nil
		} else if len(fits) > 1 {
			names := make([]string, len(fits))
			for i, e := range fits {
				names[i] = e.name
			}
			return nil, names
		}
	}
	return nil, nil
}

// fitting are the types that a name may mean but for its suffix, a file's own before the catalogue's.
func fitting(byBase map[string][]*tubeEntry, name string) []*tubeEntry {
	var fits []*tubeEntry
	for _, base := range tubeBases(name) {
		for _, e := range byBase[base] {
			if !slices.Contains(fits, e) {
				fits = append(fits, e)
			}
		}
	}
	if own := slices.DeleteFunc(slices.Clone(fits), func(e *tubeEntry) bool { return !e.fromFile }); len(own) > 0 {
		return own
	}
	return fits
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
var tubeSuffix = words.Pattern(`^(.*[0-9])(GT/G|G/GT|GTX?[A-F]?|GA|GB|GC|GY|MG|WA|WB|WGT|[A-FGMSWXY])$`)

// tubeBases are the names of a tube without suffix; "39/44" is known by both its halves.
func tubeBases(name string) []string {
	plain := plainTubeName(name)
	bare := func(s string) string {
		if m := tubeSuffix().FindStringSubmatch(s); m != nil {
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

//go:embed lamps.toml
var lampsTOML []byte

// dialLamp is what a lamp's number says: what it is rated for, in volts and amperes.
type dialLamp struct{ volts, amps float64 }

// dialLamps are the lamps that the program knows, by number.
var dialLamps = sync.OnceValue(func() map[string]dialLamp {
	lamps := map[string]dialLamp{}
	root := tomltext.Parse("lamps.toml", lampsTOML).Root
	all, _ := root.Get("lamps")
	t, _ := all.Value.Data.(*netlist.Table)
	for _, e := range t.Entries {
		lamp, _ := e.Value.Data.(*netlist.Table)
		volts, _ := lamp.Get("volts")
		amps, _ := lamp.Get("amps")
		v, _ := volts.Value.Data.(float64)
		a, _ := amps.Value.Data.(float64)
		lamps[e.Key] = dialLamp{v, a}
	}
	return lamps
})
