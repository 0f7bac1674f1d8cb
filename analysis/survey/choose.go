package survey

import (
	"cmp"
	"slices"
)

// choice is the paths to a target that are kept, and the states that they explain.
type choice struct {
	t         *Target
	kept      map[*Path]bool
	explained map[int]bool
}

// choose keeps the paths that matter: from each blade the first in order, then each that brings current in a
// state that those before it leave unexplained, then those without any safeguard that bring current with
// nothing wrong; and, for the states that need it, each other that brings much of what is felt.
func (t *Target) choose() {
	found := len(t.Paths)
	slices.SortStableFunc(t.Paths, compare)
	c := &choice{t, map[*Path]bool{}, map[int]bool{}}
	for _, blade := range t.Blades() {
		if i := slices.IndexFunc(t.Paths, func(p *Path) bool { return p.From == blade }); i >= 0 {
			c.keep(t.Paths[i])
		}
	}
	c.keepExplaining()
	for _, p := range t.Paths {
		if len(c.kept) < pathsDrawn && p.Cost == 0 && p.normal {
			c.keep(p)
		}
	}
	c.keepAmongKept()
	for _, p := range t.Paths {
		if p.needed && !c.kept[p] {
			p.Seldom = true
			c.keep(p)
		}
	}
	t.Complete = !slices.ContainsFunc(t.startling, func(state int) bool { return !c.explained[state] })
	t.Paths = c.ordered()
	t.Further = found - len(t.Paths)
	t.dropUnused()
}

func (c *choice) keep(p *Path) {
	c.kept[p] = true
	for _, state := range p.brings {
		c.explained[state] = true
	}
}

// unexplained is how much a path would explain that those kept leave unexplained.
func (c *choice) unexplained(p *Path) float64 {
	sum := 0.0
	for _, state := range p.brings {
		if !c.explained[state] {
			sum += c.t.weight[state]
		}
	}
	return sum
}

// keepExplaining keeps, one after the other, the path that explains the most of what is left.
func (c *choice) keepExplaining() {
	for rows := len(c.kept); rows < pathsDrawn; rows++ {
		var next *Path
		for _, p := range c.t.Paths {
			if !c.kept[p] && c.unexplained(p) > 0 && (next == nil || c.unexplained(p) > c.unexplained(next)) {
				next = p
			}
		}
		if next == nil {
			break
		}
		c.keep(next)
	}
}

// keepAmongKept keeps paths that explain something and are made of branches that are kept anyway:
// they take no room in a drawing.
func (c *choice) keepAmongKept() {
	used := map[int]bool{}
	for p := range c.kept {
		for _, i := range p.Branches {
			used[i] = true
		}
	}
	for _, p := range c.t.Paths {
		bare := !slices.ContainsFunc(p.Branches, func(i int) bool { return !used[i] })
		if len(c.kept) < pathsListed && bare && c.unexplained(p) > 0 {
			c.keep(p)
		}
	}
}

// ordered gives the kept paths, blade by blade.
func (c *choice) ordered() []*Path {
	blades := c.t.Blades()
	var kept []*Path
	for _, p := range c.t.Paths {
		if c.kept[p] {
			kept = append(kept, p)
		}
	}
	slices.SortStableFunc(kept, func(p, q *Path) int {
		return cmp.Or(cmp.Compare(slices.Index(blades, p.From), slices.Index(blades, q.From)), compare(p, q))
	})
	return kept
}

// dropUnused forgets the branches of paths that are not kept.
func (t *Target) dropUnused() {
	var branches []*Branch
	at := map[int]int{}
	renumber := func(list []int) {
		for k, i := range list {
			if _, ok := at[i]; !ok {
				at[i] = len(branches)
				branches = append(branches, t.Branches[i])
			}
			list[k] = at[i]
		}
	}
	for _, p := range t.Paths {
		renumber(p.Branches)
	}
	for _, p := range t.Earths {
		renumber(p.Branches)
	}
	t.Branches = branches
	t.index, t.byKey = nil, nil
}
