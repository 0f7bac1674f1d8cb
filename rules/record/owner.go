package record

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules"
	"coldcheck/rules/overview"
	"coldcheck/rules/phrase"
	"coldcheck/rules/rework"
)

// owner is what the owner of the set has to know, the most pressing first. Every word for an owner stands here.
func (r *Record) owner() []string {
	var all []string
	for _, tell := range []func(*Record) string{
		(*Record).offTheCord, (*Record).readsOtherwise, (*Record).notFit, (*Record).isolated, (*Record).notToTouch,
		(*Record).guards, (*Record).outlet, (*Record).plugWay, (*Record).legs, (*Record).off, (*Record).breakers,
		(*Record).inside, (*Record).likeByLike,
	} {
		if words := tell(r); words != "" {
			all = append(all, words)
		}
	}
	return append(all, notNew, pullIt)
}

// What holds for every set that was worked on.
const (
	notNew = "A serviced set is no new one. What was not replaced is as old as before, and goes on ageing. " +
		"This sheet tells of the wiring as described, and of the day below; have the set measured again after any change, and when it has stood for years."
	pullIt = "Pull the plug when no one is with the set, and at once at a tingle, smoke, a smell, a hum that grows, or a fuse that opens; then have it looked at before it is used."
)

// offTheCord tells of a set that is not connected to its cord.
func (r *Record) offTheCord() string {
	if !r.CutOff() {
		return ""
	}
	return "As described the set is off the line: nothing can be told of what it does there. Do not plug it in before that is put right and looked at again."
}

// readsOtherwise tells of readings that the wiring cannot give.
func (r *Record) readsOtherwise() string {
	if !r.Differ() {
		return ""
	}
	return "Readings taken on the set are not what its wiring as described gives, so it is not as described, and nothing told here can be relied on. Do not plug it in before the reason is found."
}

// notFit tells what is live now: such a set is not handed over.
func (r *Record) notFit() string {
	var words []string
	for _, i := range r.Left {
		if !i.Unseen && (i.Signal == rules.Danger || i.TellsLive() && i.Rule != rules.BehindGuard) {
			words = append(words, i.Message)
		}
	}
	if len(words) == 0 {
		return ""
	}
	return "Pull the plug and leave it out. The set is not fit to be used, nor to be handed over for use: " + phrase.FewOf(words, livesTold, "; ", "more") + "."
}

// livesTold is how many findings of what is live are told before the rest is counted.
const livesTold = 4

// isolated tells of metal that is live what an isolating transformer does for it and what it does not.
func (r *Record) isolated() string {
	if !slices.ContainsFunc(r.Now.Metals, live) {
		return ""
	}
	return "Until that is cured it needs an isolating transformer, with nothing else on it, and is run by none but those who know what they do. " +
		"That transformer takes the line off metal to earth, not from one piece of metal to another, and one antenna, ground lead or clip on earth ends it."
}

// live reports whether metal is told to be live with nothing failed, and with no guard before it that anyone
// vouches for.
func live(m *overview.Metal) bool {
	return m.Normal != nil && m.Normal.Class() == analysis.Live && !m.Guarded() ||
		slices.ContainsFunc(m.Now, func(f *rules.Finding) bool {
			return f.TellsLive() && (f.Rule != rules.BehindGuard || f.Signal == rules.Danger)
		})
}

// liveBehind reports whether a guard is all that stands before metal that is live.
func liveBehind(m *overview.Metal) bool {
	return !live(m) && (m.Normal != nil && m.Normal.Class() == analysis.Live || slices.ContainsFunc(m.Now, (*rules.Finding).TellsLive))
}

