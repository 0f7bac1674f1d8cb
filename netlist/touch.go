package netlist

import (
	"strings"
	"sync"
	"unicode"
)

// touchWords are words in a point's name that speak of metal within reach, each with the kind of metal that it
// is. The first that a name has is told.
var touchWords = []struct{ word, kind string }{
	{"chassis", "chassis"}, {"shaft", "control"}, {"antenna", "antenna"}, {"aerial", "antenna"}, {"knob", "control"}, {"set screw", "control"}, {"setscrew", "control"},
	{"screw", "fastener"}, {"screws", "fastener"}, {"cabinet", "trim"}, {"handle", "trim"}, {"bezel", "trim"},
	{"grille", "speaker"}, {"tone arm", "pickup"}, {"tonearm", "pickup"}, {"turntable", "pickup"}, {"jack", "jack"}, {"speaker frame", "speaker"},
	{"ground terminal", "ground"}, {"earth terminal", "ground"}, {"pickup arm", "pickup"},
	{"trim", "trim"}, {"escutcheon", "trim"}, {"spindle", "control"}, {"bushing", "control"}, {"dial plate", "trim"},
}

// paddedTouchWords are the touchWords between blanks, in the singular and the plural.
var paddedTouchWords = sync.OnceValue(func() [][2]string {
	padded := make([][2]string, len(touchWords))
	for i, w := range touchWords {
		padded[i] = [2]string{" " + w.word + " ", " " + w.word + "s "}
	}
	return padded
})

// TouchWord returns the word in a point's name that speaks of metal within reach, and which of TouchKinds that
// is; "" where there is none.
func TouchWord(name string) (word, kind string) {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) })
	padded := " " + strings.Join(words, " ") + " "
	for i, w := range paddedTouchWords() {
		if strings.Contains(padded, w[0]) || strings.Contains(padded, w[1]) {
			return touchWords[i].word, touchWords[i].kind
		}
	}
	return "", ""
}
