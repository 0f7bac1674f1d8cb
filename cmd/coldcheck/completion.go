package main

import (
	"strings"

	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/setfile"
	"coldcheck/rules"
)

var completionCommand = &command{
	name:     "completion",
	synopsis: "SHELL",
	summary:  "what makes a shell complete commands, flags, their values and set files",
	help: `Prints the completion for bash, zsh or fish, to be read by the shell when it starts:

bash: coldcheck completion bash > ~/.local/share/bash-completion/completions/coldcheck

zsh: coldcheck completion zsh > a file _coldcheck in a folder of $fpath

fish: coldcheck completion fish > ~/.config/fish/completions/coldcheck.fish`,
	example: `coldcheck completion bash`,
}

// completion tells the table that it stands in; set here, it closes no ring of initial values.
func init() { completionCommand.run = completion }

// shellNames are the shells that can be completed for.
func shellNames() []string { return []string{"bash", "zsh", "fish"} }

func completion(c *call) int {
	if len(c.args) != 1 {
		return c.usage("completion takes one of %s", text.Or(shellNames()))
	}
	switch c.args[0] {
	case "bash":
		return c.print(bashScript())
	case "zsh":
		return c.print(zshScript())
	case "fish":
		return c.print(fishScript())
	}
	return c.usage("no completion for %q; there is one for %s", netlist.Visible(c.args[0]), text.List(shellNames()))
}

// behind is what stands behind a command: words, or set files where takesSets.
type behind struct {
	words     []string
	takesSets bool
}

// operands says what stands behind a command.
func (c *command) operands() behind {
	switch c.name {
	case helpCommand.name:
		return behind{words: commandNames()}
	case completionCommand.name:
		return behind{words: shellNames()}
	case schemaCommand.name:
		return behind{words: schemaNames()}
	case exampleCommand.name:
		var names []string
		for _, e := range append(examples.Sets(), examples.Plans()...) {
			names = append(names, e.Name)
		}
		return behind{words: names}
	case whyCommand.name:
		var names []string
		for _, r := range rules.All {
			names = append(names, r.Name)
		}
		return behind{words: names}
	case partCommand.name:
		var names []string
		for _, k := range netlist.Kinds() {
			names = append(names, string(k.Kind))
		}
		for _, tube := range setfile.Catalogue() {
			names = append(names, tube.Name)
		}
		return behind{words: names}
	}
	return behind{takesSets: true}
}

// argument is what a flag takes: nothing, one of some words, a file, or what only the set knows.
type argument struct {
	takes bool
	words []string
	file  bool
}

func (f flagInfo) argument() argument {
	v := f.value(&options{})
	if _, alone := v.(toggle); alone {
		return argument{}
	}
	return argument{takes: true, words: v.choices(), file: v.Type() == fileType}
}

// fileType is what the help of a flag calls a file.
const fileType = "FILE"

// quoteShell puts a text between single quotes.
func quoteShell(s string) string { return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'" }

// bashScript is for bash 3.2 and later. There "=" parts words, so a flag's value stands one or two
// words behind it.
func bashScript() string {
	var b strings.Builder
	b.WriteString(`# coldcheck completion for bash

_coldcheck() {
    local cur=${COMP_WORDS[COMP_CWORD]} flag= command= i words= sets= files=
    if [[ $cur == = ]]; then
        cur=
        flag=${COMP_WORDS[COMP_CWORD-1]}
    elif [[ ${COMP_WORDS[COMP_CWORD-1]} == = ]]; then
        flag=${COMP_WORDS[COMP_CWORD-2]}
    elif [[ ${COMP_WORDS[COMP_CWORD-1]} == --* ]]; then
        flag=${COMP_WORDS[COMP_CWORD-1]}
    fi
    for ((i = 1; i < COMP_CWORD; i++)); do
        if [[ ${COMP_WORDS[i]} != -* ]]; then
            command=${COMP_WORDS[i]}
            break
        fi
    done
    case $command in
`)
	for _, c := range commands() {
		pattern := c.name
		if c == inspectCommand { // a file stands for inspect
			continue
		}
		bashCase(&b, pattern, c, "")
	}
	bashCase(&b, "*", inspectCommand, strings.Join(commandNames(), " "))
	b.WriteString(`    esac
    COMPREPLY=()
    local line
    while IFS= read -r line; do
        [[ -n $line ]] && COMPREPLY+=("$line")
    done < <(compgen -W "$words" -- "$cur"
        if [[ -n $sets$files ]]; then
            compgen -d -- "$cur"
        fi
        if [[ -n $files ]]; then
            compgen -f -- "$cur"
        elif [[ -n $sets ]]; then
            compgen -f -X '!*.toml' -- "$cur"
        fi)
    if [[ -n $sets$files ]]; then
        compopt -o filenames 2>/dev/null
    fi
}

complete -F _coldcheck coldcheck
`)
	return b.String()
}

// bashCase is what follows a command: the value of a flag, else flags, words, files. First are words
// that fit where no command is there yet.
func bashCase(b *strings.Builder, pattern string, c *command, first string) {
	b.WriteString("    " + pattern + ")\n        case $flag in\n")
	var names []string
	for _, f := range c.flags {
		names = append(names, "--"+f.name)
		arg := f.argument()
		if !arg.takes {
			continue
		}
		does := ":"
		switch {
		case arg.file:
			does = "files=1"
		case len(arg.words) > 0:
			does = "words=" + quoteShell(strings.Join(arg.words, " "))
		}
		b.WriteString("        --" + f.name + ") " + does + " ;;\n")
	}
	b.WriteString("        *)\n")
	names = append(names, "--help")
	b.WriteString("            if [[ $cur == -* ]]; then\n                words=" + quoteShell(strings.Join(names, " ")) + "\n            else\n")
	behind := c.operands()
	words := strings.Join(behind.words, " ")
	if first != "" {
		b.WriteString("                [[ -z $command ]] && words=" + quoteShell(first) + "\n")
	} else if words != "" {
		b.WriteString("                words=" + quoteShell(words) + "\n")
	}
	if behind.takesSets {
		b.WriteString("                sets=1\n")
	}
	b.WriteString("            fi\n            ;;\n        esac\n        ;;\n")
}
