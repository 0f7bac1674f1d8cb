package tomltext

import (
	"slices"
	"unicode/utf8"

	"coldcheck/netlist"
)

// lineIndex turns offsets into lines and columns.
type lineIndex struct {
	file   string
	text   string
	starts []int  // where each line starts
	runes  []int  // characters before each multiple of runeStep
	edits  []edit // by which the text was mended since
}

// runeStep keeps counting characters cheap in a file that is one long line.
const runeStep = 512

func indexLines(file, text string) *lineIndex {
	ix := &lineIndex{file: file, text: text, starts: []int{0}}
	count := 0
	for i := range len(text) {
		if i%runeStep == 0 {
			ix.runes = append(ix.runes, count)
		}
		if utf8.RuneStart(text[i]) {
			count++
		}
		if text[i] == '\n' {
			ix.starts = append(ix.starts, i+1)
		}
	}
	ix.runes = append(ix.runes, count)
	return ix
}

// runesTo counts the characters before an offset.
func (ix *lineIndex) runesTo(offset int) int {
	if ix.runes[len(ix.runes)-1] == len(ix.text) {
		return offset // a character a byte
	}
	step := offset / runeStep
	count := ix.runes[min(step, len(ix.runes)-1)]
	if step*runeStep >= len(ix.text) {
		return count
	}
	for _, c := range []byte(ix.text[step*runeStep : offset]) {
		if utf8.RuneStart(c) {
			count++
		}
	}
	return count
}

// pos is the place of an offset in the text as it is mended; columns count characters. What lies past the end is
// the end.
func (ix *lineIndex) pos(offset int) netlist.Pos {
	offset = ix.written(offset)
	offset = max(0, min(offset, len(ix.text)))
	line, found := slices.BinarySearch(ix.starts, offset)
	if !found {
		line--
	}
	return netlist.Pos{File: ix.file, Line: line + 1, Col: ix.runesTo(offset) - ix.runesTo(ix.starts[line]) + 1}
}
