package tomltext

import (
	"fmt"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// repeats tells of every key that stands twice where it may stand once, and gives the offsets of
// the second ones.
func repeats(ix *lineIndex, text string) (netlist.Problems, []int) {
	_, again := locateAll(text)
	var problems netlist.Problems
	var lines []int
	last := 0
	for i, r := range again {
		if i == maxRepeats {
			problems.Addf(ix.pos(r.second), "from here on %d more keys stand twice; a part of the file may have been pasted twice", len(again)-i)
			return problems, nil
		}
		line := ix.pos(r.first.key).Line
		problems.Addf(ix.pos(r.second), "%s", r.text(line))
		if n := ix.pos(r.second).Line; n != last {
			lines, last = append(lines, r.second), n
		}
	}
	return problems, lines
}

// maxRepeats is how many keys that stand twice are told one by one.
const maxRepeats = 50

// text says what stands twice; the first stands on the line given.
func (r repeat) text(line int) string {
	name, section := r.first.name, r.first.up
	switch {
	case name == "readings" && section != nil && section.up == nil:
		return "readings stands once with one bracket and once with two; begin each reading with [[readings]]"
	case section == nil || section.up == nil:
		return fmt.Sprintf("the section [%s] stands twice (first on line %d); put all its lines under one header", words.Visible(name), line)
	case section.up.up == nil && (section.name == "parts" || netlist.SectionKind(section.name) != nil):
		return fmt.Sprintf("a second part named %s (the first is on line %d); give each part its own name", words.Quote(name), line)
	case section.up.up == nil && section.name == "nodes":
		return fmt.Sprintf("point %s stands twice in [nodes] (first on line %d); write it once", words.Quote(name), line)
	}
	return fmt.Sprintf("%s stands twice (first on line %d); keep one of the two", words.Quote(name), line)
}
