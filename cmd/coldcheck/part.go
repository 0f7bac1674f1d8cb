package main

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"coldcheck/cmd/coldcheck/flags"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/cmd/coldcheck/usage"
	"coldcheck/netlist"
	"coldcheck/netlist/draft"
	"coldcheck/netlist/plan"
	"coldcheck/netlist/setfile"
	"coldcheck/rules"
	"coldcheck/rules/phrase"
)

func partCommand(p *program) *cobra.Command {
	o := &options{}
	c := p.command(o, part, &cobra.Command{
		Use:   "part [KIND|TUBE|TOPIC]",
		Short: "what a part takes in a set file, what a tube type is, how readings, plans and values are written",
		Long: `Alone, lists the kinds of part, what else the format has, and the tube types. With a kind, or another word of the trade for it, it tells the keys that the kind takes and a line to copy. With a tube type it tells its heater, its pins and a line to copy. ` +
			`With readings, plan, nodes, values, bands and the other topics of the list it tells how those are written.`,
		Example:           "coldcheck part capacitor\ncoldcheck part 35W4\ncoldcheck part readings\ncoldcheck part --tubes 150mA",
		Args:              atMostOne("kind, one tube type or one topic"),
		ValidArgsFunction: firstOf(partNames),
	})
	c.Flags().Var(flags.Current(&o.tubes, heaterCurrents), "tubes", "list the tube types whose heater takes this current, like 150mA")
	o.textFlags(c.Flags())
	return c
}

// topics are what part tells of beside the kinds and the tube types.
func topics() []netlist.Topic {
	return append(slices.Clone(netlist.Topics()), plan.Topic(), draft.Topic())
}

// partSubject is what part tells of: a kind, a tube type, or a topic.
type partSubject struct {
	kind  *netlist.KindInfo
	tube  *netlist.TubeType
	topic *netlist.Topic
}

// partOf finds what a word stands for, nil where it is nothing that part tells of.
func partOf(word string) *partSubject {
	if kind := netlist.KindByWord(word); kind != nil {
		return &partSubject{kind: kind}
	}
	if topic := netlist.FindTopic(topics(), word); topic != nil {
		return &partSubject{topic: topic}
	}
	if tube, _ := setfile.FindTubeType(word); tube != nil {
		return &partSubject{tube: tube}
	}
	return nil
}

func part(c *call) int {
	switch {
	case c.options.tubes > 0 && len(c.args) > 0:
		return c.usage("--tubes lists tube types by themselves; leave %q out", netlist.Visible(c.args[0]))
	case c.options.tubes > 0:
		return c.tubesOf(c.options.tubes)
	case len(c.args) == 0:
		return c.show(func(p *text.Page) {
			p.Parts(netlist.KindsAndCan(), topics(), setfile.Catalogue())
		})
	}
	name := c.args[0]
	found := partOf(name)
	switch {
	case found == nil:
		return c.noPart(name)
	case found.topic != nil:
		return c.show(func(p *text.Page) { p.Topic(found.topic) })
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

// tubesOf lists the types of a heater current, the highest volts first.
func (c *call) tubesOf(amps float64) int {
	tubes := slices.DeleteFunc(setfile.Catalogue(), func(t *netlist.TubeType) bool { return t.Heater == nil || !sameCurrent(t.Heater.Amps, amps) })
	if len(tubes) == 0 {
		return c.usage("no tube type has a heater of %s; there are heaters of %s", netlist.FormatValue(amps, netlist.Ampere), phrase.List(heaterCurrents()))
	}
	slices.SortStableFunc(tubes, func(a, b *netlist.TubeType) int { return cmp.Compare(b.Heater.Volts, a.Heater.Volts) })
	return c.show(func(p *text.Page) { p.TubesOf(amps, tubes) })
}

// sameCurrent reports whether two currents are one but for how they are written.
func sameCurrent(a, b float64) bool { return math.Abs(a-b) < 1e-6*b }

// heaterCurrents are the heater currents of the catalogue, as they are written, the least first.
func heaterCurrents() []string {
	var amps []float64
	for _, t := range setfile.Catalogue() {
		if t.Heater != nil {
			amps = append(amps, t.Heater.Amps)
		}
	}
	slices.Sort(amps)
	return each(slices.Compact(amps), func(x float64) string {
		return strings.ReplaceAll(netlist.FormatValue(x, netlist.Ampere), " ", "")
	})
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
	near := netlist.Nearest(name, append(kindNames(), topicNames()...))
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

func topicNames() []string { return each(topics(), func(t netlist.Topic) string { return t.Name }) }

// partNames are the kinds of part, the topics and the tube types.
func partNames() []string {
	return append(slices.Concat(kindNames(), []string{string(netlist.KindCan)}, topicNames()), each(setfile.Catalogue(), func(t *netlist.TubeType) string { return t.Name })...)
}
