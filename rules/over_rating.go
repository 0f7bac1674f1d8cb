package rules

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// ratingSlack keeps rounding from being taken for an overload.
const ratingSlack = 1.001

// OverRating finds capacitors that stand more volts than they are rated for.
var OverRating = &Rule{
	Name:    "over-rating",
	Signal:  Warning,
	Signals: "WARNING; NOTICE where only the peak with no load is over",
	Looks: "a capacitor whose worst AC peak and DC together exceed its rating, also with touchable metal earthed; of several in series between the line and " +
		"a hand, with another of them shorted",
	Why: "A capacitor over its volts leaks, heats and shorts. Where it lies across the line or on B-plus that is a fire or a burst can; " +
		"where it stands before metal that a hand can reach, the short makes that metal live.",
	Blind: "Surges, high line, and the volts that tubes make: audio, oscillator, sweep and boost. What rectifiers feed is judged by the volts of a " +
		"set that plays with usual tubes.",
	Source: "the maker's rating; an AC rating counts √2 times; the DC under load is worked out with the tubes drawing",
	Remedy: "Fit a part rated for the peak with no load and a margin: 160 V or more on B-plus at 120 V with a tube rectifier, 200 V with silicon; " +
		"across the line a class X part.",
	Caution: "Discharge the reservoir through a resistor and measure it before touching. A can that has stood over its rating may burst: keep your face away.",
	Subject: OfPart,
	Stress:  true,
	Run: func(k *Facts) []Finding {
		loading := sync.OnceValue(k.loading)
		worst := map[string]*stress{}
		partners, shorted := k.gaps.SeriesPartners()
		k.Circuit.EachStanding(shorted, func(s analysis.Standing) {
			for p, c := range details[*netlist.Capacitor](k.Set) {
				if c.Rating == 0 || s.Shorted != "" && !slices.Contains(partners[p.Name], s.Shorted) {
					continue
				}
				ac, dc := s.Across(c.Ends[0], c.Ends[1])
				idle := math.Sqrt2*ac + math.Abs(dc)
				load := idle
				if idle > c.Peak()*ratingSlack {
					load = math.Sqrt2*ac + math.Abs(dc)*loading()[p.Name]
				}
				worst[p.Name] = worst[p.Name].take(load, idle, s)
			}
		})
		return overRatings(k, worst)
	},
}

// stress is the most volts that a capacitor stands, loaded and with no load.
type stress struct {
	loaded, idle     float64
	atLoaded, atIdle analysis.Standing
}

func (x *stress) take(loaded, idle float64, at analysis.Standing) *stress {
	if x == nil {
		x = &stress{}
	}
	if loaded > x.loaded*clearly {
		x.loaded, x.atLoaded = loaded, at
	}
	if idle > x.idle*clearly {
		x.idle, x.atIdle = idle, at
	}
	return x
}

// loading is what is left, while the set plays, of the volts that a capacitor stands with no load: 1 where
// that is not known.
func (k *Facts) loading() map[string]float64 {
	playing := k.Circuit.Playing()
	loaded := map[string]float64{}
	for _, w := range playing.OnLine {
		for _, c := range w.Capacitors {
			name := k.Set.Parts[c.Part].Name
			if c.Known {
				loaded[name] = max(loaded[name], c.Peak)
			}
		}
	}
	shares := map[string]float64{}
	for p, c := range details[*netlist.Capacitor](k.Set) {
		idle := 0.0
		for _, s := range k.judged {
			ac, dc := s.Across(c.Ends[0], c.Ends[1])
			idle = max(idle, math.Sqrt2*ac+math.Abs(dc))
		}
		shares[p.Name] = 1
		if playing.Unsolved == nil && !playing.Cut && idle > 0 {
			shares[p.Name] = min(1, loaded[p.Name]/idle)
		}
	}
	return shares
}

// overRatings tells each capacitor that is over with a load by itself, and all that are over with
// no load alone in one finding.
func overRatings(k *Facts, worst map[string]*stress) []Finding {
	var findings []Finding
	idle := Finding{Signal: Notice, Remedy: "Nothing at once; when they are replaced, choose a rating above the peak with no load"}
	var lines []string
	between := k.gaps.ThroughCapacitors()
	for _, p := range k.Set.Parts {
		x := worst[p.Name]
		if x == nil {
			continue
		}
		c := p.Detail.(*netlist.Capacitor)
		rating := c.Peak()
		switch {
		case x.loaded > rating*ratingSlack:
			f := Finding{
				Signal: Warning, Parts: []string{p.Name}, Worst: inState(x.atLoaded.State),
				Message: fmt.Sprintf("%s stands %s, over its rating%s%s", phrase.Capacitor(p.Name, c), phrase.Volts(x.loaded), peakOf(c), onceEarthed(x.atLoaded)),
			}
			if metals := k.keptOff(between, p.Name, c.Ends[0], c.Ends[1]); len(metals) > 0 {
				f.Message += fmt.Sprintf(": it is no barrier between the line and %s", metalNames(metals))
				f.Remedy = "Put class Y2 or Y1 in its place, 4.7 nF or less: those are made and rated for the line by themselves, one alone or the last of several"
			}
			findings = append(findings, f)
		case x.idle > rating*ratingSlack:
			idle.Parts = append(idle.Parts, p.Name)
			if idle.Worst == nil {
				idle.Worst = inState(x.atIdle.State)
			}
			lines = append(lines, fmt.Sprintf("%s (%s) %s", p.Name, phrase.Rating(c), phrase.Volts(x.idle)))
		}
	}
	if len(lines) > 0 {
		idle.Message = "over rating only until the tubes draw current: " + phrase.Few(lines, 4)
		findings = append(findings, idle)
	}
	return findings
}

// onceEarthed tells what a stress waits for.
func onceEarthed(s analysis.Standing) string {
	var waits []string
	if s.Earthed != "" {
		waits = append(waits, netlist.Visible(s.Earthed)+" is earthed (a hand, an antenna, another set's ground)")
	}
	if s.Shorted != "" {
		waits = append(waits, s.Shorted+", in series with it, shorts")
	}
	if len(waits) == 0 {
		return ""
	}
	return ", once " + phrase.List(waits)
}

func peakOf(c *netlist.Capacitor) string {
	if c.RatingAC {
		return fmt.Sprintf(" (%s peak)", phrase.Volts(c.Rating*math.Sqrt2))
	}
	return ""
}
