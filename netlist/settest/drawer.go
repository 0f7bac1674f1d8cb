package settest

import (
	"slices"
	"strings"

	"pgregory.net/rapid"
)

// Drawer draws the parts of one set.
type Drawer struct {
	Pool     []string // all nodes
	t        *rapid.T
	limits   Limits
	touch    []string
	switches int // and selectors
	controls int
	sections int
	doubtful int
	chain    bool // the set has a chain of unverified capacitors, and no other unverified parts
	attic    bool // the set's own condition is suspect
}

// NewDrawer draws from some nodes.
func NewDrawer(t *rapid.T, pool ...string) *Drawer { return &Drawer{t: t, Pool: pool} }

// N draws a number under a limit.
func (d *Drawer) N(limit int) int { return rapid.IntRange(0, limit-1).Draw(d.t, "n") }

// Percent draws true so many times of a hundred.
func (d *Drawer) Percent(p int) bool { return d.N(100) >= 100-p }

// OneOf draws one of some.
func OneOf[T any](d *Drawer, list ...T) T { return list[d.N(len(list))] }

// Nodes draws that many different nodes.
func (d *Drawer) Nodes(count int) []string {
	rest := slices.Clone(d.Pool)
	var picked []string
	for range count {
		k := d.N(len(rest))
		picked = append(picked, rest[k])
		rest = slices.Delete(rest, k, k+1)
	}
	return picked
}

func (d *Drawer) node() string { return d.Nodes(1)[0] }

// Nodes writes a list of nodes as the keys of a Part have it; "" for a throw that leads nowhere.
func Nodes(nodes ...string) string {
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
