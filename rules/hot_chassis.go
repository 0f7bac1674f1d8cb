package rules

import (
	"cmp"
	"fmt"

	"coldcheck/analysis/trace"
	"coldcheck/rules/phrase"
)

// lineOrder is what to do about the line side of a set whose metal was on it.
const lineOrder = "; then fuse first and the switch next, both in the hot leg"

// HotChassis finds metal that conductors alone join to the line.
var HotChassis = &Rule{
	Name:    "hot-chassis",
	Signal:  Danger,
	Signals: "DANGER; behind a guard it is told as behind-guard",
	Looks:   "a touch point that conductors alone (wires, closed switches, whole fuses) join to the hot line in at least one plug polarity and switch position",
	Why: "The metal is the line. Whoever touches it and anything earthed, a pipe, a lamp, another set, takes the whole mains voltage " +
		"through the body. Turning the plug or the switch only moves the danger to another state.",
	Blind:  "Insulation laid over the metal that the file does not name as a guard, and metal that the file does not name at all.",
	Source: "IEC 60990:2016 figure 3 and clause 6; IEC 62368-1 table 4 (ES2)",
	Remedy: liftOff + lineOrder,
	Caution: "Do not plug it in as it is. Work with the plug out and the reservoirs discharged. An isolation transformer on the bench helps " +
		"only until one earthed clip or test lead touches the set. Re-check cold and hot after the change; follow local electrical codes and qualified advice.",
	Subject: OfMetal,
	Live:    true,
	Run:     runHotChassis,
}

func runHotChassis(k *Facts) []Finding {
	return k.tellBare(func(l *liveness) bool { return !k.onePolarity(l) && len(l.joined) > 0 }, k.tellHotChassis)
}

func (k *Facts) tellHotChassis(m *Metal, l *liveness) Finding {
	f := k.tellLive(m, l.joined)
	f.Remedy = k.liftRemedy(m, f.Path, lineOrder)
	f.Message = fmt.Sprintf("%s %s on the line itself: %s", m.Name(), phrase.Be(phrase.Things(m.Nodes())), k.whenLive(l.joined))
	if len(l.loaded) > 0 {
		w := worstBlocking(l.loaded, m)
		p := trace.WithoutSafeguards(k.grounded, w.State, m.Node())
		p = cmp.Or(trace.Carrying(k.grounded, w.State, p), p)
		least := ""
		if k.atLeast(p, w.State) {
			least = "at least "
		}
		f.Notes = append(f.Notes, fmt.Sprintf("also live through %s: %s: %s%s", k.throughAll(k.grounded, w.State, p), k.whenLive(l.loaded), least, phrase.Current(w.Reading)))
	}
	return f
}
