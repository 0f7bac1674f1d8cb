package setfile

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// declareNodes reads [nodes].
func (b *builder) declareNodes() {
	if b.doc.Nodes == nil {
		return
	}
	for _, e := range b.doc.Nodes.Entries {
		b.declareNode(e)
	}
}

func (b *builder) declareNode(e netlist.Entry) {
	name, wrong := netlist.CheckNodeName(e.Key)
	where := "point " + words.Quote(name)
	t, isTable := e.Value.Data.(*netlist.Table)
	switch {
	case wrong != "":
		b.addf(e.Pos, "%s", wrong)
		return
	case name == netlist.BuildingEarth:
		b.addf(e.Pos, "%s is the building's own earth and cannot be described; name the set's own metal in [nodes]", words.Quote(name))
		return
	case b.set.Node(name) != nil:
		b.addf(e.Pos, "%s stands twice in [nodes] (first on line %d); write it once", where, b.set.Node(name).Pos.Line)
		return
	case !isTable && slices.Contains(netlist.TouchKinds, fmt.Sprint(e.Value.Data)):
		b.addf(e.Value.Pos, "%s is text; write its keys between braces, like { touch = \"%s\" }", where, e.Value.Data)
		return
	case !isTable:
		b.addf(e.Value.Pos, "%s is %s; write its keys between braces, like { touch = \"chassis\" }", where, e.Value.Describe())
		return
	case looksLikePart(t):
		b.addf(e.Pos, "%s looks like a part and stands in [nodes]; move the line to [parts]", words.Quote(e.Key))
		return
	}
	t = b.checkKeys(t, where, netlist.NodeKeys())
	n := &netlist.Node{Name: name, Pos: e.Pos, Note: b.note(t, where)}
	n.Touch = b.word(t, netlist.FindKey(netlist.NodeKeys(), "touch"), where, "")
	n.Guard = b.word(t, netlist.FindKey(netlist.NodeKeys(), "guard"), where, "")
	n.GuardSuspect = b.guardSuspect(t, where)
	guard, hasGuard := t.Get("guard")
	condition, hasCondition := t.Get("guard_condition")
	switch {
	case hasGuard && !t.Has("touch"):
		b.addf(guard.Pos, "%s has a guard and no touch; say what a hand could touch there, like touch = \"chassis\", or take the guard out", where)
	case hasCondition && !hasGuard:
		b.addf(condition.Pos, "%s has a guard_condition and no guard; say which, like guard = \"cabinet\"", where)
	}
	b.set.AddNode(n)
}

// guardSuspect reports whether the guard of a point, if it has one, is none to rely on: one that failed is
// not known to be there when it is needed.
func (b *builder) guardSuspect(t *netlist.Table, where string) bool {
	def := string(netlist.Good)
	if b.set.Condition != "" && t.Has("guard") {
		def = string(b.set.Condition)
	}
	return b.word(t, netlist.FindKey(netlist.NodeKeys(), "guard_condition"), where, def) != string(netlist.Good)
}

// mentioned reports whether a part, or a line that could not be read, names a point anywhere.
func (b *builder) mentioned(name string) bool {
	if b.mentions == nil {
		b.mentions = map[string]bool{}
		for i := range b.doc.Parts {
			eachText(netlist.Value{Data: b.doc.Parts[i].Keys}, func(text string) { b.mentions[strings.TrimSpace(text)] = true })
		}
	}
	return b.mentions[name] || strings.Contains(b.unread.lost, name) || strings.Contains(b.unread.aside, name)
}
