package tomltext

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// unquoted tells of a value without its quotes, at an offset, and of those behind it in its list.
func (s *slip) unquoted(at int) (int, string) {
	tokens := []string{s.token(at)}
	list, _, closed := strings.Cut(s.text[at:s.end], "]")
	to := at + len(tokens[0])
	if closed && !strings.ContainsAny(list, "\"'{}=#[") {
		tokens, to = strings.Split(list, ","), at+len(list)
	}
	s.quote(at, to)
	var plain, quoted []string
	for _, t := range tokens {
		if t = strings.TrimSpace(t); t != "" {
			plain, quoted = append(plain, words.Visible(words.Shorten(t))), append(quoted, words.Quote(t))
		}
	}
	if len(plain) > 1 {
		return at, fmt.Sprintf("the values %s have no quotes; write %s", words.And(plain), strings.Join(quoted, ", "))
	}
	return at, fmt.Sprintf("the value %s has no quotes; write %s", strings.Join(plain, ""), strings.Join(quoted, ""))
}

// noValue: the decoder wanted a value and met something else.
func (s *slip) noValue() (int, string) {
	token := s.token(s.at)
	key, _, isPair := strings.Cut(token, "=")
	switch next := s.next(); {
	case token == "" && (next == 0 || next == '#') && depthAt(s.text, s.at) > 0:
		return s.unclosed()
	case token == "":
		return s.at, "a value is missing here; write it after the ="
	case next == '(' || next == ')':
		return s.at, "round brackets are not known here; write { } around a table, [ ] around a list"
	case next == '=':
		return s.at, "an = too many; write key = value"
	case isPair && depthAt(s.text, s.at) > 0 && strings.TrimSpace(key) != "":
		return s.at, fmt.Sprintf("the list before %s is not closed; put ] where it ends", words.Quote(strings.TrimSpace(key)))
	case isPair:
		return s.at, "there are two = in one line; write one key = value a line"
	}
	return s.unquoted(s.at)
}

// noComma: the decoder wanted a comma or the closing bracket and met something else.
func (s *slip) noComma(closing string) (int, string) {
	if m := bareNumber().FindStringSubmatchIndex(s.before); m != nil && s.next() != 0 && !strings.ContainsRune("\"'{[=]}#", s.next()) {
		return s.unquoted(s.start + m[2])
	}
	last := strings.TrimRight(s.before, " \t")
	switch next := s.next(); {
	case last == "" || next == 0 || next == '#':
		return s.unclosed()
	case next == '(' || next == ')':
		return s.at, "round brackets are not known here; write { } around a table, [ ] around a list"
	case next == '=':
		return s.at, "an = stands in a list; write a table in { }, like { 3 = \"h4\", 4 = \"line 1\" }"
	case next == ']' || next == '}':
		return s.at, fmt.Sprintf("%c closes what was opened by another bracket; put %s here, or before it", next, closing)
	case strings.HasSuffix(last, `"`) && (unicode.IsLetter(next) || unicode.IsDigit(next)) && !strings.Contains(s.token(s.at), "="):
		return s.at, fmt.Sprintf("a quote or a comma is missing or too many before %s", words.Visible(words.Shorten(s.token(s.at))))
	}
	s.mend(s.at, 0, ",")
	return s.at, fmt.Sprintf("a comma is missing before %s", words.Visible(words.Shorten(s.token(s.at))))
}

// unclosed tells of a bracket that is not closed where the next line begins, and gives the place
// where its statement ends.
func (s *slip) unclosed() (int, string) {
	open := -1
	var stack []int
	scan(s.text[:s.at], func(at int, c byte) bool {
		switch c {
		case '[', '{':
			stack = append(stack, at)
		case ']', '}':
			if len(stack) > 0 {
				stack = stack[:len(stack)-1]
			}
		}
		return true
	})
	if len(stack) == 0 {
		return s.at, "a bracket is not closed; put ] or } where its list or table ends"
	}
	open = stack[len(stack)-1]
	s.lineOf = stack[0]
	closing := "}"
	if s.text[open] == '[' {
		closing = "]"
	}
	return open, fmt.Sprintf("this %c is not closed; put %s where its %s ends", s.text[open], closing,
		map[string]string{"}": "table", "]": "list"}[closing])
}

// afterStatement: something stands behind a value or a header.
func (s *slip) afterStatement() (int, string) {
	if m := bareNumber().FindStringSubmatchIndex(s.before); m != nil && s.next() != '"' {
		at := s.start + m[2]
		value, _, _ := strings.Cut(s.text[at:s.end], "#")
		value = strings.TrimSpace(value)
		s.quote(at, at+len(value))
		return at, fmt.Sprintf("the value %s has no quotes; write %s", words.Visible(words.Shorten(value)), words.Quote(value))
	}
	switch next := s.next(); {
	case next == '}' || next == ']':
		s.mend(s.at, 1, "")
		return s.at, fmt.Sprintf("a %c too many; take it out", next)
	case next == ',':
		s.mend(s.at, 1, "")
		return s.at, "a comma at the end of a line; take it out"
	case strings.TrimSpace(s.rest) == ";":
		s.mend(s.at, 1, "")
		return s.at, "a semicolon at the end of a line; take it out"
	case strings.HasSuffix(strings.TrimSpace(s.before), "]") && strings.HasPrefix(strings.TrimSpace(s.line), "["):
		s.putAside()
		return s.at, "something stands behind a section's header; put it on a line of its own, or # before it"
	}
	s.putAside()
	return s.at, fmt.Sprintf("%s stands behind the value; put it on a line of its own, or # before it", words.Visible(words.Shorten(strings.TrimSpace(s.rest))))
}

