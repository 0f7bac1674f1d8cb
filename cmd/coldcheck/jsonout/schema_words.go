package jsonout

import (
	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/netlist"
)

var (
	plugWays    = []string{string(analysis.AsMarked), string(analysis.Reversed)}
	plugAndOut  = append(plugWays[:2:2], "out")
	signalWords = []string{"DANGER", "WARNING", "CAUTION", "NOTICE"}
	quantities  = []string{string(diagnose.VoltsRead), string(diagnose.VoltsDCRead), string(diagnose.OhmsRead), string(diagnose.MilliampsRead)}
)

// choices are the keys that take one of some words.
var choices = map[string][]string{
	"State.plug":            plugWays,
	"statesRow.plug":        plugWays,
	"Check.plug":            plugAndOut,
	"ReadingCheck.plug":     plugAndOut,
	"ReadingAt.plug":        plugAndOut,
	"Check.quantity":        quantities,
	"ReadingCheck.quantity": quantities,
	"ReadingAt.quantity":    quantities,
	"Finding.signal":        signalWords,
	"StageFinding.signal":   signalWords,
	"ReworkFinding.was":     signalWords,
	"Point.touch":           netlist.TouchKinds,
	"Point.guard":           append([]string{""}, netlist.GuardKinds...),
	"Trace.side":            {"hot", "neutral", ""},
	"Trace.disagree":        {"", "cannot-carry", "carries-yet", "no-path"},
	"Explanation.unit":      {"", string(netlist.Ohm), string(netlist.Farad)},
	"Fault.fault": {string(analysis.Shorted), string(analysis.InsulationOut), string(analysis.HeaterCathode), string(analysis.Open), string(analysis.Pulled),
		string(analysis.Stuck), string(analysis.NeutralLost), string(analysis.EarthLost), string(analysis.GuardOff)},
	"Explanation.kind": {string(diagnose.AsDescribed), string(diagnose.FaultsInSet), string(diagnose.PlugTurned), string(diagnose.SwitchMoved),
		string(diagnose.EndsSwapped), string(diagnose.ConnectionOff), string(diagnose.StatedAbsent), string(diagnose.OtherValue), string(diagnose.Leaks)},
}

// meaning is what a key says.
func meaning(owner, key string) string {
	if words := meanings[owner+"."+key]; words != "" {
		return words
	}
	return meanings[key]
}

