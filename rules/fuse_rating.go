package rules

import (
	"fmt"
	"slices"

	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// fuseTimes is how many times the set's normal current a fuse may be rated.
const fuseTimes = 5.0

// idleAmps: a set that draws less in the model draws its current some other way, or none.
const idleAmps = 1e-3 // A

// fuseAmps are usual fuse ratings, A; the first that is fuseMargin times what the set draws is taken.
var fuseAmps = []float64{0.05, 0.1, 0.2, 0.25, 0.5, 0.75, 1, 1.5, 2, 3, 5, 10, 15}

const fuseMargin = 2

// FuseFor is the rating of the slow fuse that suits a set which draws so much, in A.
func FuseFor(amps float64) float64 {
	i, _ := slices.BinarySearch(fuseAmps, fuseMargin*amps)
	return fuseAmps[min(i, len(fuseAmps)-1)]
}

// FuseRating finds a fuse that no one can judge, or that is too large to protect the set.
var FuseRating = &Rule{
	Name:    "fuse-rating",
	Signal:  Caution,
	Signals: "CAUTION",
	Looks:   "a fuse without a rating, and one in the line rated over five times what the set draws",
	Why: "A fuse far above the working current stays whole while a transformer, a choke or a heater string burns. Without a " +
		"rating no one can tell, and the next person fits whatever is at hand.",
	Blind:   "The rush of cold heaters and empty reservoirs, which a slow fuse must stand; the kind of fuse; tubes that are no usual ones.",
	Source:  "trade practice: a slow fuse of some two to four times the working current, which is worked out with the tubes drawing",
	Remedy:  "Fit a slow fuse of two to four times the working current, and write its rating beside the holder and in the file.",
	Caution: "Never go up in rating because a fuse blows: find out what draws the current. Unplug before opening the holder.",
	Subject: OfLine,
	Run: func(k *Facts) []Finding {
		line := k.line.Fuses()
		normal, _ := k.Circuit.LineAmps()
		var findings []Finding
		for p, f := range details[*netlist.Fuse](k.Set) {
			message := ""
			switch {
			case f.Amps == 0:
				message = fmt.Sprintf("fuse %s has no rating: no one can tell what it protects", p.Name)
			case slices.Contains(line, p.Name) && normal > idleAmps && f.Amps > fuseTimes*normal:
				message = fmt.Sprintf("fuse %s is rated %s, %.1f times the %s that the set draws while it plays", p.Name, phrase.Value(f.Amps, netlist.Ampere),
					f.Amps/normal, phrase.Value(normal, netlist.Ampere))
			default:
				continue
			}
			found := Finding{Signal: Caution, Parts: []string{p.Name}, Message: message}
			if slices.Contains(line, p.Name) && normal > idleAmps {
				found.Remedy = fmt.Sprintf("Fit a slow fuse of %s, and write its rating beside the holder and in the file.", phrase.Value(FuseFor(normal), netlist.Ampere))
			}
			findings = append(findings, found)
		}
		return findings
	},
}
