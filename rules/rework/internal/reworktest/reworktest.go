// Package reworktest holds what the tests of rework and its search have in common.
package reworktest

import (
	"fmt"
	"strings"
	"testing"

	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/netlist/setfile"
	"coldcheck/rules"
)

// Load reads a set.
func Load(t testing.TB, text string) *netlist.Set {
	t.Helper()
	set, err := setfile.Load("set.toml", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return set
}

// Plan reads a plan.
func Plan(t testing.TB, text string) *plan.Plan {
	t.Helper()
	p, err := plan.Parse("plan.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Names tell findings apart.
func Names(findings []rules.Finding) []string {
	var names []string
	for _, f := range findings {
		names = append(names, fmt.Sprintf("%s %s %q %q", f.Signal, f.Rule.Name, f.Nodes, f.Parts))
	}
	return names
}

// Floating is a set whose chassis hangs on B-minus by one plain capacitor.
const Floating = `[set]
name = "Floating"
[nodes]
chassis = { touch = "chassis" }
[parts]
PL1 = { kind = "plug", style = "polarized", hot = "line 1", neutral = "B-" }
F1 = { kind = "fuse", ends = ["line 1", "fused"], amps = 0.5 }
S1 = { kind = "switch", ends = ["fused", "on"] }
R1 = { kind = "resistor", ends = ["on", "B-"], value = 800, watts = 25 }
C1 = { kind = "capacitor", ends = ["B-", "chassis"], value = "0.1 uF", rating = "600 V", type = "film" }
`

// SwitchedLoads is a set of n switches with a load behind each: 2 to the power of n positions.
func SwitchedLoads(n int) string {
	var b strings.Builder
	b.WriteString("[set]\nname = \"Switches\"\n[nodes]\nchassis = { touch = \"chassis\" }\n[parts]\n" +
		"PL1 = { kind = \"plug\", hot = \"L\", neutral = \"N\" }\n" +
		"C1 = { kind = \"capacitor\", ends = [\"N\", \"chassis\"], value = \"0.1 uF\", type = \"paper\" }\n")
	for i := range n {
		fmt.Fprintf(&b, "S%d = { kind = \"switch\", ends = [\"L\", \"s%d\"] }\nQ%d = { kind = \"resistor\", ends = [\"s%d\", \"N\"], value = 1000 }\n", i, i, i, i)
	}
	return b.String()
}

// Rectifiers is a set of n rectifiers that all charge the chassis.
func Rectifiers(n int) string {
	var b strings.Builder
	b.WriteString("[set]\nname = \"Rectifiers\"\n[nodes]\nchassis = { touch = \"chassis\" }\n[parts]\nPL1 = { kind = \"plug\", hot = \"L\", neutral = \"N\" }\n")
	for i := range n {
		fmt.Fprintf(&b, "D%d = { kind = \"rectifier\", anode = \"L\", cathode = \"d%d\", type = \"silicon\" }\n", i, i)
		fmt.Fprintf(&b, "E%d = { kind = \"capacitor\", ends = [\"d%d\", \"N\"], value = \"10 uF\", type = \"electrolytic\" }\n", i, i)
		fmt.Fprintf(&b, "R%d = { kind = \"resistor\", ends = [\"d%d\", \"chassis\"], value = \"22k\" }\n", i, i)
	}
	return b.String()
}