// notToTouch tells what metal no hand belongs on while the plug is in, and why.
func (r *Record) notToTouch() string {
	var lives, startle, one, layer []string
	for _, m := range r.Now.Metals {
		names := phrase.Visible(m.Nodes())
		switch {
		case live(m):
			lives = append(lives, names...)
		case liveBehind(m): // guards tells of it
		case m.Normal != nil && m.Normal.Class() == analysis.Startles:
			startle = append(startle, names...)
		case failing(m) >= rules.Warning:
			one = append(one, names...)
		case failing(m) == rules.Caution:
			layer = append(layer, names...)
		}
	}
	var words []string
	tell := func(names []string, format string) {
		if len(names) > 0 {
			words = append(words, fmt.Sprintf(format, phrase.List(names), phrase.Be(phrase.Things(names))))
		}
	}
	tell(lives, "%s %s live, as told above")
	tell(startle, "%s %s enough to startle")
	tell(one, "%s %s one failure from live")
	told := ""
	if len(words) > 0 {
		told = "While the plug is in, keep hands off, above all with the other hand on a tap, a radiator or another set: " + strings.Join(words, "; ") + "."
	}
	if len(layer) > 0 {
		told = strings.TrimSpace(told + " " + fmt.Sprintf("One layer of insulation is all that keeps the line off %s: do not touch %s and a tap, a radiator or another set at the same time.",
			phrase.List(layer), phrase.It(phrase.Things(layer))))
	}
	return told
}

// failing is the strongest signal word of what makes metal live by one failure, less than a NOTICE where
// nothing does.
func failing(m *overview.Metal) rules.Signal {
	worst := rules.Notice - 1
	for _, f := range m.Failing {
		worst = max(worst, f.Signal)
	}
	for _, f := range m.Shared {
		if f.Rule.Failure != rules.NoFailure {
			worst = max(worst, f.Signal)
		}
	}
	return worst
}

// guards tells what keeps fingers off metal of which nothing is bare.
func (r *Record) guards() string {
	var names, lives []string
	for _, m := range r.Now.Metals {
		if !m.Guarded() {
			continue
		}
		if liveBehind(m) {
			lives = append(lives, phrase.Visible(m.Nodes())...)
		}
		for _, p := range m.Points {
			names = append(names, fmt.Sprintf("the %s over %s", p.Guard, netlist.Visible(p.Name)))
		}
	}
	if len(names) == 0 {
		return ""
	}
	words := "Keep in place what keeps fingers off metal, and do not use the set without it: " + phrase.List(names) + "."
	if len(lives) > 0 {
		words += fmt.Sprintf(" Behind it %s %s live.", phrase.List(lives), phrase.Be(phrase.Things(lives)))
	}
	return words
}

// outlet tells which outlet it belongs in.
func (r *Record) outlet() string {
	set := r.After.Case.Set
	mains := phrase.Stated(set.Volts, netlist.Volt) + " " + phrase.Stated(set.Hertz, netlist.Hertz)
	_, plug := set.Plug()
	switch plug.Style {
	case "grounding":
		return "Outlet: " + mains + " and no other, with an earth contact that was tested. No adapter and no cord without one: the earth is a safeguard of this set."
	case "polarized":
		return "Outlet: " + mains + " and no other, polarized and tested. No adapter, cord or filed blade that lets the plug go in the other way round."
	}
	return "Outlet: " + mains + " and no other, tested."
}

// plugWay tells what the way of the plug does.
func (r *Record) plugWay() string {
	c := r.After.Case.Circuit
	_, plug := c.Set.Plug()
	if plug.Style == "plain" {
		if c.BothHot() {
			return ""
		}
		return "The plug goes in either way round, and nothing tells which: what this sheet says of the set now is of the worse of the two."
	}
	var fewer []string
	for _, m := range r.Now.Metals {
		if p := m.Points[0]; !live(m) && p.Depth != analysis.None && p.Depth != p.DepthAsMarked {
			fewer = append(fewer, m.Name())
		}
	}
	if len(fewer) == 0 || c.BothHot() {
		return ""
	}
	return fmt.Sprintf("Where an outlet is wired backwards, hot for neutral, there is a safeguard less between the line and %s: have the outlet tested.", phrase.List(fewer))
}

