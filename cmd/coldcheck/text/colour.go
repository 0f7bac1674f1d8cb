package text

import "coldcheck/rules"

// The safety colours of ISO 3864, as near as a terminal has them: each the ground of a word in its
// contrast colour, white on red and on blue, black on orange and on yellow. Headings are bold.
const (
	red    = "\x1b[1;97;41m"
	orange = "\x1b[1;30;48;5;208m"
	yellow = "\x1b[1;30;48;5;226m"
	blue   = "\x1b[1;97;44m"
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
