package rules

// OneResistor finds metal that one resistor keeps from being live.
var OneResistor = &Rule{
	Name:    "one-resistor",
	Signal:  Warning,
	Signals: "WARNING",
	Looks:   "a touch point that the short of one resistor of 10 kΩ or more makes live, alone or with parts for which no one vouches",
	Why: "A resistor across the isolating capacitor limits the current only while it keeps its value. Dirt, a splash of solder, a " +
		"carbonised body or its neighbour's lead bridges it. One resistor alone is no protective impedance, whatever its value.",
	Blind:  "The resistor's true value, unless the file states it as measured.",
	Source: "IEC 60335-1 clause 22.42 (protective impedance: at least two separate components)",
	Remedy: "leave the resistor out where a class Y capacitor does the coupling, or use two in series, each of which alone keeps the " +
		"current under 0.5 mA (2 × 470 kΩ at 120 V, 2 × 1 MΩ at 230 V), of a voltage grade fit for the line",
	Caution: "Work unplugged with the reservoirs discharged. Do not replace it by a smaller one to quiet a phantom reading. " +
		"Re-check cold and hot after the change; follow local electrical codes.",
	Subject: OfMetal,
	Failure: ResistorShorts,
	Run:     func(k *Facts) []Finding { return k.tellSoles(ResistorShorts, nil) },
}
