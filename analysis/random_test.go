package analysis

import (
	goflag "flag"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/netlist"
	"coldcheck/netlist/setfile"
)

// randomSet is a set that was drawn at random, before it is written out as a file. Nodes stand in
// the parts' text as ‹name›, so that a law can rename them.
type randomSet struct {
	mains  string
	points []randomPoint
	parts  []randomPart
}

type randomPoint struct{ name, keys string }

type randomPart struct{ name, kind, keys string }

// ownTubes are types that no catalogue has: two cathodes without a rectifier, and a tap counted
// from the second heater pin.
const ownTubes = `
[tube_types."12TWIN"]
heater = { pins = [4, 5], volts = 12.6, amps = 0.15, tap = { pin = 9, volts = 5.0, from = 5 } }
cathodes = [3, 8]
elements = { 1 = "plate 2", 3 = "cathode 2", 6 = "plate 1", 8 = "cathode 1" }
`

func (r *randomSet) text() string { return r.textWith(func(name string) string { return name }) }

// textWith writes the set file with every node but the building's earth called by another name.
func (r *randomSet) textWith(rename func(string) string) string {
	call := func(name string) string {
		if name != netlist.BuildingEarth {
			name = rename(name)
		}
		return strconv.Quote(name)
	}
	var b strings.Builder
	fmt.Fprintf(&b, "[set]\nname = \"drawn at random\"\nmains = %q\n\n[nodes]\n", r.mains)
	for _, p := range r.points {
		fmt.Fprintf(&b, "%s = { %s }\n", call(p.name), p.keys)
	}
	b.WriteString("\n[parts]\n")
	for _, p := range r.parts {
		keys := p.keys
		for {
			before, rest, found := strings.Cut(keys, "‹")
			if !found {
				break
			}
			name, after, _ := strings.Cut(rest, "›")
			keys = before + call(name) + after
		}
		fmt.Fprintf(&b, "%s = { kind = %q, %s }\n", p.name, p.kind, keys)
	}
	b.WriteString(ownTubes)
	return b.String()
}

// fataler is what *testing.T, *testing.B and *rapid.T have in common.
type fataler interface {
	Helper()
	Fatalf(format string, args ...any)
}

