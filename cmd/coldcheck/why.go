package main

import (
	"strings"

	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist"
	"coldcheck/rules"
)

var whyCommand = &command{
	name:     "why",
	synopsis: "[RULE]",
	summary:  "what a rule looks for, why it matters, what it does not see, what to do",
	help:     `Alone, lists the rules with their signal words. With a rule's name, as it stands at the end of a finding, it tells what the rule looks for, why that matters, what it does not see, the source it rests on, what to do and what to take care of.`,
	example:  "coldcheck why hot-chassis",
	run:      why,
}

func why(c *call) int {
	switch len(c.args) {
	case 0:
		return c.write("", func(o *output) { text.NewPage(o, o.colour).Rules(rules.All) })
	case 1:
	default:
		return c.usage("why takes one rule")
	}
	name := strings.ToLower(c.args[0])
	if r := rules.Find(name); r != nil {
		return c.write("", func(o *output) { text.NewPage(o, o.colour).Rule(r) })
	}
	if partTopic(c.args[0]) != nil {
		return c.usage("no rule %q; it is a part: coldcheck part %s", netlist.Visible(name), netlist.Visible(c.args[0]))
	}
	var names []string
	for _, r := range rules.All {
		names = append(names, r.Name)
	}
	return c.usage("no rule %q%s", netlist.Visible(name), meantOr(nearest(name, names), "coldcheck why lists them"))
}
