package circuit

import "coldcheck/analysis/internal/unionfind"

// Metals are the pieces of accessible metal (accessible conductive part, IEC 62368-1): each the touch
// points that conductors join in every position of the controls, whole fuses and earth wires among
// those, but none that a fault takes out. What the short of a failed part or a lead of the bench
// joins is not one piece. Pieces, and the points of each, are in the order of the file.
func (c *Circuit) Metals(faults ...*Fault) [][]*TouchPoint {
	first := make([]int, len(c.Points)) // of each point, the first that it is one piece with so far
	for position := range c.Positions {
		joined := c.conducting(position, faults)
		firsts := map[[2]int]int{}
		for k := range c.Points {
			class := [2]int{first[k], joined.Find(c.Points[k].Index)}
			if _, known := firsts[class]; !known {
				firsts[class] = k
			}
			first[k] = firsts[class]
		}
	}
	var metals [][]*TouchPoint
	home := map[int]int{}
	for k := range c.Points {
		if first[k] == k {
			home[k] = len(metals)
			metals = append(metals, nil)
		}
		i := home[first[k]]
		metals[i] = append(metals[i], &c.Points[k])
	}
	return metals
}

// conducting are the nodes that conductors join in one of Positions with some faults.
func (c *Circuit) conducting(position int, faults []*Fault) *unionfind.Sets {
	joined := unionfind.New(len(c.Set.Nodes))
	for i := range c.Elements {
		e := &c.Elements[i]
		if (e.Sort == Link || e.Sort == Contact && c.Made(e, position) || c.Closed(e, position)) && !c.TakenOut(e, faults) {
			joined.Union(e.A, e.B)
		}
	}
	return joined
}
