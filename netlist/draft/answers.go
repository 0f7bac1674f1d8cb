package draft

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

func anyText(_ answers, text string) (string, error) { return text, nil }

func checkMains(_ answers, text string) (string, error) {
	_, _, err := netlist.ParseMains(text)
	return text, err
}

func checkVolts(_ answers, text string) (string, error) {
	_, err := netlist.ParseValue(text, netlist.Volt)
	return text, err
}

func checkFuse(_ answers, text string) (string, error) {
	_, err := fields(netlist.KindFuse, text)
	return text, err
}

// noneOr lets an answer say that there is none.
func noneOr(check func(answers, string) (string, error)) func(answers, string) (string, error) {
	return func(s answers, text string) (string, error) {
		if isNone(text) {
			return none, nil
		}
		return check(s, text)
	}
}

func isNone(text string) bool {
	folded := words.FoldWord(text)
	return folded == none || folded == "no" || folded == nothing
}

// ofKind judges a part of one kind, whose name may stand before what is said of it.
func ofKind(kind netlist.Kind) func(answers, string) (string, error) {
	return func(_ answers, text string) (string, error) {
		_, err := fields(kind, withoutKind(kind, text))
		return text, err
	}
}

func capacitorAnswer(s answers, text string) (string, error) {
	return ofKind(netlist.KindCapacitor)(s, text)
}
func resistorAnswer(s answers, text string) (string, error) {
	return ofKind(netlist.KindResistor)(s, text)
}
func lampAnswer(s answers, text string) (string, error) { return ofKind(netlist.KindLamp)(s, text) }

// kindFirst finds the kind that the first word or words of a text name, and returns the rest.
func kindFirst(text string) (netlist.Kind, string) {
	all := strings.Fields(text)
	for n := min(2, len(all)); n > 0; n-- {
		if k := netlist.KindByWord(strings.Join(all[:n], " ")); k != nil {
			return k.Kind, strings.Join(all[n:], " ")
		}
	}
	return "", text
}

// withoutKind takes the name of a kind off a text that begins with it.
func withoutKind(kind netlist.Kind, text string) string {
	if found, rest := kindFirst(text); found == kind {
		return rest
	}
	return text
}

// items parts a list at its commas and semicolons.
func items(text string) []string {
	var all []string
	for _, item := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' }) {
		if item = strings.TrimSpace(item); item != "" {
			all = append(all, item)
		}
	}
	return all
}

// chain is a leg from the plug inward: what stands in it, and where it ends, "" where that is not known.
type chain struct {
	through []string // fuse, switch
	end     string
}

func (c chain) has(what string) bool { return slices.Contains(c.through, what) }

// chainOf is the chain of an answer that was judged.
func (s answers) chainOf(key string) chain {
	var c chain
	text, _ := s.known(key)
	for _, item := range items(text) {
		switch {
		case item == fuse || item == switchW:
			c.through = append(c.through, item)
		case item != DontKnow:
			c.end = item
		}
	}
	return c
}

func (s answers) chainHas(what string) bool {
	return s.chainOf("blade-1").has(what) || s.chainOf("blade-2").has(what)
}

func (s answers) transformed() bool { return s.is("entry", byTransformer, byAuto) }

// top is the word for the end of a leg that is not B-minus.
func (s answers) top() string {
	switch {
	case s.is("entry", byString):
		return toTop
	case s.transformed():
		return toWind
	}
	return toLoad
}

// endWords are where a leg may end.
func (s answers) endWords() []string {
	if s.is("entry", byTransformer) {
		return []string{toWind}
	}
	return []string{s.top(), bMinus, chassis}
}

