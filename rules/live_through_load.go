package rules

import (
	"fmt"

	"coldcheck/rules/phrase"
)

// LiveThroughLoad finds metal that is live through heaters, lamps, motors, windings or resistors.
var LiveThroughLoad = &Rule{
	Name:    "live-through-load",
	Signal:  Danger,
	Signals: "DANGER; behind a guard it is told as behind-guard",
	Looks:   "a touch point that is live through heaters, lamps, motors, windings or resistors, although no wire joins it to the hot line",
	Why: "A heater string or a motor limits the current to what the set draws, not to what a body bears. Most often it happens with the switch " +
		"off: the switch opens the other leg, the set goes dark, and its metal hangs on the hot line through its own heaters.",
	Blind:  "Cold heaters and lamps have about six times less resistance than the figures use: such currents are told as at least so much.",
	Source: "IEC 60990:2016 figure 3 and clause 6; IEC 62368-1 table 4 (ES2)",
	Remedy: "put the fuse and then the switch into the hot leg, ahead of every load, or fit a two-pole switch; " +
		"and lift the line side off this metal, joined to it by a class Y capacitor alone",
	Caution: "A set that is switched off is not dead while it is plugged in. Pull the plug, discharge the reservoirs, and measure before you touch. " +
		"Re-check in both plug polarities and both switch positions after the change; follow local electrical codes and qualified advice.",
	Subject: OfMetal,
	Live:    true,
	Run:     runLiveThroughLoad,
}

func runLiveThroughLoad(k *Facts) []Finding {
	return k.tellBare(func(l *liveness) bool { return !k.onePolarity(l) && len(l.joined) == 0 }, k.tellThroughLoad)
}

func (k *Facts) tellThroughLoad(m *Metal, l *liveness) Finding {
	f := k.tellLive(m, l.loaded)
	if k.bothHot() != "" {
		f.Remedy = k.liftRemedy(m, f.Path, "")
	}
	f.Message = fmt.Sprintf("%s %s %s through %s: %s", m.Name(), phrase.Be(phrase.Things(m.Nodes())), k.liveWord(), k.throughAll(k.grounded, f.Worst.State, f.Path), k.whenLive(l.loaded))
	return f
}