// legs tells of mains of which neither leg is the neutral.
func (r *Record) legs() string {
	set := r.After.Case.Set
	switch set.Earthed {
	case netlist.EarthedMidpoint:
		return fmt.Sprintf("Both legs of these mains are hot, each %s to earth: turning the plug over changes nothing.", phrase.Volts(set.Volts/2))
	case netlist.EarthedStar:
		return fmt.Sprintf("Both legs of these mains are hot, each %s to earth: turning the plug over changes nothing.", phrase.Volts(set.Volts/math.Sqrt(3)))
	case netlist.EarthedNowhere:
		return "Nothing of these mains is earthed. Once anything on them meets earth, one leg stands at the full line volts, and no one is told: a set that read nothing before can be live then."
	}
	return ""
}

// off tells what the switch does not do.
func (r *Record) off() string {
	for _, m := range r.Now.Metals {
		switch {
		case !m.HasOff:
			return "It has no switch for the line: only the pulled plug turns it off."
		case m.Off != nil && m.Off.Class() > analysis.UnderLimit:
			return "Switched off it still drives current to metal: only the pulled plug turns it off."
		}
	}
	if len(r.left(rules.SwitchInNeutral, rules.Warning))+len(r.left(rules.SwitchAfterLoad, rules.Warning))+len(r.left(rules.NoSwitch, rules.Notice)) > 0 {
		return "Switched off it still hangs on the line: only the pulled plug turns it off."
	}
	return ""
}

// breakers tells what the rules say of a ground fault interrupter.
func (r *Record) breakers() string {
	var words []string
	for _, i := range r.Left {
		for _, text := range append([]string{i.Message}, strings.SplitAfter(i.Caution, ". ")...) {
			if text = strings.TrimSpace(text); strings.Contains(text, "GFCI") && !slices.Contains(words, text) {
				words = append(words, text)
			}
		}
	}
	for i := range words {
		words[i] = strings.TrimSuffix(words[i], ".") + "."
	}
	return strings.Join(words, " ")
}

// inside tells what is inside, and what stays there when the plug is out.
func (r *Record) inside() string {
	words := "Inside is line voltage"
	var keep []string
	most, drains := 0.0, true
	for _, s := range r.After.Case.Result.Stored {
		if !slices.ContainsFunc(r.left(rules.StoredCharge, rules.Notice), func(i rework.Item) bool { return slices.Contains(i.Parts, s.Part) }) {
			continue // too little to be told
		}
		keep = append(keep, netlist.Visible(s.Part))
		most = max(most, s.Volts)
		drains = drains && !math.IsInf(s.Seconds, 0)
	}
	if len(keep) > 0 {
		words += fmt.Sprintf(", and %s keep%s up to %s after the plug is out", phrase.Few(keep, partsTold), phrase.Pick(len(keep), "s", ""), phrase.Volts(most))
		if !drains {
			words += ", which nothing drains"
		}
	}
	return words + ". No one opens it who cannot discharge it and measure that it is empty."
}

// partsTold is how many parts are named before the rest is counted.
const partsTold = 4

// likeByLike tells the parts on which it rests, and that another of the name will not do.
func (r *Record) likeByLike() string {
	set := r.After.Case.Set
	var words []string
	for _, p := range set.Parts {
		switch d := p.Detail.(type) {
		case *netlist.Fuse:
			if d.Amps > 0 {
				words = append(words, fmt.Sprintf("%s (fuse, %s)", netlist.Visible(p.Name), phrase.Amps(d.Amps)))
			}
		case *netlist.Capacitor:
			if d.Class != "" {
				words = append(words, fmt.Sprintf("%s (class %s)", netlist.Visible(p.Name), d.Class))
			}
		case *netlist.Transformer:
			if r.restsOn(p.Name) {
				words = append(words, fmt.Sprintf("%s (%s insulation)", netlist.Visible(p.Name), d.Insulation))
			}
		}
	}
	if len(words) == 0 {
		return ""
	}
	return "Replace only like by like: " + phrase.List(words) + "."
}

// restsOn reports whether a part is a safeguard between the line and metal.
func (r *Record) restsOn(part string) bool {
	return slices.ContainsFunc(r.After.Case.Result.Points, func(p *analysis.PointResult) bool {
		return slices.ContainsFunc(p.FaultSets, func(s analysis.FaultSet) bool {
			return slices.ContainsFunc(s.Faults, func(f *analysis.Fault) bool { return f.Part == part && f.Cost > 0 })
		})
	})
}
