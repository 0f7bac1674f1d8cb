package setfile

import (
	"fmt"
	"strings"
	"testing"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/filetest"
)

var slipTexts = []struct{ name, text, want string }{
	{"no-value", "[set]\nname = \n", "f:2:8: a value is missing here"},
	{"no-value-in-braces", "[parts]\nR1 = { value = }\n", "f:2:16: a value is missing here"},
	{"no-key", "[set]\n= 1\n", "f:2:1: the name before the = is missing"},
	{"two-equals", "[parts]\nR1 = value = 1\n", "f:2:6: there are two = in one line"},
	{"equals-twice", "[set]\nname == \"a\"\n", "f:2:7: an = too many"},
	{"colon", "[set]\nname: \"a\"\n", "f:2:5: write = between a key and its value"},
	{"colon-in-braces", "[parts]\nR1 = { value: 1 }\n", "f:2:13: write = between a key and its value"},
	{"no-equals", "[set]\nname \"a\"\n", "f:2:6: an = is missing here"},
	{"bare-word", "[parts]\nR1\n", "f:2:3: there is no = in this line"},
	{"bare-words", "[set]\nthe set from the attic\n", "f:2:5: there is no = in this line"},
	{"slashes", "[set]\n  // name\n", "f:2:3: a remark begins with #"},
	{"semicolon", "[set]\n; name\n", "f:2:1: a remark begins with #"},
	{"dashes", "[set]\n-- name\n", "f:2:1: a remark begins with #"},
	{"true", "[set]\nname = True\n", "f:2:8: the value True has no quotes"},
	{"word-of-the-decoder", "[set]\nname = escape\n", "f:2:8: the value escape has no quotes; write \"escape\""},
	{"sign", "[set]\nname = @home\n", "f:2:8: the value @home has no quotes; write \"@home\""},
	{"long", "[set]\nname = " + strings.Repeat("x", 100) + "\n", "f:2:8: the value " + strings.Repeat("x", 70) + "… has no quotes"},
	{"negative-point", "[parts]\nR1 = { value = -.5 }\n", "f:2:16: a number begins with a digit; write -0.5 for -.5"},
	{"huge", "[set]\nname = 99999999999999999999\n", "f:2:8: \"99999999999999999999\" is not a number that can be read"},
	{"date", "[set]\nname = 2020-13-01\n", "f:2:8: \"2020-13-01\" is not a number that can be read"},
	{"underscore", "[set]\nname = 1_\n", "f:2:8: \"1_\" is not a number that can be read"},
	{"two-values", "[set]\nname = true false\n", "f:2:12: false stands behind the value"},
	{"comma-at-end", "[set]\nname = \"a\",\n", "f:2:11: a comma at the end of a line"},
	{"letter-behind", "[set]\nname = \"a\"b\n", "f:2:11: b stands behind the value"},
	{"open-quote", "[set]\nname = \"abc\n", "f:2:8: this quote is not closed"},
	{"open-quote-last", "[set]\nname = \"abc", "f:2:8: this quote is not closed"},
	{"open-single-quote", "[set]\nname = 'it\n", "f:2:8: this quote is not closed"},
	{"open-quote-after-escape", "[set]\nname = \"a\\\"bc\n", "f:2:8: this quote is not closed"},
	{"open-long-text", "[set]\nname = \"\"\"abc\n", "f:2:8: this text begins with three quotes"},
	{"backslash", "[set]\nname = \"a\\c\"\n", "f:2:9: a backslash means something else"},
	{"surrogate", "[set]\nname = \"\\ud800\"\n", "f:2:9: a backslash means something else"},
	{"guillemets", "[set]\nname = «a»\n", "f:2:8: this quote is not a straight one"},
	{"low-quotes", "[set]\nname = „a“\n", "f:2:8: this quote is not a straight one"},
	{"backticks", "[set]\nname = `a`\n", "f:2:8: this quote is not a straight one"},
	{"header-open", "[set\nname = \"a\"\n", "f:1:5: a section's header is not closed"},
	{"header-not-begun", "set]\nname = \"a\"\n", "f:1:1: a section's header begins with [; write [set]"},
	{"header-empty", "[]\n", "f:1:2: a section has no name"},
	{"header-two-words", "[my parts]\n", "f:1:2: \"my parts\" is not a known section; did you mean \"parts\"?"},
	{"header-and-line", "[parts] R1 = 1\n", "f:1:8: something stands behind a section's header"},
	{"header-tube", "[tube_types.35Z5GT/G]\n", "f:1:19: the name of a tube type stands in quotes; write [tube_types.\"35Z5GT/G\"]"},
	{"round-brackets", "[parts]\nC1 = ( value = 10 )\n", "f:2:6: round brackets are not known here"},
	{"wrong-closing", "[parts]\nT1 = { ends = [\"a\", \"b\"} }\n", "f:2:24: } closes what was opened by another bracket; put ] here"},
	{"list-of-pairs", "[parts]\nV1 = { pins = [3 = \"h4\"] }\n", "f:2:18: an = stands in a list; write a table in { }"},
	{"comma-first", "[parts]\nR1 = { , value = 1 }\n", "f:2:8: a comma too many"},
	{"open-list-at-end", "[parts]\nC1 = { ends = [\"a\", \n", "f:2:15: this [ is not closed; put ] where its list ends"},
	{"open-table-at-end", "[parts]\nC1 = { value = 1\n", "f:2:6: this { is not closed; put } where its table ends"},
	{"open-table-empty", "[parts]\nC1 = {", "f:2:6: this { is not closed; put } where its table ends"},
	{"open-table-before-section", "[parts]\nC1 = { value = 1\n[nodes]\n", "f:2:6: this { is not closed; put } where its table ends"},
	{"readings-two-then-one", "[[readings]]\n[readings]\n", "f:2:2: readings stands once with one bracket and once with two"},
	{"readings-one-then-two", "[readings]\n[[readings]]\n", "f:2:3: readings stands once with one bracket and once with two"},
	{"part-and-table", "[parts]\nR1 = { value = 1 }\n[parts.R1]\n", "f:3:8: a second part named \"R1\" (the first is on line 2)"},
	{"section-twice", "[parts]\n[nodes]\n[parts]\n", "f:3:2: the section [parts] stands twice (first on line 1)"},
	{"slash-in-part-name", "[parts]\nR/1 = { value = 1 }\n", "f:2:1: \"R/1\" is not a part's name; use letters, digits, _ and - alone, like R1"},
	{"odd-part-name", "[parts]\n§ = { value = 1 }\n", "f:2:1: \"§\" is not a part's name; use letters, digits, _ and - alone, like R1"},
	{"quote-at-the-start-of-a-line", "[nodes]\n\"a = {}\n", "f:2:1: this quote is not closed on its line"},
	{"pin-word", "[parts]\nV1 = { pins = { pin 3 = \"a\" } }\n", "f:2:17: a pin is written by its number alone; write 3 ="},
	{"json", "{\n\"set\": 1}\n", "f:1:1: this is not a set file but something else"},
}

