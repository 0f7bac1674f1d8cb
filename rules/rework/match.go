package rework

import (
	"slices"

	"coldcheck/rules"
)

// Match finds the finding of a report that is the same as f: the same rule, the same metal, the
// same foremost part. It is nil where there is none.
func Match(findings []rules.Finding, f rules.Finding) *rules.Finding {
	var near *rules.Finding
	for i := range findings {
		g := &findings[i]
		switch {
		case g.Rule != f.Rule || !sameSubject(g, &f):
		case slices.Equal(g.Nodes, f.Nodes) && slices.Equal(g.Parts, f.Parts):
			return g
		case near == nil && samePart(g, &f):
			near = g
		}
	}
	return near
}

// sameSubject reports whether two findings of a rule speak of the same metal, or of the same two pieces of it
// in either order.
func sameSubject(a, b *rules.Finding) bool {
	if a.Rule.Subject != rules.OfPair {
		return sameMetal(a.Nodes, b.Nodes)
	}
	return len(a.Nodes) == len(b.Nodes) && !slices.ContainsFunc(a.Nodes, func(n string) bool { return !slices.Contains(b.Nodes, n) })
}

// sameMetal reports whether two findings speak of the same metal: one node in common, or none at all.
func sameMetal(a, b []string) bool {
	if len(a) == 0 || len(b) == 0 {
		return len(a) == len(b)
	}
	return slices.ContainsFunc(a, func(n string) bool { return slices.Contains(b, n) })
}

// samePart reports whether two findings speak of the same part, or of metal that is one for all parts.
func samePart(a, b *rules.Finding) bool {
	if a.Rule.OnePerMetal() {
		return true
	}
	if len(a.Parts) == 0 || len(b.Parts) == 0 {
		return len(a.Parts) == len(b.Parts)
	}
	if len(a.Nodes) == 0 {
		// One finding may tell of several parts alike: it is the same whichever of them comes foremost.
		return slices.Contains(a.Parts, b.Parts[0]) || slices.Contains(b.Parts, a.Parts[0])
	}
	return a.Parts[0] == b.Parts[0]
}