// checkChain judges the chain of a leg.
func checkChain(key string) func(answers, string) (string, error) {
	return func(s answers, text string) (string, error) {
		var c chain
		list := items(strings.NewReplacer("->", ",", ">", ",", " then ", ",").Replace(text))
		for k, item := range list {
			word := findWord(chainWords, item)
			last := k == len(list)-1
			switch {
			case isDontKnow(item) && last:
			case isDontKnow(item):
				return "", fmt.Errorf("what is not known stands last: what is behind it is not either")
			case word == "":
				return "", noWord(chainOrEnds(s), item)
			case (word == fuse || word == switchW) && c.has(word):
				return "", fmt.Errorf("the %s stands twice in this leg; one that opens both legs is written once in each", word)
			case word == fuse || word == switchW:
				c.through = append(c.through, word)
			case !slices.Contains(s.endWords(), word):
				return "", fmt.Errorf("a leg of a set with entry %s ends at %s, not at the %s", words.Quote(s.or("entry", byOther)), words.Choices(s.endWords()), word)
			case !last:
				return "", fmt.Errorf("%s is the end of a leg, and more stands behind it; write what stands before it alone", word)
			default:
				c.end = word
			}
		}
		if len(list) == 0 {
			return "", fmt.Errorf("nothing is said; write like %s", words.Quote(find(key).Examples[0]))
		}
		if err := meets(s, key, c.end); err != nil {
			return "", err
		}
		if c.end == "" {
			c.end = DontKnow
		}
		return strings.Join(append(c.through, c.end), ", "), nil
	}
}

// chainOrEnds are the words that a chain takes in a set.
func chainOrEnds(s answers) []Word {
	list := []Word{{Word: fuse}, {Word: switchW}}
	for _, end := range s.endWords() {
		list = append(list, Word{Word: end})
	}
	return list
}

// offeredEnds are the words of a chain that fit a set, with what they mean.
func offeredEnds(s answers) []Word {
	fit := chainOrEnds(s)
	return slices.DeleteFunc(slices.Clone(chainWords), func(w Word) bool {
		return !slices.ContainsFunc(fit, func(other Word) bool { return other.Word == w.Word })
	})
}

// meets tells where the end of the second leg does not go with that of the first.
func meets(s answers, key, end string) error {
	other := s.chainOf("blade-1").end
	if key != "blade-2" || other == "" || end == "" || s.is("entry", byTransformer) {
		return nil
	}
	low := func(end string) bool { return end == bMinus || end == chassis }
	switch {
	case low(end) && low(other):
		return fmt.Errorf("the first blade ends at %s, so this one ends at the %s; both at once is a short", other, s.top())
	case !low(end) && !low(other) && !s.is("entry", byAuto):
		return fmt.Errorf("the first blade ends at the %s, so this one ends at B- or the chassis: that is the other end of it", other)
	}
	return nil
}

// ends are where the two legs end: the top, B-minus or the chassis. What is not known is taken as what the other
// leaves.
func (s answers) ends() [2]string {
	first, second := s.chainOf("blade-1").end, s.chainOf("blade-2").end
	if s.is("entry", byTransformer) {
		return [2]string{toWind, toWind}
	}
	low := func(end string) bool { return end == bMinus || end == chassis }
	switch {
	case low(first):
		return [2]string{first, s.top()}
	case low(second):
		return [2]string{s.top(), second}
	case first == "" && second != "":
		return [2]string{bMinus, second}
	}
	return [2]string{s.top(), bMinus}
}

// minus is the node that is B-minus: the chassis itself where a leg ends there, "" where the set has none.
func (s answers) minus() string {
	if s.is("entry", byTransformer) {
		if s.is("rectifier", none) {
			return ""
		}
		return bMinus
	}
	for _, end := range s.ends() {
		if end == chassis {
			return chassis
		}
	}
	return bMinus
}

// hasBarrier reports whether B-minus is a point of its own.
func (s answers) hasBarrier() bool { return s.minus() == bMinus }

func usualFirstLeg(s answers) string { return s.top() }

