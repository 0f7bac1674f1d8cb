package draft

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
	"coldcheck/netlist/setfile"
)

// piece is a piece of metal that a hand can reach.
type piece struct {
	name, touch, guard string
	unsaid             bool // it was not among those said, and is there all the same
}

const maxPieces = 24

// piecesOf reads a list of metal, each with its guard behind a colon.
func piecesOf(text string) ([]piece, error) {
	var list []piece
	for _, item := range items(text) {
		p, err := pieceOf(item)
		if err != nil {
			return nil, err
		}
		if slices.ContainsFunc(list, func(other piece) bool { return words.FoldName(other.name) == words.FoldName(p.name) }) {
			return nil, fmt.Errorf("%s is said twice; write it once, with its guard", words.Quote(p.name))
		}
		list = append(list, p)
	}
	if len(list) == 0 || len(list) > maxPieces {
		return nil, fmt.Errorf("say one piece of metal at least and %d at most, with commas between: there is a shaft or a screw on every set", maxPieces)
	}
	return list, nil
}

func pieceOf(item string) (piece, error) {
	name, guard, _ := strings.Cut(item, ":")
	if isPart(name) {
		return piece{}, fmt.Errorf("%s is a part, or how one is connected, and here metal is asked after; say a part at else, like \"capacitor 0.01 uF paper from line 1 to chassis\", what joins B- and the chassis at b-minus, what lies across the cord at across-line", words.Quote(strings.TrimSpace(name)))
	}
	name = shaftName(name)
	name, wrong := netlist.CheckNodeName(strings.TrimSuffix(strings.TrimSpace(name), " control"))
	if strings.HasSuffix(strings.TrimSpace(strings.Split(item, ":")[0]), " control") {
		name += " shaft"
	}
	if wrong != "" {
		return piece{}, fmt.Errorf("%s", wrong)
	}
	_, touch := netlist.TouchWord(name)
	switch touch {
	case "":
		return piece{}, fmt.Errorf("what %s is does not show in its name; call it a chassis, shaft, screws, speaker frame, jack, tone arm, handle or trim, like \"bridge trim\"", words.Quote(name))
	case "antenna", "ground":
		return piece{}, fmt.Errorf("%s is asked after next; leave it out here", words.Quote(name))
	}
	guard = strings.TrimSpace(guard)
	if folded := words.FoldWord(guard); folded == "bare" || isNone(guard) || isDontKnow(guard) {
		guard = ""
	}
	if guard != "" && !slices.Contains(netlist.GuardKinds, strings.ToLower(guard)) {
		return piece{}, fmt.Errorf("%s guards nothing: a guard is a %s; what has none is written without", words.Quote(guard), words.Choices(netlist.GuardKinds))
	}
	if strings.EqualFold(name, chassis) {
		name = chassis
	}
	return piece{name: name, touch: touch, guard: strings.ToLower(guard)}, nil
}

func checkMetal(_ answers, text string) (string, error) {
	list, err := piecesOf(text)
	if err != nil {
		return "", err
	}
	written := make([]string, len(list))
	for i, p := range list {
		if written[i] = p.name; p.guard != "" {
			written[i] += ": " + p.guard
		}
	}
	return strings.Join(written, ", "), nil
}

func usualMetal(s answers) string {
	list := []string{chassis, "cabinet screws"}
	if shaft := s.shaft(); shaft != "" {
		list = slices.Insert(list, 1, shaft)
	}
	return strings.Join(list, ", ")
}

// pieces are the metal of a set, the chassis first. The chassis and the shaft of the switch are there whether
// they were said or not.
func (s answers) pieces() []piece {
	text, said := s.known("metal")
	if !said {
		text = usualMetal(s)
	}
	list, err := piecesOf(text)
	if err != nil {
		return nil
	}
	at := func(name string) int {
		return slices.IndexFunc(list, func(p piece) bool { return words.FoldName(p.name) == words.FoldName(name) })
	}
	if i := at(chassis); i < 0 {
		list = slices.Insert(list, 0, piece{name: chassis, touch: chassis, guard: "cabinet", unsaid: true})
	} else {
		first := list[i]
		list = slices.Insert(slices.Delete(list, i, i+1), 0, first)
	}
	if shaft := s.shaft(); shaft != "" && shaftAt(list, shaft) < 0 {
		list = append(list, piece{name: shaft, touch: "control", unsaid: true})
	}
	return list
}

