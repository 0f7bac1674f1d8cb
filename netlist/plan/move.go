package plan

import (
	"fmt"
	"slices"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// move takes one end of a part from one point to another.
func (a *applier) move(s *Step, w *netlist.WrittenPart) {
	if s.From == s.To {
		a.misfit(s, "to", "from and to are both %s; name the point that the end goes to", words.Quote(s.To))
		return
	}
	if name, wrong := netlist.CheckNodeName(s.To); wrong != "" || name == "" {
		a.misfit(s, "to", "%s", wrong)
		return
	}
	slots := slotsOf(w)
	var on []slot // the ends that the step may mean
	for _, x := range slots {
		if x.node() == s.From && (s.Terminal == "" && x.terminal != "frame" || x.terminal == s.Terminal) {
			on = append(on, x)
		}
	}
	switch {
	case len(on) == 0 && s.Terminal != "":
		a.noTerminal(s, slots)
		return
	case len(on) == 0:
		a.notOn(s, slots)
		return
	case len(on) > 1:
		names := make([]string, len(on))
		for i, x := range on {
			names[i] = x.terminal
		}
		a.misfit(s, "from", "%s of %s are on %s; say which one moves, like terminal = %q",
			words.And(names), words.Quote(s.Part), words.Quote(s.From), on[0].terminal)
		return
	}
	// The mark for plus goes along with its end.
	if e, ok := w.Keys.Get("positive"); ok && netlist.Kind(w.Kind) == netlist.KindCapacitor && on[0].terminal != "frame" && textOf(&e.Value) == s.From {
		e.Value.Data = s.To
		w.Keys.Set(e)
	}
	on[0].value.Data = s.To
	on[0].value.Pos = s.places["to"]
}

// noTerminal tells that a part has no such end, or has it elsewhere.
func (a *applier) noTerminal(s *Step, slots []slot) {
	var names []string
	for _, x := range slots {
		if x.terminal == s.Terminal {
			a.misfit(s, "from", "%s of %s is on %s here, not on %s; write from = %s", words.Visible(s.Terminal), words.Quote(s.Part), words.Quote(x.node()), words.Quote(s.From), words.Quote(x.node()))
			return
		}
		names = append(names, x.terminal)
	}
	hint := words.Meant(words.Nearest(s.Terminal, names), "it has "+words.And(names))
	a.misfit(s, "terminal", "%s has no terminal %s; %s", words.Quote(s.Part), words.Quote(s.Terminal), hint)
}

// notOn tells that a part has no end on a point, and which points its ends are on.
func (a *applier) notOn(s *Step, slots []slot) {
	var nodes, quoted []string
	for _, x := range slots {
		if x.terminal != "frame" && !slices.Contains(nodes, x.node()) {
			nodes = append(nodes, x.node())
			quoted = append(quoted, words.Quote(x.node()))
		}
	}
	hint := "its ends are on " + words.And(quoted)
	if near := words.Nearest(s.From, nodes); near != "" {
		hint = fmt.Sprintf("did you mean %s? Its ends are on %s", words.Quote(near), words.And(quoted))
	}
	for _, x := range slots {
		if x.terminal == "frame" && x.node() == s.From {
			hint = "that is its frame; add terminal = \"frame\" if the metal is what moves"
		}
	}
	a.misfit(s, "from", "%s has no end on %s here; %s", words.Quote(s.Part), words.Quote(s.From), hint)
}