// meanings are in one line each; a key that means another thing in one shape stands with its name.
var meanings = map[string]string{
	"format": "the version of this JSON",
	"set":    "the set that was looked at, and the bench", "after": "the set as it will be", "Set.name": "what the set is called", "file": "the file that was read, - for standard input",
	"volts": "V", "hertz": "Hz", "Set.volts": "the mains, V", "supply": "the supply asked for; without it, the mains", "earthed": "nodes that instruments tie to earth",

	"touch_points": "every piece of metal that a hand can reach", "Rework.touch_points": "every touch point before and after",
	"Proposal.touch_points": "every touch point before and after",
	"findings":              "what was found, strongest first", "between": "each pair of touch points, hand to hand", "together": "all bare touch points, joined as by one hand",
	"stored": "capacitors that stay over 60 V DC after unplugging", "reduced": "there where the search looked at fewer failures at once than it was asked to, as the set is too large", "asked": "safeguards that may fail at once, as asked for", "searched": "how many were",
	"Rework.searched": "up to how many safeguards failing at once the set as it will be was looked at", "Proposal.searched": "up to how many safeguards failing at once the set as it will be was looked at",
	"suspects":   "how many suspect parts were tried together",
	"not_judged": "states that were not judged, as the line is shorted in them",
	"states":     "every state", "Count.states": "so many states", "of": "of so many",

	"node": "the node's name", "touch": "what a hand touches there", "guard": "what keeps fingers off it, empty where it is bare",
	"depth":           "how many safeguards stand between the line and a hand; null where nothing was found up to the limit asked for",
	"depth_as_marked": "the same with the plug's reversal counted as a failure", "normal": "the worst with no fault, as if no guard were there",
	"one_fault": "the worst at cost 1 or less, as if no guard were there", "fault_sets": "the minimal sets of faults that make the point live",
	"volts_open": "V AC rms with nothing connected", "volts_meter": "V AC on a meter of 10 MΩ", "milliamps": "mA AC through the body network of IEC 60990",
	"volts_dc": "V DC with nothing connected", "milliamps_dc": "mA DC through 2000 Ω", "state": "the state, null where none is told",
	"cost": "how many safeguards had to fail", "faults": "what had gone wrong", "plug": "how the plug stands in the outlet", "switches": "each switch and selector, and how it stands",
	"Check.switches": "in which positions of the switches the figure holds", "rectifier": "the rectifier taken as conducting, empty where all block",
	"without_failed_shorts": "the shorts of failed parts, which short the line, were left out",
	"part":                  "the part's name", "Fault.part": "the part's name, supply, or of a guard the node's", "fault": "what is wrong with it", "Fault.between": "the two nodes between which it is",

	"rule": "the rule that found it", "signal": "signal word of ANSI Z535 and ISO 3864", "nodes": "the nodes that it speaks of, the foremost first", "parts": "the parts that it speaks of",
	"path": "the way of the current, parts and nodes by turns", "message": "what, and where", "figures": "the figures in words", "between_text": "what stands between the line and a hand",
	"notes": "further sentences", "remedy": "what to do", "caution": "what to take care of", "Pair.nodes": "the two touch points", "Together.nodes": "the bare touch points",
	"joules": "J", "seconds": "s until 60 V; null where nothing drains it", "cleared": "a breaker opens: the figures are those before", "points": "each touch point",

	"traces": "the paths to each node in each state", "from": "where the paths begin", "side": "the conductor of the line that they begin at", "to": "where they end",
	"paths": "the paths, fewest safeguards first", "disagree": "how the paths and the figures disagree, empty where they do not", "safeguards": "how many safeguards are in it",
	"barriers": "the parts of the path that are safeguards, or would be if they were sound",

	"plan": "the plan; null where two sets are compared", "Proposal.plan": "the plan, step by step", "cured": "findings that are gone", "left": "findings that stay", "new": "findings that come",
	"stages": "what stands after each step", "Plan.name": "what the plan is for", "steps": "the steps in their order", "step": "the number of the step; of a finding null where none is known",
	"do": "what is done", "text": "in words", "Proposal.text": "the plan file", "why": "why it is done", "Stage.why": "why the parts are no set then", "was": "the signal word that it had before",
	"from_step": "the first of the steps that did it together", "before": "as it was; null where it was none", "PointChange.after": "as it will be; null where it will be none",
	"whole": "the parts are a set then", "cord_off": "a blade of the plug leads nowhere", "passing": "findings of the way alone", "until_step": "the step that ends it",
	"unlooked_from": "there where the set is too large to look at every stage: what stands after this step and each later one but the last was not looked at, so do not plug in between",
	"proposals":     "the plans that were found", "not_cured": "findings that no edit of the list cures", "partial": "the one plan leaves a WARNING or more",
	"examined": "how many altered sets were examined", "complete": "no bound ended the search", "first_is_smallest": "there is no smaller plan than the first",
	"Proposal.kind": "what the plan rests on", "edits": "how many edits it is made of",

	"metals": "the pieces of metal, each with all its touch points", "cold": "checks with the plug out", "hot": "checks with the plug in",
	"hot_held": "the readings do not agree: no hot check may be made yet", "heaters": "the volts across each heater", "stresses": "the worst volts of each capacitor",
	"readings": "the readings of the file beside what the wiring gives", "agree": "all readings agree; null where the file has none",
	"proved": "parts whose stated failure the readings bear out", "explanations": "what would explain the readings, the most likely first",
	"leading": "so many at the front that the readings cannot tell apart", "further": "the measurement that would tell those apart",
	"pairs_left": "pairs of faults that were not tried", "unranked": "the set is too large for explanations",
	"Inspect.not_paired": "there where hand to hand was not looked at: the touch points are too many to take in pairs", "not_paired_beside": "there where hand to hand was not looked at for a suspect part that fails beside another part: the touch points are too many",
	"not_paired": "ohms from metal to metal are left out: there are too many pairs", "unguessed": "the set is too large to work out what other readings would mean",
	"at": "where the meter's two leads are", "blades_tied": "the plug's blades are tied together", "quantity": "what is measured", "meter": "the meter's own Ω; null where it does not matter",
	"expect": "the figure to expect; null where the meter shows open", "low": "the least that is still right", "high": "the most that is still right; null where open is",
	"lower": "what a lower reading would mean", "higher": "what a higher reading would mean", "HotCheck.do": "the check may be made", "live": "the metal is live then",
	"may_be_live": "faults that would make it live then", "alike_turned": "with the plug turned the figures are the same", "meter_10_meg": "on a meter of 10 MΩ", "hot_check": "on 1.5 kΩ and 0.15 µF",
	"tube": "the tube", "rated": "the heater's rated volts", "rating": "its rating, V; null where none is given", "pulled": "tubes that were out of their sockets",
	"read": "what the meter showed; null where open", "predicted": "what the wiring gives; null where open", "off": "how far off it is, in bands: within one it agrees",
	"Explanation.kind": "in what way the set is other than described", "terminals": "the terminals that are connected otherwise", "value": "the value that fits; null where it is no matter of value",
	"unit": "the unit of the value", "score": "how well it fits, less is better", "fits": "every reading agrees with it",
}
