package words

import (
	"regexp"
	"sync"
)

// Pattern is a regular expression that is compiled when it is first used: few files need them all.
func Pattern(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}
