package flags

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"coldcheck/cmd/coldcheck/usage"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// Choices are all the words that fit a flag, nil where anything does.
func Choices(v pflag.Value) []string {
	if v, ok := v.(interface{ choices() []string }); ok {
		return v.choices()
	}
	return nil
}

// choice takes one of several words.
type choice struct {
	into  *string
	words []string
	kind  string // stands for the words in help, where they are many
}

// OneOf takes one of several words, told in help as they are.
func OneOf(into *string, words ...string) pflag.Value {
	return choice{into, words, strings.Join(words, "|")}
}

// OneOfKind takes one of several words, told in help as a kind.
func OneOfKind(into *string, kind string, words ...string) pflag.Value {
	return choice{into, words, kind}
}

func (c choice) String() string    { return *c.into }
func (c choice) Type() string      { return c.kind }
func (c choice) choices() []string { return c.words }

func (c choice) Set(s string) error {
	if !slices.Contains(c.words, s) {
		return fmt.Errorf("write %s%s", phrase.Or(c.words), usage.Meant(netlist.Nearest(s, c.words)))
	}
	*c.into = s
	return nil
}

type count struct {
	into        *int
	least, most int
}

// Count takes a whole number between two bounds.
func Count(into *int, least, most int) pflag.Value { return count{into, least, most} }

func (c count) String() string { return strconv.Itoa(*c.into) }
func (c count) Type() string   { return "N" }

func (c count) choices() []string {
	if c.most-c.least > 9 {
		return nil
	}
	var words []string
	for n := c.least; n <= c.most; n++ {
		words = append(words, strconv.Itoa(n))
	}
	return words
}

func (c count) Set(s string) error {
	n, err := strconv.Atoi(s)
	if err != nil || n < c.least || n > c.most {
		return fmt.Errorf("write a whole number from %d to %d", c.least, c.most)
	}
	*c.into = n
	return nil
}

type word struct {
	into *string
	kind string
}

// Word takes any text but none. The kind says what the text is: FILE, NODE.
func Word(into *string, kind string) pflag.Value { return word{into, kind} }

func (w word) String() string { return *w.into }
func (w word) Type() string   { return w.kind }

func (w word) Set(s string) error {
	if s == "" {
		return isEmpty(w.kind)
	}
	*w.into = s
	return nil
}

func isEmpty(kind string) error {
	return fmt.Errorf("it is empty; write a %s", strings.ToLower(kind))
}

type words struct {
	into *[]string
	kind string
}

// Words takes any text but none each time the flag is given.
func Words(into *[]string, kind string) pflag.Value { return words{into, kind} }

func (w words) String() string { return "" }
func (w words) Type() string   { return w.kind }

// GetSlice tells cobra that the flag may be given again.
func (w words) GetSlice() []string { return *w.into }

func (w words) Set(s string) error {
	if s == "" {
		return isEmpty(w.kind)
	}
	*w.into = append(*w.into, s)
	return nil
}

// Setting is a switch and the position that it stands at.
type Setting struct{ Control, At string }

type settings struct{ into *[]Setting }

// Settings takes SWITCH=POSITION each time the flag is given.
func Settings(into *[]Setting) pflag.Value { return settings{into} }

func (s settings) String() string { return "" }
func (s settings) Type() string   { return "SWITCH=POSITION" }

// GetSlice tells cobra that the flag may be given again.
func (s settings) GetSlice() []string {
	var all []string
	for _, one := range *s.into {
		all = append(all, one.Control+"="+one.At)
	}
	return all
}

func (s settings) Set(written string) error {
	control, at, ok := strings.Cut(written, "=")
	if !ok || control == "" || at == "" {
		return fmt.Errorf("write a switch and its position, like S1=off")
	}
	*s.into = append(*s.into, Setting{control, at})
	return nil
}

type current struct {
	into  *float64
	words func() []string
}

// Current takes a current, and offers some to completion, which are asked for then alone.
func Current(into *float64, words func() []string) pflag.Value { return current{into, words} }

func (c current) String() string    { return "" }
func (c current) Type() string      { return "CURRENT" }
func (c current) choices() []string { return c.words() }

func (c current) Set(s string) error {
	amps, err := netlist.ParseValue(s, netlist.Ampere)
	if err != nil {
		return fmt.Errorf("write a current, like 150mA")
	}
	*c.into = amps
	return nil
}