// The usual slips, one a text: where it is told and what to write instead.
func TestSlips(t *testing.T) {
	for _, tt := range slipTexts {
		t.Run(tt.name, func(t *testing.T) {
			set, err := Load("f", strings.NewReader(tt.text))
			problems := problemsOf(t, set, err)
			found := false
			for _, p := range problems {
				found = found || strings.HasPrefix(p.String(), tt.want)
				checkVoice(t, p.Text)
			}
			if !found {
				t.Errorf("got %v\nwant %s", problems, tt.want)
			}
			if _, err := Load("f", strings.NewReader(strings.ReplaceAll(tt.text, "\n", "\r\n"))); err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("with other line ends: got %v\nwant %s", err, tt.want)
			}
		})
	}
}

// A file that is wrong all through is told so, and in bounded length.
func TestFilesThatAreWrongAllThrough(t *testing.T) {
	tests := []struct {
		name, text, want string
		count            int
	}{
		{"repeats", strings.Repeat("a = 1\n", 500), "f:52:1: from here on 449 more keys stand twice", 51},
		{"unquoted", "[set]\n" + unquoted(500), "f:401:8: the file has more slips than are read in one go", 401},
		{"parts", "[parts]\n" + wrongParts(3000), "f: 1003 more problems of this file are not told; is it a set file?", maxProblems + 1},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			set, err := Load("f", strings.NewReader(tt.text))
			problems := problemsOf(t, set, err)
			if len(problems) != tt.count {
				t.Errorf("%d problems, want %d", len(problems), tt.count)
			}
			if !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %.300s …, want %s", err.Error(), tt.want)
			}
		})
	}
}

func unquoted(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "x%d = a\n", 100+i)
	}
	return b.String()
}

func wrongParts(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString("R" + string(rune('A'+i%26)) + "x" + strings.Repeat("i", i/26%20) + strings.Repeat("j", i/520) + " = { kind = \"fuse\" }\n")
	}
	return b.String()
}

func TestAccessors(t *testing.T) {
	set, err := Load("f", strings.NewReader(filetest.BenchHead+`R1 = { kind = "resistor", ends = ["line 1", "chassis"], value = "1k", measured = "2k" }
R2 = { kind = "resistor", ends = ["line 1", "chassis"], value = "1k" }
`))
	if err != nil {
		t.Fatal(err)
	}
	if points := set.TouchPoints(); len(points) != 1 || points[0].Name != "chassis" {
		t.Errorf("the touch points are %v", points)
	}
	if part, plug := set.Plug(); part == nil || part.Name != "PL1" || plug.Hot != "line 1" || plug.Neutral != "line 2" || plug.Style != "plain" {
		t.Errorf("the plug is %v, %v", part, plug)
	}
	if got := set.Part("R1").Detail.(*netlist.Resistor).InUse(); got != 2000 {
		t.Errorf("R1 in use is %v", got)
	}
	if got := set.Part("R2").Detail.(*netlist.Resistor).InUse(); got != 1000 {
		t.Errorf("R2 in use is %v", got)
	}
	if set.Node("none") != nil || set.Part("none") != nil {
		t.Error("there is what is not there")
	}
}