// shaftNode is the shaft of the switch by the name that it was given among the metal.
func (s answers) shaftNode() string {
	list := s.pieces()
	if at := shaftAt(list, s.shaft()); at >= 0 {
		return list[at].name
	}
	return ""
}

// shaftAt is the place of a control's shaft among the metal, -1 where it was not said: by its name, else as the control
// shaft.
func shaftAt(list []piece, shaft string) int {
	for _, name := range []string{shaft, "control shaft", "control shafts"} {
		at := slices.IndexFunc(list, func(p piece) bool { return words.FoldName(p.name) == words.FoldName(name) })
		if shaft != "" && at >= 0 {
			return at
		}
	}
	return -1
}

// shaftName gives the shaft of the volume or tone control its one name: as vol shaft, volume control shaft, tone.
func shaftName(name string) string {
	fields := strings.Fields(strings.ToLower(name))
	if len(fields) == 0 {
		return name
	}
	which := map[string]string{"vol": "volume", "vol.": "volume", "volume": "volume", "tone": "tone"}[fields[0]]
	for _, f := range fields[1:] {
		if !slices.Contains([]string{"control", "pot", "potentiometer", "shaft"}, f) {
			return name
		}
	}
	if which == "" || fields[0] == which && len(fields) == 2 && fields[1] == "shaft" {
		return name // which may be written in other letters
	}
	return which + " shaft"
}

// namesMetal are words of part kinds that metal is called by as well.
var namesMetal = []string{"screw", "rivet", "connector", "speaker", "sleeve", "washer", "grommet", "loop", "field", "trimmer", "padder", "cap", "lead", "link", "bond", "bus",
	"strap", "connection", "barrier"}

// leadsTo is how it is said what a part joins.
var leadsTo = words.Pattern(`(?i)\b(from|between|across)\b|\bto (the )?(chassis|line|ground|earth|b-|b[ -]minus|b[ -]?plus|b\+|hot|neutral)`)

// isPart reports whether what was said as metal is a part: it has a value, is called by the word of a kind of part
// that no metal is, or leads from somewhere to somewhere. Taken as metal it would be lost.
func isPart(name string) bool {
	if leadsTo().MatchString(name) {
		return true
	}
	all := strings.Fields(strings.ToLower(name))
	for i, word := range all {
		if isFigure(word, "") || i+1 < len(all) && isFigure(word, all[i+1]) {
			return true
		}
		word = strings.Trim(word, ".,")
		if one := strings.TrimSuffix(word, "s"); !slices.Contains(namesMetal, one) && (joins(word) || joins(one)) {
			return true
		}
	}
	return false
}

// joins reports whether a word names a kind of part that joins two points and is no metal of its own.
func joins(word string) bool {
	info := netlist.KindByWord(word)
	return info != nil && slices.Contains([]netlist.Kind{netlist.KindCapacitor, netlist.KindResistor, netlist.KindCoil, netlist.KindWire, netlist.KindInsulation}, info.Kind)
}

// isFigure reports whether a word, with the next behind it, is a figure with a unit, or one with a point in it.
func isFigure(word, next string) bool {
	for _, unit := range netlist.Units {
		q, err := netlist.ParseQuantity(strings.TrimSpace(word+" "+next), unit)
		if err == nil && (!q.Bare || strings.Contains(word, ".")) {
			return true
		}
	}
	return false
}

func checkLoose(s answers, text string) (string, error) {
	if isNone(text) {
		return none, nil
	}
	var kept, names []string
	for _, p := range s.pieces()[1:] {
		names = append(names, p.name)
	}
	for _, item := range items(text) {
		at := slices.IndexFunc(names, func(name string) bool { return words.FoldName(name) == words.FoldName(shaftName(item)) })
		if at < 0 {
			return "", fmt.Errorf("%s is not among the metal that was said; there is %s", words.Quote(item), words.And(names))
		}
		if !slices.Contains(kept, names[at]) {
			kept = append(kept, names[at])
		}
	}
	if len(kept) == 0 {
		return "", fmt.Errorf("nothing is said; write none, or which of %s", words.And(names))
	}
	return strings.Join(kept, ", "), nil
}

// other is a part that joins the line and metal beside all that was asked after.
type other struct {
	kind netlist.Kind
	keys *netlist.Table
	ends [2]string
}

