package setfile

import (
	"fmt"
	"slices"
	"sync"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// notices tells what is odd in a set that is no error.
func (b *builder) notices() {
	b.noticeAlike()
	b.noticeLone()
	b.noticeEarths()
	b.noticeUndeclared()
	b.noticeAdrift()
	slices.SortStableFunc(b.set.Notices, func(x, y netlist.Notice) int { return x.Pos.Compare(y.Pos) })
}

// noticeNode gives the set a notice that speaks of a node.
func (b *builder) noticeNode(n *netlist.Node, format string, args ...any) {
	b.notice(netlist.Notice{Pos: n.Pos, Node: n.Name, Text: fmt.Sprintf(format, args...)})
}

// noticeAlike: two names that a person reads as one.
func (b *builder) noticeAlike() {
	first := map[string]*netlist.Node{words.FoldName(netlist.BuildingEarth): {Name: netlist.BuildingEarth}}
	for _, n := range b.set.Nodes {
		key := words.FoldName(n.Name)
		other := first[key]
		switch {
		case n.Name == netlist.BuildingEarth:
		case other != nil && other.Name == netlist.BuildingEarth:
			b.noticeNode(n, "the point %s is taken as one of the set's own; if the building's earth is meant, write it %s", words.Quote(n.Name), words.Quote(netlist.BuildingEarth))
		case other != nil:
			b.noticeNode(n, "the points %s and %s (line %d) differ only in letter case or blanks; if they are one, write them alike",
				words.Quote(other.Name), words.Quote(n.Name), other.Pos.Line)
		default:
			first[key] = n
		}
	}
}

// noticeLone: a node that one terminal alone uses. A touch point is named in [nodes] and on a part,
// and is metal by itself: a strap to it is the common case and no slip.
func (b *builder) noticeLone() {
	for _, n := range b.set.Nodes {
		u := b.uses[n.Name]
		if n.Touch != "" || n.Name == netlist.BuildingEarth || u.terminals != 1 || u.frames > 0 {
			continue
		}
		meant := ""
		if like := words.Nearest(n.Name, b.otherNodes(n.Name)); like != "" {
			meant = "; did you mean " + words.Quote(like) + "?"
		}
		b.notice(netlist.Notice{Pos: u.pos, Node: n.Name, Part: u.part, Text: fmt.Sprintf(
			"only %s of %s is on the point %s; if more should be, a name is misspelt or a part is missing%s",
			words.Visible(u.terminal), u.part, words.Quote(n.Name), meant)})
	}
}

// otherNodes are the names of all nodes but one.
func (b *builder) otherNodes(but string) []string {
	var names []string
	for _, n := range b.set.Nodes {
		if n.Name != but {
			names = append(names, n.Name)
		}
	}
	return names
}

// earthWords are names by which a schematic calls its ground symbol.
var earthWords = []string{
	"earth", "ground", "gnd", "0v", "0volt", "0volts", "common ground", "signal ground", "signal earth", "mass", "masse", "zero", "zero volts",
	"chassis ground", "chassis earth", "agnd", "dgnd", "pgnd", "ground symbol", "true earth", "true ground", "earth ground", "mains earth", "real earth",
}

// foldedEarthWords are the earthWords as names are compared with them.
var foldedEarthWords = sync.OnceValue(func() map[string]bool {
	folded := make(map[string]bool, len(earthWords))
	for _, w := range earthWords {
		folded[words.FoldWord(w)] = true
	}
	return folded
})

// noticeEarths: a ground symbol may be B-minus, the chassis or the building's earth.
func (b *builder) noticeEarths() {
	for _, n := range b.set.Nodes {
		if n.Name == netlist.BuildingEarth || !foldedEarthWords()[words.FoldWord(n.Name)] {
			continue
		}
		b.noticeNode(n, "the point %s may mean B-minus, the chassis or the building's earth, and they are not one; name it \"B-\", \"chassis\" or \"%s\", whichever it is",
			words.Quote(n.Name), netlist.BuildingEarth)
	}
}

// noticeUndeclared: a name that speaks of metal within reach, of a point that is not declared so.
func (b *builder) noticeUndeclared() {
	for _, n := range b.set.Nodes {
		if n.Touch != "" || n.Name == netlist.BuildingEarth {
			continue
		}
		if word, _ := netlist.TouchWord(n.Name); word != "" {
			b.noticeNode(n, "the point %s says %s in its name and is not declared as touchable; if a hand can reach it, write it in [nodes] with touch",
				words.Quote(n.Name), word)
		}
	}
}

// noticeAdrift: a touch point from which nothing leads to the line, not even a safeguard.
func (b *builder) noticeAdrift() {
	for _, n := range Adrift(b.set) {
		b.noticeNode(n, "nothing leads from the touch point %s to the line, not even insulation, so it reads 0 V here; is it not bolted to the chassis? then write the wire or the insulation between",
			words.Quote(n.Name))
	}
}

// Adrift returns the touch points of a set from which nothing leads to the line, not even a safeguard.
func Adrift(s *netlist.Set) []*netlist.Node {
	_, plug := s.Plug()
	reached := linksOf(s).reachedFrom(plug.Hot, plug.Neutral)
	return slices.DeleteFunc(s.TouchPoints(), func(n *netlist.Node) bool { return reached[n.Name] })
}

// noteMilli: mF is microfarads to the trade and millifarads to the SI.
func (b *builder) noteMilli(pos netlist.Pos, text string, farads float64, part string) {
	b.notice(netlist.Notice{Pos: pos, Part: part, Text: fmt.Sprintf("%s is taken as %s, as the trade writes it; write uF to be plain",
		words.Quote(text), netlist.FormatValue(farads, netlist.Farad))})
}

// noteBareM: M is a million to a later day and was a thousand on old diagrams.
func (b *builder) noteBareM(pos netlist.Pos, text, part string) {
	b.notice(netlist.Notice{Pos: pos, Part: part, Text: fmt.Sprintf("%s is taken as a million times; old diagrams wrote M for a thousand and meg for a million: write k or meg, whichever it is",
		words.Quote(text))})
}

// noticeOhms: no part of a set but a winding has less than an ohm.
func (r *partReader) noticeOhms(pos netlist.Pos, ohms float64) {
	if ohms < 1 {
		r.b.notice(netlist.Notice{Pos: pos, Part: r.w.Name, Text: fmt.Sprintf("%s has %s, and old parts have an ohm or more; look at the prefix and the colours",
			r.quoted, netlist.FormatValue(ohms, netlist.Ohm))})
	}
}

// noticeColour: a colour that no old part had where it stands is a slip of the eye, or of a newer part.
func (r *partReader) noticeColour(pos netlist.Pos, text string, dot bool) {
	if late := netlist.LateColour(text, dot); late != "" {
		r.b.notice(netlist.Notice{Pos: pos, Part: r.w.Name, Text: fmt.Sprintf("%s of %s is a colour that old parts never had there; look again, from both ends", late, r.quoted)})
	}
}
