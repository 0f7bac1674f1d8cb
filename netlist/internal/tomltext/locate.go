package tomltext

import (
	"strconv"
	"strings"
)

// spot is where a key and its value were written, in bytes from the start of the text. Of a table
// that has a header of its own the key is the name in the header. Offsets of -1 are not known.
type spot struct {
	key, value int
	header     bool // written as [header] or [[header]]
	dotted     bool // written as a.b = …, and this is the a
	inline     bool // an inline table
	written    bool // a value or a header has been given to it
	order      []string
	kids       map[string]*spot
	items      []*spot

	name string
	up   *spot
}

func newSpot(key, value int) *spot { return &spot{key: key, value: value} }

// kid returns the spot of a key, made where there is none yet.
func (s *spot) kid(name string, at int) *spot {
	if k, ok := s.kids[name]; ok {
		return k
	}
	k := newSpot(at, at)
	k.name, k.up = name, s
	if s.kids == nil {
		s.kids = map[string]*spot{} // most spots have none
	}
	s.kids[name] = k
	s.order = append(s.order, name)
	return k
}

// last is the table that a header below this key extends: the last element of an array of tables.
func (s *spot) last() *spot {
	if n := len(s.items); n > 0 {
		return s.items[n-1]
	}
	return s
}

// locate reads where every key and value of a text was written. It takes TOML that the decoder has
// accepted and judges nothing; where it meets something else it stops, with what it has so far.
// The decoder's own positions cannot serve: of an array of tables it knows only the last element,
// of an array's values none, and of a key in a table only where its value starts.
func locate(text string) *spot {
	root, _ := locateAll(text)
	return root
}

// repeat is a key that was written before.
type repeat struct {
	first  *spot
	second int // where it stands again
}

// locateAll is locate, and gives the keys that stand twice too. A second value is passed over.
func locateAll(text string) (*spot, []repeat) {
	l := &locator{text: text}
	root := newSpot(0, 0)
	table := root
	for l.skipBlank(true); l.more(); l.skipBlank(true) {
		switch {
		case strings.HasPrefix(l.rest(), "[["):
			l.at += 2
			keys := l.keys()
			if len(keys) == 0 || !l.take("]") || !l.take("]") {
				return root, l.again
			}
			parent := descend(root, keys[:len(keys)-1], false)
			end := keys[len(keys)-1]
			list := parent.kid(end.name, end.at)
			table = newSpot(end.at, end.at)
			table.header, list.header = true, true
			table.name, table.up = end.name, parent
			if list.written && len(list.items) == 0 {
				l.again = append(l.again, repeat{list, end.at})
			}
			list.written = true
			list.items = append(list.items, table)
		case l.take("["):
			keys := l.keys()
			if len(keys) == 0 || !l.take("]") {
				return root, l.again
			}
			table = descend(root, keys, false)
			end := keys[len(keys)-1]
			if table.written || table.up != nil && table.up.kids[table.name] != table {
				l.again = append(l.again, repeat{table, end.at})
				table = newSpot(end.at, end.at)
			}
			table.header, table.written = true, true
			table.key, table.value = end.at, end.at
		default:
			if !l.pair(table) {
				return root, l.again
			}
		}
	}
	return root, l.again
}

// descend follows keys down from a table.
func descend(table *spot, keys []placedKey, dotted bool) *spot {
	for _, k := range keys {
		_, known := table.kids[k.name]
		next := table.kid(k.name, k.at)
		if !known {
			next.dotted = dotted
		}
		table = next.last()
	}
	return table
}

// locator is a scanner over TOML text.
type locator struct {
	text  string
	at    int
	again []repeat
	key   []placedKey // the last that keys read
}

// placedKey is one piece of a dotted key and where it stands.
type placedKey struct {
	name string
	at   int
}

func (l *locator) more() bool   { return l.at < len(l.text) }
func (l *locator) rest() string { return l.text[l.at:] }

func (l *locator) take(word string) bool {
	if !strings.HasPrefix(l.rest(), word) {
		return false
	}
	l.at += len(word)
	return true
}

// skipBlank passes blanks, and with lines also line ends and comments.
func (l *locator) skipBlank(lines bool) {
	for l.more() {
		switch c := l.text[l.at]; {
		case c == ' ' || c == '\t':
			l.at++
		case lines && (c == '\n' || c == '\r'):
			l.at++
		case lines && c == '#':
			end := strings.IndexByte(l.rest(), '\n')
			if end < 0 {
				end = len(l.rest())
			}
			l.at += end
		default:
			return
		}
	}
}

