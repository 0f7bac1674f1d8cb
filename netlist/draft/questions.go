package draft

import "sync"

// table is the list of questions, made when it is first asked for.
var table struct {
	sync.Once
	all []*Question
}

// Questions are all questions in the order in which they are asked. The caller must not change them.
func Questions() []*Question { return questions() }

func questions() []*Question {
	table.Do(func() {
		for _, group := range [][]*Question{mainsQuestions(), cordQuestions(), switchQuestions(), heaterQuestions(), supplyQuestions(), barrierQuestions(), metalQuestions(),
			outsideQuestions(), restQuestions()} {
			table.all = append(table.all, group...)
		}
	})
	return table.all
}

func mainsQuestions() []*Question {
	return []*Question{
		{Key: "name", Group: "The mains", Ask: "What is the set called?",
			Examples: []string{"Harbour kitchen set, as found"}, Why: "It stands at the head of every report and every sheet for the bench.",
			usual: always("Drafted set"), check: anyText},
		{Key: "mains", Group: "The mains", Ask: "What mains does it hang on: volts and hertz?",
			Examples: []string{"120 V 60 Hz", "230 V 50 Hz"}, Why: "Every current is reckoned from it, and the heaters of a string add up to it.",
			usual: always(defaultMains), check: checkMains},
		{Key: "earthed", Group: "The mains", Ask: "What of these mains is earthed in the building?", Words: earthedWords,
			Examples: []string{"neutral"}, Why: "Metal is live against earth. Where neither blade is at earth, both are hot, whichever way the plug stands.",
			Unknown: "one side, as of the usual socket: then the whole of the mains stands on the other",
			usual:   always("neutral"), check: oneOf(earthedWords)},
	}
}

func cordQuestions() []*Question {
	return []*Question{
		{Key: "plug", Group: "Cord and plug", Ask: "What plug is on the cord?", Words: plugWords,
			Examples: []string{"plain"}, Why: "A plain plug goes in either way. The others go in one way, until an outlet is wired backwards.",
			Unknown: "a plain one, which goes in either way",
			usual:   always("plain"), check: oneOf(plugWords)},
		{Key: "plug-earth", Group: "Cord and plug", Ask: "What is the earth pin joined to inside the set?", Words: earthPinWords,
			Examples: []string{"chassis"}, Why: "An earthed chassis opens the fuse in place of standing at the line; an earth wire that ends nowhere does nothing.",
			Unknown: "joined to nothing",
			usual:   always("chassis"), asked: func(s answers) bool { return s.is("plug", "grounding") }, check: oneOf(earthPinWords)},
		{Key: "entry", Group: "Cord and plug", Ask: "How do the mains come into the set?", Words: entryWords,
			Examples: []string{"string"}, Why: "A transformer with a primary of its own keeps the set off the line; all else joins the two. An autotransformer looks like the one and is the other: " +
				"with the plug out, measure from a blade to the chassis.",
			Unknown: "something that joins both legs to the set, by a load of a guessed 400 ohms",
			usual:   always("string"), check: oneOf(entryWords)},
		{Key: "blade-1", Group: "Cord and plug", Ask: "What does the first blade go to, in order, from the plug inward? (Of a polarized plug the narrow one.)", Words: chainWords,
			Examples: []string{"string", "fuse, switch, string", "switch, B-minus"}, Why: "What stands in which leg decides what is live when the set is off. Where the blades are alike, the one that goes to the heaters is the first.",
			Unknown: "the leg without B-minus",
			offered: offeredEnds, usual: usualFirstLeg, check: checkChain("blade-1")},
		{Key: "blade-2", Group: "Cord and plug", Ask: "And the other blade?", Words: chainWords,
			Examples: []string{"switch, B-minus", "B-minus", "chassis"}, Why: "One blade ends at B-minus, or at the chassis itself. With the switch between, B-minus hangs on the other leg through the heaters when the set is off.",
			Unknown: "straight to B-minus, or to what the first leaves",
			offered: offeredEnds, usual: usualSecondLeg, check: checkChain("blade-2")},
		{Key: "across-line", Group: "Cord and plug", Ask: "What capacitor lies across the cord, from blade to blade?",
			Examples: []string{"none", "0.05 uF 400 V paper"}, Why: "Ahead of the switch it stays on the line while the set is off, and stings from the plug once that is pulled.",
			Unknown: "a paper capacitor of 0.05 uF",
			usual:   always(none), check: noneOr(capacitorAnswer)},
	}
}

