package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"coldcheck/rules/phrase"
)

// A value is what a flag takes. What it says where a word does not fit is what would be right.
type value interface {
	pflag.Value
	// choices are all the words that fit, nil where anything does.
	choices() []string
}

// choice takes one of several words.
type choice struct {
	into  *string
	words []string
	kind  string // stands for the words in help, where they are many
}

func (c choice) String() string    { return *c.into }
func (c choice) choices() []string { return c.words }

func (c choice) Type() string {
	if c.kind != "" {
		return c.kind
	}
	return strings.Join(c.words, "|")
}

func (c choice) Set(s string) error {
	if !slices.Contains(c.words, s) {
		return fmt.Errorf("write %s%s", phrase.Or(c.words), meant(nearest(s, c.words)))
	}
	*c.into = s
	return nil
}

// count takes a whole number between two bounds.
type count struct {
	into        *int
	least, most int
}

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

// word takes any text but none.
type word struct {
	into *string
	kind string // what the text is: FILE, NODE
}

func (w word) String() string    { return *w.into }
func (w word) Type() string      { return w.kind }
func (w word) choices() []string { return nil }

func (w word) Set(s string) error {
	if s == "" {
		return fmt.Errorf("it is empty; write a %s", strings.ToLower(w.kind))
	}
	*w.into = s
	return nil
}

// words takes a text each time the flag is given.
type words struct {
	into *[]string
	kind string
}

func (w words) String() string    { return "" }
func (w words) Type() string      { return w.kind }
func (w words) choices() []string { return nil }

func (w words) Set(s string) error {
	if s == "" {
		return fmt.Errorf("it is empty; write a %s", strings.ToLower(w.kind))
	}
	*w.into = append(*w.into, s)
	return nil
}

// settings takes SWITCH=POSITION each time the flag is given.
type settings struct{ into *[]setting }

type setting struct{ control, at string }

func (s settings) String() string    { return "" }
func (s settings) Type() string      { return "SWITCH=POSITION" }
func (s settings) choices() []string { return nil }

func (s settings) Set(written string) error {
	control, at, ok := strings.Cut(written, "=")
	if !ok || control == "" || at == "" {
		return fmt.Errorf("write a switch and its position, like S1=off")
	}
	*s.into = append(*s.into, setting{control, at})
	return nil
}

// toggle is on where the flag is given.
type toggle struct{ into *bool }

func (t toggle) String() string    { return strconv.FormatBool(*t.into) }
func (t toggle) Type() string      { return "" }
func (t toggle) choices() []string { return nil }

func (t toggle) Set(s string) error {
	on, err := strconv.ParseBool(s)
	if err != nil {
		return fmt.Errorf("it takes no value; write the flag alone")
	}
	*t.into = on
	return nil
}