// keys reads a key, dotted or not. It is empty where there is none, and holds until the next is read.
func (l *locator) keys() []placedKey {
	l.key = l.key[:0]
	for {
		l.skipBlank(false)
		at := l.at
		var name string
		switch {
		case !l.more():
			return nil
		case l.text[at] == '"' || l.text[at] == '\'':
			body, ok := l.quoted()
			if !ok {
				return nil
			}
			name = body
		default:
			for l.more() && isBareKey(l.text[l.at]) {
				l.at++
			}
			if name = l.text[at:l.at]; name == "" {
				return nil
			}
		}
		l.key = append(l.key, placedKey{name, at})
		l.skipBlank(false)
		if !l.take(".") {
			return l.key
		}
	}
}

func isBareKey(c byte) bool {
	return c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '_' || c == '-'
}

// pair reads "key = value" into a table.
func (l *locator) pair(table *spot) bool {
	keys := l.keys()
	if len(keys) == 0 || !l.take("=") {
		return false
	}
	l.skipBlank(false)
	parent := descend(table, keys[:len(keys)-1], true)
	end := keys[len(keys)-1]
	known := parent.kids[end.name]
	if known != nil && (known.written || len(known.order) > 0) {
		l.again = append(l.again, repeat{known, end.at})
		return l.value(newSpot(end.at, end.at))
	}
	kid := parent.kid(end.name, end.at)
	kid.written = true
	return l.value(kid)
}

// value reads a value and notes where it and all within it stand.
func (l *locator) value(s *spot) bool {
	s.value = l.at
	switch {
	case !l.more():
		return false
	case l.take("["):
		for {
			l.skipBlank(true)
			if l.take("]") {
				return true
			}
			item := newSpot(l.at, l.at)
			if !l.value(item) {
				return false
			}
			s.items = append(s.items, item)
			l.skipBlank(true)
			l.take(",")
		}
	case l.take("{"):
		s.inline = true
		for {
			l.skipBlank(true)
			if l.take("}") {
				return true
			}
			if !l.pair(s) {
				return false
			}
			l.skipBlank(true)
			l.take(",")
		}
	case l.text[l.at] == '"' || l.text[l.at] == '\'':
		_, ok := l.quoted()
		return ok
	}
	end := strings.IndexAny(l.rest(), ",]}#\n")
	if end < 0 {
		end = len(l.rest())
	}
	l.at += end
	return end > 0
}

// quoted reads a string of any of the four sorts and returns what it says. Of a string of several
// lines it returns nothing: such a string is never a key.
func (l *locator) quoted() (string, bool) {
	mark, three := `"`, `"""`
	if l.text[l.at] == '\'' {
		mark, three = `'`, `'''`
	}
	if l.take(three) {
		for l.more() {
			switch {
			case mark == `"` && l.text[l.at] == '\\':
				l.at += 2
			case l.take(three):
				for n := 0; n < 2 && l.take(mark); n++ { // up to two quotes may stand before the three that close
				}
				return "", true
			default:
				l.at++
			}
		}
		l.at = len(l.text)
		return "", false
	}
	l.at++
	start := l.at
	for l.more() {
		switch c := l.text[l.at]; {
		case c == '\n':
			return "", false
		case c == '\\' && mark == `"`:
			l.at += 2
		case c == mark[0]:
			body := l.text[start:l.at]
			l.at++
			if mark == `"` {
				body = unescape(body)
			}
			return body, true
		default:
			l.at++
		}
	}
	l.at = len(l.text)
	return "", false
}

// simpleEscapes are TOML's escapes of one letter.
var simpleEscapes = map[byte]string{
	'b': "\b", 't': "\t", 'n': "\n", 'f': "\f", 'r': "\r", 'e': "\x1b", '"': `"`, '\\': `\`,
}

// unescape gives what a basic string says.
func unescape(s string) string {
	if !strings.Contains(s, `\`) {
		return s
	}
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		if s[i] != '\\' || i+1 == len(s) {
			b.WriteByte(s[i])
			continue
		}
		i++
		length := map[byte]int{'x': 2, 'u': 4, 'U': 8}[s[i]]
		if length > 0 && i+length < len(s) {
			if code, err := strconv.ParseUint(s[i+1:i+1+length], 16, 32); err == nil {
				b.WriteRune(rune(code))
			}
			i += length
			continue
		}
		b.WriteString(simpleEscapes[s[i]])
	}
	return b.String()
}
