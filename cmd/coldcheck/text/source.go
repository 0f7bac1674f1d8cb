package text

import "strings"

// Source prints a file of a set or a plan to be looked at: its remarks as wide as the page, its sections and
// steps as headings. A line of the file itself stays one line, however long, so that it can be copied.
func (p *Page) Source(text string) {
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	for i := 0; i < len(lines); {
		n := 1
		switch {
		case remarkText(lines[i]) != "":
			for i+n < len(lines) && remarkGoesOn(lines[i+n]) {
				n++
			}
			p.remarks(lines[i : i+n])
		case strings.HasPrefix(lines[i], "["):
			p.Line(p.paint(bold, lines[i]))
		default:
			p.Line(lines[i])
		}
		i += n
	}
}

// remarks print a paragraph of remarks, as it stands where it has room.
func (p *Page) remarks(lines []string) {
	room := true // a page as wide as pages are shows the file as it is
	for _, line := range lines {
		room = room && (columns(line) <= p.width || p.width == Width)
	}
	if room {
		for _, line := range lines {
			p.Line(line)
		}
		return
	}
	words := make([]string, len(lines))
	for i, line := range lines {
		words[i] = strings.TrimSpace(remarkText(line))
	}
	text := remarkText(lines[0])
	indent := text[:len(text)-len(strings.TrimLeft(text, " "))]
	for _, line := range wrap(strings.Join(words, " "), p.width-1-len(indent)) {
		p.Line("#" + indent + line)
	}
}

// remarkText is what a line remarks behind its #, "" where it remarks nothing.
func remarkText(line string) string {
	text, ok := strings.CutPrefix(line, "#")
	if !ok || strings.TrimSpace(text) == "" {
		return ""
	}
	return text
}

// remarkGoesOn reports whether a line goes on with the remark before it: one that is indented further begins
// anew.
func remarkGoesOn(line string) bool {
	text := remarkText(line)
	return strings.HasPrefix(text, " ") && !strings.HasPrefix(text, "  ")
}