func usualSecondLeg(s answers) string {
	first := s.chainOf("blade-1")
	end := bMinus
	if s.is("entry", byTransformer) || first.end == bMinus || first.end == chassis {
		end = s.top()
	}
	if first.has(switchW) {
		return end
	}
	return switchW + ", " + end
}

func usualBarrier(s answers) string {
	if s.is("entry", byTransformer) {
		return byWire
	}
	return DontKnow
}

// bareAuto reports whether a set has an autotransformer and no B-plus, so that B-minus is no more than a point of its
// winding.
func (s answers) bareAuto() bool { return s.is("entry", byAuto) && !s.hasRectifier() }

func whatIsMinus(s answers) string {
	if s.bareAuto() {
		return "B-minus is here the end of the winding that is at the line, and one end of each other winding with it."
	}
	return ""
}

// checkBarrier judges what joins B-minus and the chassis. Where nothing was said to be B-minus, nothing joins it to the
// chassis is said too easily: the chassis may be that point.
func checkBarrier(s answers, text string) (string, error) {
	word, err := oneOf(barrierWords)(s, text)
	if word == nothing && s.bareAuto() && s.chainOf("blade-1").end != bMinus && s.chainOf("blade-2").end != bMinus {
		return "", fmt.Errorf("no leg was said to end at B-, so what is kept off the chassis is not known; say don't know, or go back and write B- as the end of the leg that the windings share")
	}
	return word, err
}

// hasSwitch reports whether there is a switch: where that is not known there is.
func (s answers) hasSwitch() bool { return s.chainHas(switchW) || !s.is("switch", none) }

// shaft is the shaft that the switch sits on, "" where it is none.
func (s answers) shaft() string {
	text := s.or("switch-on", "volume control")
	if s.hasSwitch() && strings.HasSuffix(text, " control") {
		return strings.TrimSuffix(text, "control") + "shaft"
	}
	return ""
}

// checkOutside judges what stands behind an antenna or a ground terminal.
func checkOutside(_ answers, text string) (string, error) {
	if isNone(text) {
		return none, nil
	}
	kind, rest := kindFirst(text)
	switch {
	case kind == netlist.KindWire && rest == "":
		return byWire, nil
	case kind == netlist.KindCoil && rest == "":
		return byCoil, nil
	case kind == netlist.KindCoil, kind == netlist.KindCapacitor:
		_, err := fields(kind, rest)
		return string(kind) + " " + rest, err
	case kind == "":
		if _, err := fields(netlist.KindCapacitor, text); err == nil {
			return byCapacitr + " " + text, nil
		}
	}
	return "", fmt.Errorf("%s is not understood; write %s, like %s", words.Quote(text), words.Choices(wordsOf(outsideWords)), `"capacitor 250 pF mica"`)
}

// checkReplaced judges the names of parts.
func checkReplaced(s answers, text string) (string, error) {
	if isNone(text) {
		return none, nil
	}
	if words.FoldWord(text) == every {
		return every, nil
	}
	var names, kept, guessed []string
	for _, p := range build(s).doc.Parts {
		names = append(names, p.Name)
		if p.Keys.Has("condition") {
			guessed = append(guessed, p.Name)
		}
	}
	for _, item := range items(strings.Join(strings.Fields(text), ", ")) {
		at := slices.IndexFunc(names, func(name string) bool { return strings.EqualFold(name, item) })
		switch {
		case at < 0:
			return "", fmt.Errorf("no part is called %s; they are %s, or write all or none", words.Quote(item), words.Some(names))
		case slices.Contains(guessed, names[at]):
			return "", fmt.Errorf("%s stands for what is not known, and no one can vouch for that; leave it out, or go back and say what it is", names[at])
		}
		if !slices.Contains(kept, names[at]) {
			kept = append(kept, names[at])
		}
	}
	if len(kept) == 0 {
		return "", fmt.Errorf("nothing is said; write names of parts, all or none")
	}
	return strings.Join(kept, ", "), nil
}
