package main

import (
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"coldcheck/cmd/coldcheck/flags"
	"coldcheck/cmd/coldcheck/output"
	"coldcheck/cmd/coldcheck/usage"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

func completionCommand(p *program) *cobra.Command {
	return p.command(&options{}, completion, &cobra.Command{
		Use:   "completion SHELL",
		Short: "what makes a shell complete commands, flags, their values and set files",
		Long: `Prints the completion for bash, zsh, fish or powershell, to be read by the shell when it starts:

bash: coldcheck completion bash > ~/.local/share/bash-completion/completions/coldcheck

zsh: coldcheck completion zsh > a file _coldcheck in a folder of $fpath

fish: coldcheck completion fish > ~/.config/fish/completions/coldcheck.fish

powershell: coldcheck completion powershell >> $PROFILE`,
		Example:           `coldcheck completion bash`,
		ValidArgsFunction: firstOf(shellNames),
	})
}

// shell is a shell that can be completed for.
type shell struct {
	name   string
	script func(root *cobra.Command, w io.Writer) error
}

var shells = []shell{
	{"bash", func(root *cobra.Command, w io.Writer) error {
		err := root.GenBashCompletionV2(w, true)
		if err == nil {
			_, err = io.WriteString(w, bashWords)
		}
		return err
	}},
	{"zsh", (*cobra.Command).GenZshCompletion},
	{"fish", func(root *cobra.Command, w io.Writer) error { return root.GenFishCompletion(w, true) }},
	{"powershell", (*cobra.Command).GenPowerShellCompletionWithDesc},
}

// bashWords puts the words together that bash parts at "=" and ":", where the shell has no package of
// completions that would do it.
const bashWords = `
__coldcheck_init_completion() {
    local i
    words=("${COMP_WORDS[0]}")
    for ((i = 1; i <= COMP_CWORD; i++)); do
        if ((i > 1)) && [[ ${COMP_WORDS[i]} == [=:]* || ${COMP_WORDS[i-1]} == *[=:] ]]; then
            words[${#words[@]}-1]+=${COMP_WORDS[i]}
        else
            words+=("${COMP_WORDS[i]}")
        fi
    done
    cword=$((${#words[@]} - 1))
    cur=${words[cword]}
    prev=
    if ((cword > 0)); then
        prev=${words[cword-1]}
    fi
}
`

func shellNames() []string {
	return each(shells, func(s shell) string { return s.name })
}

func completion(c *call) int {
	if len(c.args) != 1 {
		return c.usage("completion takes one of %s", phrase.Or(shellNames()))
	}
	i := slices.Index(shellNames(), c.args[0])
	if i < 0 {
		return c.usage("no completion for %q; there is one for %s", netlist.Visible(c.args[0]), phrase.List(shellNames()))
	}
	return c.write("", func(o *output.Output) error { return shells[i].script(c.command.Root(), o) })
}

// asksCompletion reports whether it is a shell that asks, by the script of its completion.
func asksCompletion(args []string) bool {
	return len(args) > 1 && (args[0] == cobra.ShellCompRequestCmd || args[0] == cobra.ShellCompNoDescRequestCmd)
}

// registerValues tells cobra what flags take. It keeps that for the whole process, so it is told only
// when a shell asks.
func (p *program) registerValues() {
	for _, c := range append([]*cobra.Command{p.root}, p.commands...) {
		for _, f := range usage.Flags(c) {
			c.RegisterFlagCompletionFunc(f.Name, valuesOf(f)) // fails for a flag that is not there, or is there twice
		}
	}
}

// valuesOf completes the value of a flag: one of some words, any file, or what only the set knows.
func valuesOf(f *pflag.Flag) cobra.CompletionFunc {
	return func(_ *cobra.Command, _ []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
		if f.Value.Type() == fileType {
			return filesFrom(typed, func(string) bool { return true })
		}
		return beginning(flags.Choices(f.Value), typed), cobra.ShellCompDirectiveNoFileComp
	}
}

// firstOf completes the first argument, by words with what they stand for behind a tab.
func firstOf(words func() []string) cobra.CompletionFunc {
	return func(_ *cobra.Command, args []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
		if len(args) > 0 {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		return beginning(words(), typed), cobra.ShellCompDirectiveNoFileComp
	}
}

func beginning(words []string, typed string) []string {
	return slices.DeleteFunc(slices.Clone(words), func(w string) bool { return !strings.HasPrefix(w, typed) })
}

// setFiles completes arguments that are set files.
func setFiles(_ *cobra.Command, _ []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
	return filesFrom(typed, func(name string) bool { return filepath.Ext(name) == ".toml" })
}

// filesFrom completes the name of a file that is wanted, or of a folder on the way to one. The shells
// do it in as many ways as they are, and none beside other words, so it is done here; where nothing
// is found the shell has its own try, which knows what ~ is.
func filesFrom(typed string, wanted func(name string) bool) ([]cobra.Completion, cobra.ShellCompDirective) {
	folder, begun := filepath.Split(typed)
	entries, err := os.ReadDir(filepath.Join(".", folder))
	if filepath.IsAbs(folder) {
		entries, err = os.ReadDir(folder)
	}
	if err != nil {
		return nil, cobra.ShellCompDirectiveDefault
	}
	var found []string
	for _, e := range entries {
		name := e.Name()
		hidden := begun == "" && strings.HasPrefix(name, ".")
		if hidden || !strings.HasPrefix(name, begun) || netlist.Visible(name) != name {
			continue
		}
		info, err := os.Stat(filepath.Join(folder, name)) // follows a link, as e does not
		switch {
		case err == nil && info.IsDir():
			found = append(found, folder+name+"/")
		case wanted(name):
			found = append(found, folder+name)
		}
	}
	if len(found) == 1 && strings.HasSuffix(found[0], "/") {
		return found, cobra.ShellCompDirectiveNoSpace
	}
	return found, cobra.ShellCompDirectiveDefault
}