func loadText(t fataler, text string) *netlist.Set {
	t.Helper()
	set, err := setfile.Load("set.toml", strings.NewReader(text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return set
}

func newCircuit(t fataler, set *netlist.Set, bench Bench) *Circuit {
	t.Helper()
	c, err := New(set, bench)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return c
}

// limits bound a random set.
type limits struct {
	parts    [2]int // besides the plug
	controls int
	sections int  // rectifying ones
	failed   bool // parts in condition failed may be among them
}

// drawer draws the parts of one set.
type drawer struct {
	t        *rapid.T
	limits   limits
	pool     []string // all nodes
	touch    []string
	controls int
	sections int
	doubtful int
}

func (d *drawer) n(limit int) int { return rapid.IntRange(0, limit-1).Draw(d.t, "n") }

func (d *drawer) percent(p int) bool { return d.n(100) >= 100-p }

func oneOf[T any](d *drawer, list ...T) T { return list[d.n(len(list))] }

// nodes draws that many different nodes.
func (d *drawer) nodes(count int) []string {
	rest := slices.Clone(d.pool)
	var picked []string
	for range count {
		k := d.n(len(rest))
		picked = append(picked, rest[k])
		rest = slices.Delete(rest, k, k+1)
	}
	return picked
}

func (d *drawer) node() string { return d.nodes(1)[0] }

func list(nodes ...string) string {
	var b strings.Builder
	for i, n := range nodes {
		if i > 0 {
			b.WriteString(", ")
		}
		if n == "" {
			b.WriteString(`""`)
		} else {
			b.WriteString("‹" + n + "›")
		}
	}
	return "[" + b.String() + "]"
}

func (d *drawer) plug() randomPart {
	p := randomPart{name: "PL1", kind: "plug", keys: "hot = ‹line 1›, neutral = ‹line 2›"}
	switch d.n(5) {
	case 1:
		p.keys = "ends = [‹line 1›, ‹line 2›]"
	case 2, 3:
		p.keys += `, style = "polarized"`
	case 4:
		earth := oneOf(d, d.touch...)
		p.keys += `, style = "grounding", earth = ‹` + earth + `›`
	}
	return p
}

// drawSet draws a valid set. Its wiring is random, so it is seldom a sensible one.
func drawSet(t *rapid.T, l limits) *randomSet {
	d := &drawer{t: t, limits: l}
	d.touch = []string{"chassis", "shaft", "aerial"}[:2+d.n(2)]
	inner := []string{"B-", "B+", "h1", "mid point", "ΔX", "grid"}[:2+d.n(5)]
	d.pool = slices.Concat([]string{"line 1", "line 2"}, d.touch, inner)
	if d.percent(25) {
		d.pool = append(d.pool, netlist.BuildingEarth)
	}
	r := &randomSet{mains: oneOf(d, "120 V 60 Hz", "220 V 50 Hz", "117 V 60 Hz"), parts: []randomPart{d.plug()}}
	for k := range l.parts[0] + d.n(l.parts[1]-l.parts[0]+1) {
		kind := d.kind()
		if (kind == "switch" || kind == "selector") && d.controls >= l.controls || kind == "rectifier" && d.sections >= l.sections ||
			kind == "selector" && len(d.pool) < 6 {
			kind = "resistor"
		}
		r.parts = append(r.parts, randomPart{fmt.Sprintf("%c%d", kind[0]-'a'+'A', k+1), kind, d.extras(d.keys(kind))})
	}
	for k, node := range d.touch {
		if !slices.ContainsFunc(r.parts, func(p randomPart) bool { return strings.Contains(p.keys, "‹"+node+"›") }) {
			r.parts = append(r.parts, randomPart{fmt.Sprintf("CX%d", k), "capacitor",
				fmt.Sprintf("ends = [‹%s›, ‹%s›], value = \"0.1 uF\", type = \"film\"", oneOf(d, "line 1", "line 2"), node)})
		}
		keys := fmt.Sprintf("touch = %q", []string{"chassis", "control", "antenna"}[k])
		if d.percent(30) {
			keys += fmt.Sprintf(", guard = %q", oneOf(d, "cabinet", "knob"))
			if d.percent(30) {
				keys += `, guard_condition = "suspect"`
			}
		}
		r.points = append(r.points, randomPoint{node, keys})
	}
	return r
}

func drawBench(t *rapid.T, set *netlist.Set) Bench {
	d := &drawer{t: t}
	var b Bench
	switch d.n(5) {
	case 3:
		b.Isolated = true
	case 4:
		b.Isolated = d.percent(60)
		b.Earthed = []string{oneOf(d, set.Nodes...).Name}
	}
	return b
}

// TestRandomSetsReachEveryKind proves that the sets that the properties are held on have every kind
// of part, every style of plug, every condition, guards, frames and each sort of selector.
func TestRandomSetsReachEveryKind(t *testing.T) {
	missing := map[string]bool{}
	for _, k := range kindWeights {
		missing[fmt.Sprintf("kind = %q", k.kind)] = true
	}
	for _, word := range []string{`"grounding"`, `"polarized"`, "ends = [\"line 1\", \"line 2\"]", `"failed"`, `"suspect"`, `"paper"`, "guard =",
		"guard_condition", "frame =", "decks", "fixed", "poles", "measured", "wiper", "leakage", netlist.BuildingEarth, `"X1/Y1"`, `"6X5GT"`} {
		missing[word] = true
	}
	for seed := 0; len(missing) > 0 && seed < 3000; seed++ {
		text := rapid.Custom(func(t *rapid.T) string { return drawSet(t, limits{[2]int{8, 16}, 2, 2, true}).text() }).Example(seed)
		for word := range missing {
			if strings.Contains(text, word) {
				delete(missing, word)
			}
		}
	}
	for word := range missing {
		t.Errorf("no random set has %s", word)
	}
}

// checkTimes runs a property that many times instead of a hundred.
func checkTimes(t *testing.T, times int, property func(*rapid.T)) {
	t.Helper()
	checks := goflag.Lookup("rapid.checks").Value
	old := checks.String()
	if old != "100" {
		rapid.Check(t, property)
		return
	}
	if err := checks.Set(strconv.Itoa(times)); err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := checks.Set(old); err != nil {
			t.Fatal(err)
		}
	}()
	rapid.Check(t, property)
}