// putAside makes a remark of the rest of the line.
func (s *slip) putAside() {
	s.mend(s.at, 0, "#")
	s.lost = s.rest
}

// header tells of a section's header that is no name in brackets.
func (s *slip) header(trimmed string) string {
	name, closed := strings.CutSuffix(strings.Trim(trimmed, "["), "]")
	name = strings.TrimSpace(strings.TrimRight(name, "]"))
	switch {
	case strings.TrimSpace(name) == "":
		return "a section has no name; write it between the brackets, like [parts]"
	case !closed && !strings.Contains(trimmed, "]"):
		return "a section's header is not closed; put ] behind its name"
	case strings.HasPrefix(name, "tube_types."):
		return fmt.Sprintf("the name of a tube type stands in quotes; write [tube_types.%s]", words.Quote(strings.TrimPrefix(name, "tube_types.")))
	}
	if plainToken(name) && closed && !strings.Contains(name, ".") {
		at := s.start + strings.Index(s.line, name)
		s.mend(at, len(name), `"`+name+`"`)
		if netlist.SectionKind(name) != nil {
			return fmt.Sprintf("a section's name of several words stands in quotes; write [%s]", words.Quote(name))
		}
		s.told = true // of a section that is not known
	}
	return "a section's name is one word, like [parts] or [capacitors]; anything else in it stands in quotes"
}

// badKey: the decoder wanted a key and its =, and met something else.
func (s *slip) badKey(trimmed string) (int, string) {
	from := s.keyStart()
	key, _, hasEquals := strings.Cut(s.text[from:s.end], "=")
	key = strings.TrimSpace(key)
	inList := strings.ContainsAny(key, ",]}")
	switch next := s.next(); {
	case s.lostCommaAt() >= 0:
		s.mend(s.lostCommaAt()+strings.IndexByte(s.text[s.lostCommaAt():], ','), 1, ".")
		return s.lostCommaAt(), "a comma stands inside a number; write a point, like 0.5"
	case next == ':':
		s.mend(s.at, 1, "=")
		return s.at, "write = between a key and its value, not :"
	case next == '{' || next == '"' && (!hasEquals || inList):
		s.mend(s.at, 0, "=")
		return s.at, "an = is missing here; write key = value"
	case trimmed == "" || next == 0 && from >= s.end:
		return s.unclosedOr("a key is missing here; write key = value")
	case hasEquals && key == "":
		return from, "the name before the = is missing; write key = value"
	case hasEquals && !inList:
		return from, s.badName(from, key)
	case strings.HasSuffix(trimmed, "]") && !strings.Contains(trimmed, "["):
		return s.start, "a section's header begins with [; write [" + words.Visible(strings.TrimSuffix(trimmed, "]")) + "]"
	case depthAt(s.text, s.start) > 0:
		return s.unclosed()
	}
	return s.at, "there is no = in this line; write key = value, or put # before it if it is a remark"
}

// pinWord is a pin that is not written by its number alone.
var pinWord = words.Pattern(`(?i)^pin\s*(?:no\.?|#)?\s*([1-9][0-9]?)$`)

// badName tells of a name before an = that is none without quotes.
func (s *slip) badName(at int, name string) string {
	known := formatKey(name)
	switch pin := pinWord().FindStringSubmatch(name); {
	case s.inParts():
		s.mend(at, len(name), plainPartName(name))
		return fmt.Sprintf("%s is not a part's name; use letters, digits, _ and - alone, like %s", words.Quote(name), plainPartName(name))
	case known != "" && depthAt(s.text, at) > 0:
		s.mend(at, len(name), known)
		return fmt.Sprintf("the key %s is written %s", words.Quote(name), known)
	case pin != nil && depthAt(s.text, at) > 0:
		s.mend(at, len(name), pin[1])
		return fmt.Sprintf("a pin is written by its number alone; write %s =", pin[1])
	case plainToken(name):
		s.mend(at, len(name), `"`+name+`"`)
	}
	return fmt.Sprintf("the name %s needs quotes; write %s =", words.Visible(words.Shorten(name)), words.Quote(name))
}

func (s *slip) unclosedOr(text string) (int, string) {
	if depthAt(s.text, s.at) > 0 {
		return s.unclosed()
	}
	return s.at, text
}

// keyStart is where the key begins at which the decoder stopped: behind the last comma or brace of
// the line, or where the line begins.
func (s *slip) keyStart() int {
	from := s.start
	scan(s.text[:s.at], func(at int, c byte) bool {
		if at >= s.start && (c == ',' || c == '{') {
			from = at + 1
		}
		return true
	})
	for from < s.end && (s.text[from] == ' ' || s.text[from] == '\t') {
		from++
	}
	return from
}

// inParts reports whether the key at fault is a part's name.
func (s *slip) inParts() bool {
	return depthAt(s.text, s.at) == 0 && (s.lastKey == "parts" || netlist.SectionKind(strings.Trim(s.lastKey, `"`)) != nil)
}

// plainPartName makes a part's name of what was meant as one.
func plainPartName(s string) string {
	name := strings.Map(func(r rune) rune {
		if r < utf8.RuneSelf && isBareKey(byte(r)) {
			return r
		}
		return -1
	}, s)
	if name == "" {
		return "R1"
	}
	return name[:min(len(name), 32)]
}

// commaNumber is a number with a decimal comma, right before the place where it could not go on.
var commaNumber = words.Pattern(`[=,\[]\s*([-+]?[0-9]+,[0-9]+)\s*$`)

// lostCommaAt is where a number with a decimal comma begins, whose decimals were taken for a key;
// -1 where there is none.
func (s *slip) lostCommaAt() int {
	if m := commaNumber().FindStringSubmatchIndex(s.before); m != nil {
		return s.start + m[2]
	}
	return -1
}
