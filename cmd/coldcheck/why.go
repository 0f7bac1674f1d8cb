package main

import (
	"strings"

	"github.com/spf13/cobra"

	"coldcheck/cmd/coldcheck/text"
	"coldcheck/cmd/coldcheck/usage"
	"coldcheck/netlist"
	"coldcheck/rules"
)

func whyCommand(p *program) *cobra.Command {
	o := &options{}
	c := p.command(o, why, &cobra.Command{
		Use:               "why [RULE]",
		Short:             "what a rule looks for, why it matters, what it does not see, what to do",
		Long:              `Alone, lists the rules with their signal words. With a rule's name, as inspect tells it under more, it tells what the rule looks for, why that matters, what it does not see, the source it rests on, what to do and what to take care of.`,
		Example:           "coldcheck why hot-chassis",
		Args:              atMostOne("rule"),
		ValidArgsFunction: firstOf(ruleWords),
	})
	o.textFlags(c.Flags())
	return c
}

func why(c *call) int {
	if len(c.args) == 0 {
		return c.show(func(p *text.Page) { p.Rules(rules.All) })
	}
	name := strings.ToLower(c.args[0])
	if r := rules.Find(name); r != nil {
		return c.show(func(p *text.Page) { p.Rule(r) })
	}
	if partOf(c.args[0]) != nil {
		return c.usage("no rule %q; it is a part: coldcheck part %s", netlist.Visible(name), netlist.Visible(c.args[0]))
	}
	return c.usage("no rule %q%s", netlist.Visible(name), usage.MeantOr(netlist.Nearest(name, ruleNames()), "coldcheck why lists them"))
}

func ruleNames() []string {
	return each(rules.All, func(r *rules.Rule) string { return r.Name })
}

func ruleWords() []string {
	return each(rules.All, func(r *rules.Rule) string { return cobra.CompletionWithDesc(r.Name, r.Looks) })
}