func switchQuestions() []*Question {
	return []*Question{
		{Key: "switch", Group: "Switch and fuse", Ask: "No switch was named in either leg. Where is it?", Words: legWords,
			Examples: []string{"blade-2"}, Why: "A switch in the B-minus leg leaves the metal hanging on the other through the heaters; one in the hot leg does nothing about a reversed plug.",
			Unknown: "in the B-minus leg, where the metal is live in the most states",
			usual:   always(DontKnow), asked: func(s answers) bool { return !s.chainHas("switch") }, check: oneOf(legWords)},
		{Key: "switch-on", Group: "Switch and fuse", Ask: "What does the switch sit on?", Words: switchSeats,
			Examples: []string{"volume control"}, Why: "A switch on a control has the shaft for its metal, with a layer of fibre between line and fingers.",
			Unknown: "the volume control, whose shaft is metal on the chassis",
			usual:   always("volume control"), asked: func(s answers) bool { return s.chainHas("switch") || !s.is("switch", none) }, check: oneOf(switchSeats)},
		{Key: "fuse", Group: "Switch and fuse", Ask: "No fuse was named. Is there one, and in which leg?", Words: legWords,
			Examples: []string{"none"}, Why: "Without a fuse a shorted part is cleared by the house's fuse alone, if at all.",
			Unknown: "none",
			usual:   always(none), asked: func(s answers) bool { return !s.chainHas("fuse") }, check: oneOf(legWords)},
		{Key: "fuse-amps", Group: "Switch and fuse", Ask: "What is written on the fuse?",
			Examples: []string{"1 A", "3/4 A"}, Why: "A fuse far over what the set draws protects nothing in it.",
			Unknown: "no rating",
			usual:   always(DontKnow), asked: func(s answers) bool { return s.chainHas("fuse") || s.is("fuse", "blade-1", "blade-2") }, check: checkFuse},
	}
}

func heaterQuestions() []*Question {
	return []*Question{
		{Key: "tubes", Group: "Tubes", Ask: "Which tubes are in it, in the order of the string, from the line to B-minus?",
			Examples: []string{"35W4, 50C5, 12BE6, 12BA6, 12AV6", "50L6GT, heater 25 V 150 mA, 12SQ7", none}, Why: "The heaters are the way by which the one leg reaches the other: they lift B-minus when the switch in its leg is open. " +
				"A type that the catalogue has not is written by its heater: heater 25 V 150 mA. Of a set with a transformer the order does not matter.",
			Unknown: "a string of 300 mA",
			usual:   always(DontKnow), asked: func(s answers) bool { return !s.is("entry", "other", DontKnow) && s["entry"] != "" }, check: checkTubes, remark: heaterWords},
		{Key: "lamp", Group: "Tubes", Ask: "What dial lamp is there: its number, or volts and amperes?",
			Examples: []string{"47", "6.3 V 150 mA", none}, Why: "A lamp in or across the string takes part of the current, and its shell is metal at the line.",
			Unknown: "none",
			usual:   always(none), asked: func(s answers) bool { _, ok := s.known("tubes"); return ok }, check: noneOr(lampAnswer)},
		{Key: "lamp-at", Group: "Tubes", Ask: "What is the lamp across?", Words: lampPlaces,
			Examples: []string{"tap"}, Why: "Across the tapped heater of the rectifier it carries plate current too; in series it drops volts of the string.",
			Unknown: "what its set has most often: the tap, else in series; of a transformer its winding",
			usual:   usualLampPlace, asked: func(s answers) bool { _, ok := s.known("lamp"); return ok && !s.is("lamp", none) }, check: checkLampPlace},
		{Key: "dropper", Group: "Tubes", Ask: "What resistor is in series with the heaters: a dropper, a ballast, a cord that gets warm?",
			Examples: []string{none, "150 ohm 5 W", "cord 180 ohm"}, Why: "It takes the volts that the heaters leave. A resistance cord is part of the string and is never cut short.",
			Unknown: "one that takes what the heaters leave",
			usual:   usualDropper, asked: func(s answers) bool { _, ok := s.known("tubes"); return ok && s.is("entry", "string") }, check: checkDropper},
	}
}

