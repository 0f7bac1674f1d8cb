package rules

import (
	"fmt"

	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// fuseTimes is how many times the set's normal current a fuse may be rated.
const fuseTimes = 5.0

// idleAmps: a set that draws less in the model draws its current some other way, or none.
const idleAmps = 1e-3 // A

// FuseRating finds a fuse that no one can judge, or that is too large to protect the set.
var FuseRating = &Rule{
	Name:    "fuse-rating",
	Signal:  Caution,
	Signals: "CAUTION",
	Looks:   "a fuse without a rating, and one in the line rated over five times what the set draws",
	Why: "A fuse far above the working current stays whole while a transformer, a choke or a heater string burns. Without a " +
		"rating no one can tell, and the next person fits whatever is at hand.",
	Blind: "The current that tubes draw from B-plus, which is not worked out here; the rush of cold heaters and empty reservoirs, " +
		"which a slow fuse must stand; the kind of fuse.",
	Source:  "trade practice: a slow fuse of some two to four times the working current",
	Remedy:  "Fit a slow fuse of two to four times the working current, and write its rating beside the holder and in the file.",
	Caution: "Never go up in rating because a fuse blows: find out what draws the current. Unplug before opening the holder.",
	Subject: OfLine,
	Run: func(k *Facts) []Finding {
		side := k.line
		line := setOf(union(side.hot.fuses, side.neutral.fuses))
		normal := k.normalAmps()
		var findings []Finding
		for p, f := range details[*netlist.Fuse](k.Set) {
			message := ""
			switch {
			case f.Amps == 0:
				message = fmt.Sprintf("fuse %s has no rating: no one can tell what it protects", p.Name)
			case line[p.Name] && normal > idleAmps && f.Amps > fuseTimes*normal:
				message = fmt.Sprintf("fuse %s is rated %s, %.1f times the %s that the set draws, what tubes take from B-plus not counted", p.Name, phrase.Value(f.Amps, netlist.Ampere),
					f.Amps/normal, phrase.Value(normal, netlist.Ampere))
			default:
				continue
			}
			findings = append(findings, Finding{Signal: Caution, Parts: []string{p.Name}, Message: message})
		}
		return findings
	},
}

// normalAmps is the largest working current of the set, AC and DC added, in A; 0 where every state
// is cleared.
func (k *Facts) normalAmps() float64 {
	most := 0.0
	for _, s := range k.judged {
		most = max(most, s.SupplyAmps()+s.SupplyAmpsDC())
	}
	return most
}
