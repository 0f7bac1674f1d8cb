package rules

import (
	"fmt"

	"coldcheck/rules/phrase"
)

// BehindGuard finds live metal that only a guard keeps fingers off.
var BehindGuard = &Rule{
	Name:    "behind-guard",
	Signal:  Warning,
	Signals: "WARNING",
	Looks:   "metal that polarity-only, hot-chassis or live-through-load would tell, but for a guard (closed cabinet, knob, cover, sleeve) that keeps fingers off",
	Why: "The guard is then the only safeguard there is. A knob pulled off, a back taken off, a cracked cabinet or a screw that reaches " +
		"the metal ends it, and the next person does not know.",
	Blind:  "How well the guard fits, whether a finger or a chain goes through a slot, and screws that pass through it.",
	Source: "IEC 62368-1 clause 5.3 (one safeguard between a person and ES3 is not enough); IEC 61140",
	Remedy: "give it a second safeguard: lift the line side off this metal behind a class Y capacitor, or feed the set through an isolating " +
		"transformer; until then fix the guard so that it comes off only with a tool, and cover its screws",
	Caution: "Never work on it plugged in with the guard off. Pull the plug, discharge the reservoirs, measure first. " +
		"Re-check cold and hot after the change; follow local electrical codes and qualified advice.",
	Subject: OfMetal,
	Live:    true,
	Run:     runBehindGuard,
}

func runBehindGuard(k *Facts) []Finding {
	var all []Finding
	for _, m := range k.Metals {
		l := k.live(m)
		if !m.Guarded() || !l.ever() {
			continue
		}
		rows := l.joined
		how := "on the line itself"
		if len(rows) == 0 {
			rows = l.loaded
		}
		f := k.tellLive(m, rows)
		if len(l.joined) == 0 {
			how = k.liveWord() + " through " + k.through(f.Path)
		}
		guard := m.guardWords()
		f.Signal = Warning
		f.Between = guard + ", and nothing else"
		f.Message = fmt.Sprintf("%s %s %s behind %s alone: %s", m.Name(), phrase.Be(phrase.Things(m.Nodes())), how, guard, k.whenLive(l.all()))
		all = append(all, f)
	}
	return all
}
