package tomltext

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"

	"coldcheck/netlist"
)

// ByteOrderMark is what some editors put before UTF-8.
const ByteOrderMark = "\xef\xbb\xbf"

// plainText checks that bytes are text that TOML can hold, and takes a byte order mark off.
func plainText(file string, data []byte) (string, netlist.Problems) {
	start := netlist.Pos{File: file, Line: 1, Col: 1}
	if isUTF16(data) {
		return "", netlist.Problems{{Pos: start, Text: "the file is saved as UTF-16; save it as UTF-8 (in the editor: save as, encoding UTF-8)"}}
	}
	text := strings.TrimPrefix(string(data), ByteOrderMark)
	if strings.TrimSpace(text) == "" {
		return "", netlist.Problems{{Pos: start, Text: "the file is empty; begin it with [set] and, below it, name = \"what the set is called\""}}
	}
	ix := indexLines(file, text)
	if !utf8.ValidString(text) {
		at := len(text) - len(validPrefix(text))
		return "", netlist.Problems{{Pos: ix.pos(len(validPrefix(text))), Text: fmt.Sprintf(
			"the byte 0x%02x is not UTF-8 text; save the file as UTF-8 (an old encoding of µ, Ω, ° or an accent does this)",
			text[len(text)-at])}}
	}
	if problems := controls(ix, text); len(problems) > 0 {
		return "", problems
	}
	return text, nil
}

// isUTF16 recognises UTF-16 by its mark, or by the zero byte that it has beside each plain letter.
func isUTF16(data []byte) bool {
	if bytes.HasPrefix(data, []byte{0xff, 0xfe}) || bytes.HasPrefix(data, []byte{0xfe, 0xff}) {
		return true
	}
	head := data[:min(len(data), 64)]
	return len(head) >= 4 && bytes.Count(head, []byte{0}) >= len(head)/4
}

// validPrefix is what comes before the first byte that is no UTF-8.
func validPrefix(text string) string {
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		if r == utf8.RuneError && size == 1 {
			return text[:i]
		}
		i += size
	}
	return text
}

// maxControls is how many control characters are told one by one.
const maxControls = 20

// controls finds the control characters that TOML forbids.
func controls(ix *lineIndex, text string) netlist.Problems {
	var problems netlist.Problems
	for i := 0; i < len(text) && len(problems) < maxControls; i++ {
		c := text[i]
		switch {
		case c == '\r' && strings.HasPrefix(text[i:], "\r\n"), c == '\t', c == '\n', c >= 0x20 && c != 0x7f:
		case c == '\r' && !strings.Contains(text, "\n"):
			return netlist.Problems{{Pos: ix.pos(i), Text: "the lines end as on old computers (a carriage return alone); save the file with common line ends"}}
		default:
			problems.Addf(ix.pos(i), "a control character (U+%04X) stands here; take it out", c)
		}
	}
	return problems
}
