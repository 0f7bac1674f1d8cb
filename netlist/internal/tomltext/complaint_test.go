package tomltext

import (
	"errors"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
)

// complaining are texts of which the decoder complains in the words of the phrase.
var complaining = map[string]string{
	"expected value but found":                       "a = escape",
	"unexpected EOF; expected value":                 "a =",
	"was already created":                            "a = 1\n[a.b]",
	"has already been defined":                       "a = 1\na = 2",
	"is not a table":                                 "x = { a = [1], a.b = 2 }",
	"unexpected comma":                               "a = [,]",
	"floats must start with a digit":                 "a = .5",
	"must be followed by one or more digits":         "a = 5.",
	"leading zeroes":                                 "a = 05",
	"strings cannot contain newlines":                "a = \"b\nc\"",
	`unexpected EOF; expected '"`:                    `a = "b`,
	"unexpected EOF; expected \"'":                   "a = 'b",
	"invalid escape":                                 `a = "\c"`,
	"hexadecimal digits":                             `a = "\u12"`,
	"is not valid UTF-8":                             `a = "\ud800"`,
	"out of range":                                   "a = 99999999999999999999",
	"datetime":                                       "a = 2020-13-01",
	"underscores":                                    "a = 1_",
	"Invalid float value":                            "a = 1.2.3",
	"expected a digit":                               "a = --5",
	"not a hexadecimal number":                       "a = 0x",
	"table name":                                     "[]",
	"table array":                                    "[[a]",
	"top-level item to end":                          "a = 1 b",
	"expected a comma (',') or array terminator":     "a = [1 2]",
	"expected a comma or an inline table terminator": "a = { b = 1 c = 2 }",
	"expected '.' or '='":                            "a b = 1",
	"key name appears blank":                         "= 1",
	"expected key separator":                         "a",
	"keys cannot start":                              ".a = 1",
	"unexpected '":                                   "a. = 1",
}

// TestDecoderComplains: the decoder says each phrase that the table knows, of a text that is wrong in
// just that way. It fails where another version words its errors otherwise, and then the texts of slips
// would silently become others.
func TestDecoderComplains(t *testing.T) {
	if len(complaining) != len(complaintPhrases) {
		t.Errorf("%d texts for %d phrases", len(complaining), len(complaintPhrases))
	}
	for _, p := range complaintPhrases {
		text, ok := complaining[p.phrase]
		if !ok {
			t.Errorf("no text makes the decoder say %q", p.phrase)
			continue
		}
		var content map[string]any
		var pe toml.ParseError
		if !errors.As(decode(text, &content), &pe) {
			t.Errorf("the decoder takes %q", text)
			continue
		}
		if got := complaintOf(pe.Message); got != p.says || firstPhrase(pe.Message) != p.phrase {
			t.Errorf("of %q the decoder says %q, which is read as %d by %q, want %d by %q",
				text, pe.Message, got, firstPhrase(pe.Message), p.says, p.phrase)
		}
	}
}

// firstPhrase is the phrase by which a message is read.
func firstPhrase(message string) string {
	for _, p := range complaintPhrases {
		if complaintOf(message) == p.says && strings.Contains(message, p.phrase) {
			return p.phrase
		}
	}
	return ""
}
