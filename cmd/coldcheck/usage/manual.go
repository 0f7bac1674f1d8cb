package usage

import (
	"strings"

	"github.com/spf13/cobra"
)

// Manual is the manual page of the program, in the language of troff's man macros, made of the same
// text as help.
func Manual(commands []*cobra.Command) string {
	var b strings.Builder
	line := func(s string) { b.WriteString(s + "\n") }
	text := func(s string) {
		for i, para := range strings.Split(s, "\n\n") {
			if i > 0 {
				line(".PP")
			}
			line(roff(para))
		}
	}
	line(`.TH COLDCHECK 1`)
	line(".SH NAME")
	line(roff("coldcheck - reads how an old line-connected set is wired and says what in it can hurt a person"))
	line(".SH SYNOPSIS")
	line(`.B coldcheck`)
	line(roff("COMMAND [flags] FILE…"))
	line(".SH DESCRIPTION")
	text(strings.ReplaceAll(greetingHead, "\n", "\n\n") + notes)
	for _, c := range commands {
		line(".SH " + strings.ToUpper(c.Name()))
		line(".B " + roff("coldcheck "+c.Use))
		line(".PP")
		text(c.Long)
		for _, f := range Flags(c) {
			line(".TP")
			line(".B " + roff(Written(f)))
			line(roff(f.Usage))
		}
		line(".PP")
		line("Example:")
		line(".PP")
		line(".nf")
		for example := range strings.SplitSeq(c.Example, "\n") {
			line(roff(example))
		}
		line(".fi")
	}
	line(".SH EXIT STATUS")
	line(roff(exitStatus))
	return b.String()
}

// roff keeps a text from being read as requests: hyphens are those of the keyboard, and no line
// begins with a dot or an apostrophe.
func roff(s string) string {
	s = strings.NewReplacer(`\`, `\e`, "-", `\-`, "…", "...").Replace(s)
	var lines []string
	for line := range strings.SplitSeq(s, "\n") {
		if strings.HasPrefix(line, ".") || strings.HasPrefix(line, "'") {
			line = `\&` + line
		}
		lines = append(lines, line)
	}
	return strings.Join(lines, "\n")
}
