package tomltext

import "strings"

// complaint is what the decoder has against the place where it stopped. It keeps the cause of its errors
// to itself and tells them by text alone, so that all dependence on its wording stands in the one table
// below, and TestDecoderComplains makes it say each phrase.
type complaint int

// What the decoder may complain of.
const (
	otherComplaint  complaint = iota
	keyTwice                  // a key or a section that stands twice
	commaTooMany              // a comma where a value or a key is due
	pointFirst                // .5
	pointLast                 // 5.
	zeroFirst                 // 05
	openText                  // a text in quotes that does not end
	badEscape                 // \c
	badNumber                 // a number that is none, or too large
	badHeader                 // a section's header that is no name in brackets
	somethingBehind           // something behind a value or a header
	noValue                   // something else than a value
	noCommaInList             // neither a comma nor a ]
	noCommaInTable            // neither a comma nor a }
	noKey                     // something else than a key and its =
)

// complaintPhrases are phrases of the decoder's messages and what they say; the first that a message has
// counts. Those whose messages repeat words of the file come first, for these may be any.
var complaintPhrases = []struct {
	phrase string
	says   complaint
}{
	{"expected value but found", noValue},
	{"unexpected EOF; expected value", noValue},
	{"was already created", keyTwice},
	{"has already been defined", keyTwice},
	{"is not a table", keyTwice},
	{"unexpected comma", commaTooMany},
	{"floats must start with a digit", pointFirst},
	{"must be followed by one or more digits", pointLast},
	{"leading zeroes", zeroFirst},
	{"strings cannot contain newlines", openText},
	{`unexpected EOF; expected '"`, openText},
	{"unexpected EOF; expected \"'", openText},
	{"invalid escape", badEscape},
	{"hexadecimal digits", badEscape},
	{"is not valid UTF-8", badEscape},
	{"out of range", badNumber},
	{"datetime", badNumber},
	{"underscores", badNumber},
	{"Invalid float value", badNumber},
	{"expected a digit", badNumber},
	{"not a hexadecimal number", badNumber},
	{"table name", badHeader},
	{"table array", badHeader},
	{"top-level item to end", somethingBehind},
	{"expected a comma (',') or array terminator", noCommaInList},
	{"expected a comma or an inline table terminator", noCommaInTable},
	{"expected '.' or '='", noKey},
	{"key name appears blank", noKey},
	{"keys cannot start", noKey},
	{"expected key separator", noKey},
	{"unexpected '", noKey},
}

// complaintOf is what a message of the decoder says.
func complaintOf(message string) complaint {
	for _, p := range complaintPhrases {
		if strings.Contains(message, p.phrase) {
			return p.says
		}
	}
	return otherComplaint
}
