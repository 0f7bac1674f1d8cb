package rules

import (
	"fmt"

	"coldcheck/analysis"
	"coldcheck/rules/phrase"
)

// LineShort finds states that short the line.
var LineShort = &Rule{
	Name:    "line-short",
	Signal:  Danger,
	Signals: "DANGER",
	Looks:   "a plug polarity or switch position that shorts the line: a breaker would open, or conductors (a rectifier that conducts counted as one) join both blades",
	Why: "A short burns what is weakest before a breaker opens: a switch, a cord, a rivet. And while the line is shorted nothing else can be judged, " +
		"so other hazards may hide behind it. If the breaker or the fuse is too large, it is a fire.",
	Blind:  "Whether a fuse in the set or a breaker ahead of it really opens, and how fast.",
	Source: "the model's limit of 20 A AC in either side of the supply; IEC 62368-1 annex B (abnormal operation)",
	Remedy: "find what joins the two sides along the path told, and open it; check the file first, since two ends swapped in it look like this; " +
		"then fit a fuse in the hot leg, sized to the set",
	Caution: "Do not plug it in to see. Unplugged, measure blade to blade with the switch on and off before and after: " +
		"a few ohms are heaters or a winding, zero is a short. Follow local electrical codes.",
	Subject: OfLine,
	Live:    true,
	Run:     runLineShort,
}

func runLineShort(k *Facts) []Finding {
	var rows []analysis.Row
	var path *analysis.Path
	for i, s := range k.normal {
		joined := k.joinsBlades(k.wirings[i])
		if !s.Cleared && joined == nil {
			continue
		}
		rows = append(rows, analysis.Row{State: s.State})
		if path == nil {
			path = joined
		}
	}
	if len(rows) == 0 {
		return nil
	}
	hot, neutral := k.Circuit.Blades(rows[0].State.Plug)
	if path == nil {
		if p, ok := k.Circuit.Wiring(rows[0].State).Shortest(hot, neutral, analysis.Query{Pass: analysis.Channel.Free}); ok {
			path = &p
		}
	}
	f := Finding{Signal: Danger, Nodes: []string{hot, neutral}, Path: path, Parts: path.Parts(), Worst: &analysis.Worst{State: rows[0].State}}
	if k.bothHot() != "" {
		f.Remedy = "find what joins the two sides along the path told, and open it; check the file first, since two ends swapped in it look like this; " +
			"then fit a fuse in each leg, sized to the set"
	}
	f.Message = "the line is shorted: " + whenStands(rows, k.Circuit)
	if n := k.Result.NotJudged; n.States > 0 {
		f.Notes = append(f.Notes, fmt.Sprintf("of %d states (no fault or one) %d %s not judged: a breaker opens then", n.Of, n.States, phrase.Were(n.States)))
	}
	for _, s := range k.normal {
		if s.Cleared {
			f.Figures = fmt.Sprintf("%s in the supply; over %s a breaker is taken to open", phrase.Amps(s.SupplyAmps()), phrase.Amps(analysis.ClearedAmps))
			break
		}
	}
	return []Finding{f}
}

// joinsBlades is the path by conductors from blade to blade, one rectifier at most counted as one,
// or nil.
func (k *Facts) joinsBlades(w *analysis.Wiring) *analysis.Path {
	hot, neutral := k.Circuit.Blades(w.State.Plug)
	for _, r := range append([]string{""}, k.Circuit.Rectifiers...) {
		p, ok := w.Shortest(hot, neutral, analysis.Query{Pass: func(ch analysis.Channel) bool {
			return ch.Sort == analysis.Conductor || ch.Sort == analysis.Rectifying && ch.Piece == r
		}})
		if ok {
			return &p
		}
	}
	return nil
}
