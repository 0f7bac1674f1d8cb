package main

import (
	"slices"

	"github.com/spf13/cobra"

	"coldcheck/cmd/coldcheck/text"
	"coldcheck/cmd/coldcheck/usage"
	"coldcheck/netlist"
	"coldcheck/netlist/setfile"
	"coldcheck/rules"
	"coldcheck/rules/phrase"
)

func partCommand(p *program) *cobra.Command {
	o := &options{}
	c := p.command(o, part, &cobra.Command{
		Use:               "part [KIND|TUBE]",
		Short:             "what a kind of part takes in a set file, what a tube type is",
		Long:              `Alone, lists the kinds of part and the tube types. With a kind, or another word of the trade for it, it tells the keys that the kind takes and a line to copy. With a tube type it tells its heater, its pins and a line to copy.`,
		Example:           "coldcheck part capacitor\ncoldcheck part 35W4",
		Args:              atMostOne("kind or one tube type"),
		ValidArgsFunction: firstOf(partNames),
	})
	o.textFlags(c.Flags())
	return c
}

// topic is what part tells of: a kind, or a tube type.
type topic struct {
	kind *netlist.KindInfo
	tube *netlist.TubeType
}

// partTopic finds what a word stands for, nil where it is no part.
func partTopic(word string) *topic {
	if kind := netlist.KindByWord(word); kind != nil {
		return &topic{kind: kind}
	}
	if tube, _ := setfile.FindTubeType(word); tube != nil {
		return &topic{tube: tube}
	}
	return nil
}

func part(c *call) int {
	if len(c.args) == 0 {
		return c.show(func(p *text.Page) {
			p.Parts(append(slices.Clone(netlist.Kinds()), *netlist.Can()), setfile.Catalogue())
		})
	}
	name := c.args[0]
	found := partTopic(name)
	switch {
	case found == nil:
		return c.noPart(name)
	case found.kind != nil:
		return c.show(func(page *text.Page) {
			page.Kind(found.kind, netlist.PartKeys())
			if found.kind.Kind == netlist.KindTube {
				page.Blank()
				page.TubeTypes(setfile.Catalogue())
			}
		})
	}
	return c.show(func(p *text.Page) { p.Tube(found.tube) })
}

// noPart tells what a word that is no part may have been meant to be.
func (c *call) noPart(name string) int {
	shown := netlist.Visible(name)
	if rules.Find(name) != nil {
		return c.usage("no part %q; it is a rule: coldcheck why %s", shown, shown)
	}
	if _, several := setfile.FindTubeType(name); len(several) > 0 {
		return c.usage("several tube types may be %q: %s", shown, phrase.Or(several))
	}
	near := netlist.Nearest(name, kindNames())
	if near == "" {
		near = setfile.NearestTubeType(name)
	}
	if near == "" {
		return c.usage("no part and no tube type %q; coldcheck part lists them. A type that is missing goes into the set file's [tube_types]", shown)
	}
	return c.usage("no part and no tube type %q%s", shown, usage.Meant(near))
}

func kindNames() []string {
	return each(netlist.Kinds(), func(k netlist.KindInfo) string { return string(k.Kind) })
}

// partNames are the kinds of part and the tube types.
func partNames() []string {
	return append(append(kindNames(), string(netlist.KindCan)), each(setfile.Catalogue(), func(t *netlist.TubeType) string { return t.Name })...)
}
