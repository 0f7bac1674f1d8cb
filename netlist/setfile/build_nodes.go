package setfile

import (
	"fmt"
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
	case !isTable:
		b.addf(e.Value.Pos, "%s is %s; write its keys between braces, like { touch = \"chassis\" }", where, e.Value.Describe())
		return
	case looksLikePart(t):
		b.addf(e.Pos, "%s looks like a part and stands in [nodes]; move the line to [parts]", words.Quote(e.Key))
		return
	}
	b.checkKeys(t, where, netlist.NodeKeys())
	n := &netlist.Node{Name: name, Pos: e.Pos, Note: b.note(t, where)}
	n.Touch = b.word(t, netlist.FindKey(netlist.NodeKeys(), "touch"), where, "")
	n.Guard = b.word(t, netlist.FindKey(netlist.NodeKeys(), "guard"), where, "")
	n.GuardSuspect = b.word(t, netlist.FindKey(netlist.NodeKeys(), "guard_condition"), where, "good") == "suspect"
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

// checkTouch checks that there is something to judge and that [nodes] names what parts use.
func (b *builder) checkTouch() {
	var used []string
	for _, n := range b.set.Nodes {
		if b.uses[n.Name] != nil {
			used = append(used, n.Name)
		}
	}
	touch := false
	for _, n := range b.set.Nodes {
		touch = touch || n.Touch != ""
		if b.uses[n.Name] != nil || b.doubtful && b.mentioned(n.Name) {
			continue
		}
		hint := "write it as the part does, or take the line out"
		if near := b.near(n.Name, used); near != "" {
			hint = fmt.Sprintf("did you mean %s?", words.Quote(near))
		}
		b.addf(n.Pos, "no part uses the point %s; %s", words.Quote(n.Name), hint)
	}
	if !touch && !b.touchWritten() && b.complete(b.doc.Nodes) && !b.unread.refused["nodes"] {
		pos := b.start
		if b.doc.Nodes != nil {
			pos = b.doc.Nodes.Pos
		}
		b.addf(pos, "no point can be touched, so there is nothing to judge; name the metal in [nodes], like chassis = { touch = \"chassis\" }")
	}
}

// touchWritten reports whether any point in [nodes] has a touch key, be it a wrong one.
func (b *builder) touchWritten() bool {
	if b.doc.Nodes == nil {
		return false
	}
	for _, e := range b.doc.Nodes.Entries {
		if t, ok := e.Value.Data.(*netlist.Table); ok && t.Has("touch") {
			return true
		}
	}
	return false
}

// mentioned reports whether a part, or a line that could not be read, names a point anywhere.
func (b *builder) mentioned(name string) bool {
	if b.mentions == nil {
		b.mentions = map[string]bool{}
		for i := range b.doc.Parts {
			b.mention(netlist.Value{Data: b.doc.Parts[i].Keys})
		}
	}
	return b.mentions[name] || strings.Contains(b.unread.lost, name) || strings.Contains(b.unread.aside, name)
}

func (b *builder) mention(v netlist.Value) {
	switch data := v.Data.(type) {
	case string:
		b.mentions[strings.TrimSpace(data)] = true
	case []netlist.Value:
		for _, item := range data {
			b.mention(item)
		}
	case *netlist.Table:
		for _, e := range data.Entries {
			b.mention(e.Value)
		}
	}
}
