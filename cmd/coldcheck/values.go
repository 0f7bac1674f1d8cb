package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"coldcheck/cmd/coldcheck/text"
)

// What a flag's value says where a word does not fit is what would be right.

// choicesOf are all the words that fit a flag, nil where anything does.
func choicesOf(v pflag.Value) []string {
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
		return fmt.Errorf("write %s%s", text.Or(c.words), meant(nearest(s, c.words)))
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

func (w word) String() string { return *w.into }
func (w word) Type() string   { return w.kind }

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

func (w words) String() string { return "" }
func (w words) Type() string   { return w.kind }

// GetSlice tells cobra that the flag may be given again.
func (w words) GetSlice() []string { return *w.into }

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

func (s settings) String() string { return "" }
func (s settings) Type() string   { return "SWITCH=POSITION" }

// GetSlice tells cobra that the flag may be given again.
func (s settings) GetSlice() []string {
	var all []string
	for _, one := range *s.into {
		all = append(all, one.control+"="+one.at)
	}
	return all
}

func (s settings) Set(written string) error {
	control, at, ok := strings.Cut(written, "=")
	if !ok || control == "" || at == "" {
		return fmt.Errorf("write a switch and its position, like S1=off")
	}
	*s.into = append(*s.into, setting{control, at})
	return nil
}