func supplyQuestions() []*Question {
	rectified := func(s answers) bool { return s["rectifier"] != "" && !s.is("rectifier", none) }
	return []*Question{
		{Key: "rectifier", Group: "Rectifier and reservoirs", Ask: "What is the rectifier?", Words: rectifierWords,
			Examples: []string{"tube"}, Why: "It is a second way from the line to the set, and a shorted one puts AC on the reservoirs.",
			Unknown: "a tube where one of the tubes is a rectifier, else selenium",
			usual:   usualRectifier, asked: func(s answers) bool { return s["entry"] != "" && !s.is("entry", "other", DontKnow) }, check: checkRectifier},
		{Key: "circuit", Group: "Rectifier and reservoirs", Ask: "How is it connected?", Words: circuitWords,
			Examples: []string{"half-wave"}, Why: "The first capacitor of a doubler hangs on the line itself, and leads there with every tube pulled.",
			Unknown: "half-wave",
			usual:   usualCircuit, asked: rectified, check: checkCircuit},
		{Key: "plate", Group: "Rectifier and reservoirs", Ask: "Is the rectifier's plate fed from the line, or from the tap of its heater?", Words: plateWords,
			Examples: []string{"tap"}, Why: "From the tap the plate current goes through the dial lamp and part of the heater.",
			Unknown: "from the line",
			usual:   always("tap"), asked: func(s answers) bool { return rectified(s) && s.rectifierTap() != nil }, check: oneOf(plateWords)},
		{Key: "surge", Group: "Rectifier and reservoirs", Ask: "What resistor stands ahead of the rectifier?",
			Examples: []string{none, "33 ohm 1 W"}, Why: "It limits the rush into the first reservoir, and often serves as the fuse.",
			Unknown: "none",
			usual:   always(none), asked: func(s answers) bool { return rectified(s) && !s.is("circuit", "full-wave") }, check: noneOr(resistorAnswer)},
		{Key: "high-volts", Group: "Rectifier and reservoirs", Ask: "How many volts has the winding that feeds the rectifier (of a full-wave one each half)?",
			Examples: []string{"250 V"}, Why: "The reservoirs stand at 1.4 times these volts.",
			Unknown: "250 V",
			usual:   always(DontKnow), asked: func(s answers) bool { return rectified(s) && s.transformed() }, check: checkVolts},
		{Key: "reservoirs", Group: "Rectifier and reservoirs", Ask: "What are the reservoirs, from the rectifier onward? (Of a doubler the one on the line first.)",
			Examples: []string{"50 uF 150 V, 30 uF 150 V", "40 mfd"}, Why: "They stay charged when the plug is out, and lead back to B-minus.",
			Unknown: "one of 40 uF; of a doubler two of 100 uF",
			usual:   always(DontKnow), asked: rectified, check: checkReservoirs},
		{Key: "filter", Group: "Rectifier and reservoirs", Ask: "What stands between the reservoirs: a resistor, a choke, a field coil?",
			Examples: []string{"1.2k", "choke 450 ohm"}, Why: "It joins what is charged, so that one drain serves both.",
			Unknown: "a resistor of 1k",
			usual:   always(DontKnow), asked: func(s answers) bool { return rectified(s) && s.filters() > 0 }, check: checkFilter},
	}
}

func barrierQuestions() []*Question {
	joined := func(words ...string) func(answers) bool {
		return func(s answers) bool { return s.hasBarrier() && s.is("b-minus", words...) }
	}
	return []*Question{
		{Key: "b-minus", Group: "B-minus and chassis", Ask: "What joins B-minus and the chassis?", Words: barrierWords,
			Examples: []string{"both"}, Why: "This is what stands between the line and every piece of metal on the chassis. A wire, a rivet or a lug makes them one.",
			Unknown: "a wire, so that all metal on the chassis is at the line as B-minus is",
			usual:   usualBarrier, asked: answers.hasBarrier, shown: whatIsMinus, check: checkBarrier},
		{Key: "b-minus-capacitor", Group: "B-minus and chassis", Ask: "What is written on that capacitor?",
			Examples: []string{"0.1 uF 400 V paper", "4.7 nF 250 V AC Y2 ceramic"}, Why: "Its value sets the current through a hand; what it is made of, and its class, whether one may count on it.",
			Unknown: "0.25 uF, paper",
			usual:   always(DontKnow), asked: joined("capacitor", "both"), check: capacitorAnswer},
		{Key: "b-minus-resistor", Group: "B-minus and chassis", Ask: "And that resistor?",
			Examples: []string{"220k", "470k 1/2 W"}, Why: "It carries current to the metal all the time, and drains the capacitor.",
			Unknown: "100k",
			usual:   always(DontKnow), asked: joined("resistor", "both"), check: resistorAnswer},
	}
}

