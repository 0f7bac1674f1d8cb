package text

import "coldcheck/rules"

// The safety colours of ANSI Z535, as near as a terminal has them, and bold for headings.
const (
	red    = "\x1b[1;31m"
	orange = "\x1b[1;38;5;208m"
	yellow = "\x1b[1;33m"
	blue   = "\x1b[1;34m"
	bold   = "\x1b[1m"
	plain  = "\x1b[0m"
)

var signalColours = map[rules.Signal]string{
	rules.Danger: red, rules.Warning: orange, rules.Caution: yellow, rules.Notice: blue,
}

func (p *Page) paint(colour, s string) string {
	if !p.colour || s == "" {
		return s
	}
	return colour + s + plain
}
