package analysis

import (
	"fmt"
	"math"
	"strings"

	"coldcheck/netlist/examples"
)

// near fails where got is further from want than that part of it, and than a millionth.
func near(t fataler, what string, got, want, part float64) {
	t.Helper()
	if !(math.Abs(got-want) <= part*math.Abs(want)+1e-6) {
		t.Fatalf("%s: got %.9g, want %.9g", what, got, want)
	}
}

// below fails where got is not under the limit.
func below(t fataler, what string, got, limit float64) {
	t.Helper()
	if !(math.Abs(got) < limit) {
		t.Fatalf("%s: got %.9g, want less than %g", what, got, limit)
	}
}

// inSet writes a set file of those parts on a plug from L to N at 120 V 60 Hz, with those touch
// points, all bare.
func inSet(parts string, touch ...string) string { return inSetAt("120 V 60 Hz", parts, touch...) }

func inSetAt(mains, parts string, touch ...string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "[set]\nname = \"a sum\"\nmains = %q\n[nodes]\n", mains)
	for _, node := range touch {
		fmt.Fprintf(&b, "%q = { touch = \"chassis\" }\n", node)
	}
	b.WriteString("[parts]\n")
	if !strings.Contains(parts, `kind = "plug"`) {
		b.WriteString("PL1 = { kind = \"plug\", hot = \"L\", neutral = \"N\" }\n")
	}
	b.WriteString(parts + "\n")
	return b.String()
}

func circuitOf(t fataler, parts string, touch ...string) *Circuit {
	t.Helper()
	return newCircuit(t, loadText(t, inSet(parts, touch...)), Bench{})
}

func exampleText(t fataler, name string) string {
	t.Helper()
	e, ok := examples.FindSet(name)
	if !ok {
		t.Fatalf("no example %s", name)
	}
	return e.Text
}

// replaced puts new for old, which must be there just once.
func replaced(t fataler, text string, pairs ...string) string {
	t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		if n := strings.Count(text, pairs[i]); n != 1 {
			t.Fatalf("%q is %d times in the text", pairs[i], n)
		}
		text = strings.Replace(text, pairs[i], pairs[i+1], 1)
	}
	return text
}

// faultOf finds a fault by its part and kind, and by its two nodes where those are given.
func faultOf(t fataler, c *Circuit, part string, kind FaultKind, nodes ...string) *Fault {
	t.Helper()
	for _, f := range c.Faults {
		if f.Part == part && f.Kind == kind && (len(nodes) == 0 || f.Nodes == [2]string{nodes[0], nodes[1]}) {
			return f
		}
	}
	t.Fatalf("no fault %s %s %v", part, kind, nodes)
	return nil
}

// on is a state of a circuit by plug way and the positions of some controls.
func on(c *Circuit, way Way, settings ...string) State {
	at := map[string]string{}
	for i := 0; i < len(settings); i += 2 {
		at[settings[i]] = settings[i+1]
	}
	return c.StateOf(way, at)
}
