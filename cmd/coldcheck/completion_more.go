package main

import (
	"slices"
	"strings"
)

// zshScript uses the shell's own _arguments.
func zshScript() string {
	var b strings.Builder
	b.WriteString(`#compdef coldcheck

# coldcheck completion for zsh

_coldcheck_sets() { _files -g '*.toml(-.)' }

_coldcheck_commands() {
    local -a commands
    commands=(
`)
	for _, c := range commands() {
		b.WriteString("        " + quoteShell(strings.ReplaceAll(c.name, ":", `\:`)+":"+c.summary) + "\n")
	}
	b.WriteString(`    )
    _describe -t commands command commands
    _coldcheck_sets
}

_coldcheck() {
    local curcontext=$curcontext state line
    typeset -A opt_args
    if (( CURRENT == 2 )) && [[ $words[2] != -* ]]; then
        _coldcheck_commands
        return
    fi
    case $words[2] in
`)
	for _, c := range commands() {
		if c != inspectCommand {
			zshCase(&b, c.name, c, true)
		}
	}
	zshCase(&b, inspectCommand.name, inspectCommand, true)
	zshCase(&b, "*", inspectCommand, false)
	b.WriteString("    esac\n}\n\n_coldcheck \"$@\"\n")
	return b.String()
}

// zshCase is what follows a command; named where the command's name is there to be passed over.
func zshCase(b *strings.Builder, pattern string, c *command, named bool) {
	b.WriteString("    " + pattern + ")\n")
	if named {
		b.WriteString("        shift words\n        (( CURRENT-- ))\n")
	}
	b.WriteString("        _arguments")
	for _, f := range c.flags {
		arg := f.argument()
		spec := "--" + f.name
		if arg.takes {
			spec += "="
		}
		spec += "[" + zshText(f.help) + "]"
		if arg.takes {
			action := " "
			switch {
			case arg.file:
				action = "_files"
			case len(arg.words) > 0:
				action = "(" + strings.Join(arg.words, " ") + ")"
			}
			spec += ":" + zshText(f.value(&options{}).Type()) + ":" + action
		}
		if f.repeats() {
			spec = "*" + spec
		}
		b.WriteString(" \\\n            " + quoteShell(spec))
	}
	b.WriteString(" \\\n            '--help[how it is used]'")
	behind := c.operands()
	if behind.takesSets {
		b.WriteString(" \\\n            '*:set file:_coldcheck_sets'")
	} else {
		b.WriteString(" \\\n            " + quoteShell("1: :("+strings.Join(behind.words, " ")+")"))
	}
	b.WriteString("\n        ;;\n")
}

// zshText keeps a text from being read as marks of _arguments.
func zshText(s string) string {
	return strings.NewReplacer(":", `\:`, "[", `\[`, "]", `\]`).Replace(s)
}

// repeats tells whether a flag may be given more than once.
func (f flagInfo) repeats() bool {
	switch f.value(&options{}).(type) {
	case words, settings:
		return true
	}
	return false
}

// fishScript is one line for each thing that can follow.
func fishScript() string {
	var b strings.Builder
	quote := func(s string) string {
		return "'" + strings.NewReplacer(`\`, `\\`, "'", `\'`).Replace(s) + "'"
	}
	b.WriteString("# coldcheck completion for fish\n\ncomplete -c coldcheck -f\n")
	first := "__fish_use_subcommand"
	sets := quote(`(__fish_complete_suffix .toml | string match -r '^[^\t]*(?:\.toml|/)(?:\t.*)?$')`)
	b.WriteString("complete -c coldcheck -n " + first + " -a " + sets + "\n")
	for _, c := range commands() {
		b.WriteString("complete -c coldcheck -n " + first + " -a " + c.name + " -d " + quote(c.summary) + "\n")
	}
	for _, c := range commands() {
		when := quote("__fish_seen_subcommand_from " + c.name)
		if c == inspectCommand { // a file stands for inspect
			others := slices.DeleteFunc(commandNames(), func(name string) bool { return name == c.name })
			when = quote("not __fish_seen_subcommand_from " + strings.Join(others, " "))
		}
		b.WriteString("\n")
		for _, f := range c.flags {
			line := "complete -c coldcheck -n " + when + " -l " + f.name + " -d " + quote(f.help)
			switch arg := f.argument(); {
			case !arg.takes:
			case arg.file:
				line += " -r -F"
			case len(arg.words) > 0:
				line += " -x -a " + quote(strings.Join(arg.words, " "))
			default:
				line += " -x"
			}
			b.WriteString(line + "\n")
		}
		if behind := c.operands(); behind.takesSets {
			b.WriteString("complete -c coldcheck -n " + when + " -a " + sets + "\n")
		} else {
			b.WriteString("complete -c coldcheck -n " + when + " -a " + quote(strings.Join(behind.words, " ")) + "\n")
		}
	}
	return b.String()
}