// elseKinds are the kinds of part that such a part may be.
var elseKinds = []netlist.Kind{netlist.KindWire, netlist.KindResistor, netlist.KindCapacitor, netlist.KindCoil, netlist.KindMotor, netlist.KindLamp, netlist.KindInsulation}

const maxOthers = 24

func checkElse(s answers, text string) (string, error) {
	if isNone(text) {
		return none, nil
	}
	list, err := othersOf(text, s.points())
	switch {
	case err != nil:
		return "", err
	case len(list) == 0 || len(list) > maxOthers:
		return "", fmt.Errorf("say none, or up to %d parts with semicolons between", maxOthers)
	}
	return text, nil
}

// points are the nodes of the set so far.
func (s answers) points() []string {
	set, err := setfile.Build(build(s.with("else", none)).doc)
	if err != nil {
		return nil
	}
	var names []string
	for _, n := range set.Nodes {
		names = append(names, n.Name)
	}
	if !slices.Contains(names, netlist.BuildingEarth) {
		names = append(names, netlist.BuildingEarth)
	}
	return names
}

// othersOf reads parts of other kinds, with semicolons between, each from one of the points to another.
func othersOf(text string, points []string) ([]other, error) {
	var list []other
	for item := range strings.SplitSeq(text, ";") {
		if item = strings.TrimSpace(item); item == "" {
			continue
		}
		what, between, found := strings.Cut(item, " from ")
		kind, rest := kindFirst(what)
		if !found || !slices.Contains(elseKinds, kind) {
			kinds := make([]string, len(elseKinds))
			for i, k := range elseKinds {
				kinds[i] = string(k)
			}
			return nil, fmt.Errorf("%s is not understood; write a %s, what is written on it, and from where to where, like \"capacitor 0.01 uF paper from line 1 to chassis\"", words.Quote(item), words.Choices(kinds))
		}
		keys, err := fields(kind, rest)
		if err != nil {
			return nil, err
		}
		ends, err := endsOf(between, points)
		if err != nil {
			return nil, err
		}
		list = append(list, other{kind, keys, ends})
	}
	return list, nil
}

// endsOf reads two points with " to " between them, which may stand in their names too.
func endsOf(text string, points []string) (ends [2]string, err error) {
	for at := 0; ; {
		next := strings.Index(text[at:], " to ")
		if next < 0 {
			break
		}
		at += next
		if a, b := pointOf(text[:at], points), pointOf(text[at+len(" to "):], points); a != "" && b != "" {
			if a == b {
				return ends, fmt.Errorf("both ends are on %s; a part joins two points", words.Quote(a))
			}
			return [2]string{a, b}, nil
		}
		at++
	}
	return ends, fmt.Errorf("%s are not two of the points: %s; write them like \"from line 1 to chassis\"", words.Quote(text), strings.Join(points, ", "))
}

// pointOf finds the point that is meant, "" where none is.
func pointOf(text string, points []string) string {
	folded := words.FoldName(shaftName(text))
	minus := words.FoldWord(text) == "bminus"
	for _, p := range points {
		if words.FoldName(p) == folded || minus && p == bMinus {
			return p
		}
	}
	if (minus || folded == "b-") && slices.Contains(points, chassis) {
		return chassis // which is B-minus where no point is called so
	}
	return ""
}

// pointsSoFar tells the points that a part can be joined to.
func pointsSoFar(s answers) string {
	return "The points so far: " + strings.Join(s.points(), ", ") + "."
}

// partsSoFar tells the parts of the draft.
func partsSoFar(s answers) string {
	var told []string
	for _, p := range build(s).doc.Parts {
		if p.Kind == string(netlist.KindPlug) || p.Kind == string(netlist.KindWire) || p.Keys.Has("condition") {
			continue // of these no one is asked
		}
		words := p.Name + " " + p.Kind
		for _, key := range []string{"type", "value", "ohms", "amps", "grade"} {
			if e, ok := p.Keys.Get(key); ok {
				words += fmt.Sprintf(" %v", e.Value.Data)
			}
		}
		told = append(told, words)
	}
	if len(told) == 0 {
		return "There is no part so far that could be vouched for: what there is stands for what is not known."
	}
	return "The parts so far: " + strings.Join(told, ", ") + "."
}