func metalQuestions() []*Question {
	return []*Question{
		{Key: "metal", Group: "Metal", Ask: "What metal can be touched from outside, and what guards it? Behind a colon " + guardChoices() + "; nothing there is bare.",
			Examples: []string{"chassis: cabinet, volume shaft: knob, tuning shaft: knob, cabinet screws", "chassis, speaker grille, handle"},
			Why:      "The shafts, their set screws, the screws of the cabinet and the feet reach the chassis through the cabinet. A guard that is loose or cracked is none: leave it out.",
			Unknown:  "chassis, shaft of the switch and cabinet screws, all bare",
			usual:    usualMetal, check: checkMetal},
		{Key: "loose", Group: "Metal", Ask: "Which of these have insulation between them and the chassis?",
			Examples: []string{none, "handle, cabinet screws"}, Why: "What is bolted, riveted or screwed to the chassis is at its volts. Rubber or fibre between keeps it off, as long as that lasts.",
			Unknown: "none: all are joined to the chassis",
			usual:   always(none), asked: func(s answers) bool { return len(s.pieces()) > 1 }, check: checkLoose},
	}
}

func outsideQuestions() []*Question {
	to := func(key string) func(answers) bool {
		return func(s answers) bool { return s[key] != "" && !s.is(key, none, DontKnow) && s.hasBarrier() }
	}
	return []*Question{
		{Key: "antenna", Group: "Antenna and ground", Ask: "What comes first behind the antenna lead or terminal?", Words: outsideWords,
			Examples: []string{none, "capacitor 250 pF mica", "coil 20 ohm"}, Why: "An antenna hangs out of the set where anyone takes hold of it, and a coil passes the line as a wire does.",
			Unknown: "a wire to where the line is nearest, so that it is live as that is",
			usual:   always(DontKnow), check: checkOutside},
		{Key: "antenna-to", Group: "Antenna and ground", Ask: "Where does that lead to?", Words: pointWords,
			Examples: []string{"chassis"}, Why: "What returns to B-minus is on the line's side of the barrier.",
			Unknown: "B-minus",
			usual:   always("chassis"), asked: to("antenna"), check: oneOf(pointWords)},
		{Key: "ground", Group: "Antenna and ground", Ask: "Is there a terminal for an earth wire, and what comes first behind it?", Words: outsideWords,
			Examples: []string{none, "capacitor 5 nF 1500 V mica"}, Why: "An earth wire on metal at the line is a short, or makes all that it is joined to live.",
			Unknown: "a terminal with a wire to where the line is nearest, so that it is live as that is",
			usual:   always(none), check: checkOutside},
		{Key: "ground-to", Group: "Antenna and ground", Ask: "Where does that lead to?", Words: pointWords,
			Examples: []string{"chassis"}, Why: "What returns to B-minus is on the line's side of the barrier.",
			Unknown: "B-minus",
			usual:   always("chassis"), asked: to("ground"), check: oneOf(pointWords)},
	}
}

func restQuestions() []*Question {
	return []*Question{
		{Key: "else", Group: "What else", Ask: "What else joins the line and any metal? One after another, with a semicolon between: what, from where to where.",
			Examples: []string{none, "capacitor 0.01 uF paper from line 1 to chassis; motor 120 V 20 W from line 1 to B-"},
			Why:      "Line filters, motors, shields of cables, jacks: whatever leads past the barrier. The points so far are told above the question.",
			Unknown:  "insulation between the line and the chassis that no one vouches for",
			usual:    always(none), shown: pointsSoFar, check: checkElse},
		{Key: "replaced", Group: "What was replaced", Ask: "Which of these parts were replaced, or proved since?",
			Examples: []string{none, "C1, C2", every}, Why: "Age makes insulation doubtful, of all parts of a set as it was found. What is new, or was proved at its working volts, is good.",
			Unknown: "none: all are doubtful",
			usual:   always(none), shown: partsSoFar, check: checkReplaced},
	}
}
