package tomltext

import (
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// edit is a change of a text: what a slip's message asks for, carried out, so that the rest of its line is
// checked in the same go.
type edit struct {
	at, remove int
	insert     string
}

// mend notes an edit that puts the slip right.
func (s *slip) mend(at, remove int, insert string) {
	s.edits = append(s.edits, edit{at, remove, insert})
}

// mended carries out edits, of which none touches another, and returns the text with the index of its places.
func mended(ix *lineIndex, text string, edits []edit) (string, *lineIndex) {
	slices.SortFunc(edits, func(a, b edit) int { return b.at - a.at })
	next := *ix
	next.edits = slices.Clone(ix.edits)
	for _, e := range edits { // from the last one on, so that the places of the others stay
		text = text[:e.at] + e.insert + text[e.at+e.remove:]
		next.edits = append(next.edits, e)
	}
	return text, &next
}

// written is the offset in the text as it was written of an offset in the text as it was mended.
func (ix *lineIndex) written(offset int) int {
	for _, e := range slices.Backward(ix.edits) {
		switch {
		case offset <= e.at:
		case offset < e.at+len(e.insert):
			offset = e.at + min(offset-e.at, e.remove)
		default:
			offset += e.remove - len(e.insert)
		}
	}
	return offset
}

// plainToken reports whether a token can be put between quotes as it stands.
func plainToken(token string) bool {
	return token != "" && !strings.ContainsAny(token, "\"'\\={}[]#\r\n")
}

// quote puts each of the tokens between commas in a stretch of the text between quotes. Where one of them cannot
// be, it does nothing.
func (s *slip) quote(from, to int) {
	var edits []edit
	for at := from; at < to; {
		end := to
		if i := strings.IndexByte(s.text[at:to], ','); i >= 0 {
			end = at + i
		}
		token := strings.TrimSpace(s.text[at:end])
		start := at + strings.Index(s.text[at:end], token)
		at = end + 1
		switch {
		case token == "":
			continue
		case !plainToken(token):
			return
		}
		edits = append(edits, edit{start, 0, `"`}, edit{start + len(token), 0, `"`})
	}
	s.edits = append(s.edits, edits...)
}

// straight are the quotes that editors put in place of the double one.
const straight = "“”„‟«»"

// straighten makes the quotes of the line straight, where each that opens can have one that closes.
func (s *slip) straighten() {
	if strings.Contains(s.line, `"`) && strings.ContainsAny(s.line, "‘’‚‛‹›′`´") {
		return
	}
	var edits []edit
	for i, r := range s.line {
		if strings.ContainsRune(straight, r) {
			edits = append(edits, edit{s.start + i, len(string(r)), `"`})
		}
	}
	if (len(edits)+strings.Count(s.line, `"`))%2 == 0 {
		s.edits = append(s.edits, edits...)
	}
}

// formatKey is the key of the format that some words mean, "" where they mean none: body_end_dot of "body end dot".
func formatKey(text string) string {
	folded := words.FoldWord(text)
	for _, k := range netlist.KindsAndCan() {
		for _, key := range k.Keys {
			if strings.Contains(key.Name, "_") && words.FoldWord(key.Name) == folded {
				return key.Name
			}
		}
	}
	for _, keys := range [][]netlist.KeyInfo{netlist.PartKeys(), netlist.NodeKeys(), netlist.ReadingKeys(), netlist.TubeTypeKeys()} {
		for _, key := range keys {
			if words.FoldWord(key.Name) == folded {
				return key.Name
			}
		}
	}
	return ""
}
