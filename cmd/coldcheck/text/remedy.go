package text

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"coldcheck/netlist"
	"coldcheck/rules"
	"coldcheck/rules/overview"
	"coldcheck/rules/phrase"
)

// remedies tells what to do about some findings, alike remedies once, "" where there is nothing to do.
func (t *report) remedies(findings []*rules.Finding) string {
	var order, words []string
	parts := map[string][]string{}
	for _, f := range findings {
		if f.Signal == rules.Notice || f.Signal == rules.Caution && findings[0].Signal > rules.Caution && f.Rule.Failure != rules.NoFailure {
			continue // no one is hurt by it; or good basic insulation, beside what is worse
		}
		part, shape := remedyShape(f)
		if !slices.Contains(order, shape) {
			order = append(order, shape)
		}
		if part != "" {
			parts[shape] = append(parts[shape], part)
		}
	}
	for _, shape := range order {
		words = append(words, t.sentence(t.remedy(shape, parts[shape])))
	}
	return strings.Join(words, " ")
}

// sentence makes a text one: with a capital, unless it begins with a part's name, and a full stop.
func (t *report) sentence(text string) string {
	text = strings.TrimSuffix(text, ".") + "."
	word, _, _ := strings.Cut(text, " ")
	if t.c.Set.Part(strings.TrimRight(word, ":,")) != nil {
		return text
	}
	first, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(first)) + text[size:]
}

// remedyShape is the part of which a finding's remedy speaks, "" where it speaks of none, and the remedy
// with a placeholder for its name.
func remedyShape(f *rules.Finding) (part, shape string) {
	if f.Rule.Failure != rules.NoFailure && len(f.Parts) > 0 {
		part = f.Parts[0]
	}
	return part, shapeOf(overview.RemedyOf(f), part)
}

// remedy tells a remedy for some parts: in full where it was not told yet.
func (t *report) remedy(shape string, parts []string) string {
	names := phrase.List(phrase.Visible(parts))
	first, told := t.said[shape]
	switch {
	case told && len(parts) == 0:
		return "as said " + first
	case told:
		return names + ": as said " + first
	case len(parts) == 0:
		t.said[shape] = "above"
		return shape
	}
	t.said[shape] = "of " + netlist.Visible(parts[0])
	text := strings.ReplaceAll(shape, placeholder, parts[0])
	if text == shape {
		return names + ": " + text
	}
	if len(parts) > 1 {
		text += "; likewise " + phrase.List(phrase.Visible(parts[1:]))
	}
	return text
}

// placeholder stands for a part's name in the shape of a remedy.
const placeholder = "\x00"

// shapeOf is a remedy with a placeholder for its part.
func shapeOf(remedy, part string) string {
	if part == "" {
		return remedy
	}
	var b strings.Builder
	for rest := remedy; ; {
		i := strings.Index(rest, part)
		if i < 0 {
			b.WriteString(rest)
			return b.String()
		}
		before, _ := utf8.DecodeLastRuneInString(rest[:i])
		after, _ := utf8.DecodeRuneInString(rest[i+len(part):])
		b.WriteString(rest[:i])
		if partOfName(before) || partOfName(after) {
			b.WriteString(part)
		} else {
			b.WriteString(placeholder)
		}
		rest = rest[i+len(part):]
	}
}

func partOfName(r rune) bool {
	return r != utf8.RuneError && (unicode.IsLetter(r) || unicode.IsDigit(r))
}
