package jsonout

import (
	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
)

// BringingUp is how a set is brought up: the mains turned up, and the lamp in series.
type BringingUp struct {
	Switches  map[string]string `json:"switches" jsonschema_description:"each switch and selector, and how it stands"`
	Reservoir string            `json:"reservoir" jsonschema_description:"the capacitor that the rectifier charges first; empty for none"`
	LampWatts float64           `json:"lamp_watts" jsonschema_description:"W of the lamp to take in series, of the mains' volts"`
	StopAmps  float64           `json:"stop_amps" jsonschema_description:"A from the line at which the plug is pulled"`
	Steps     []BringingUpStep  `json:"steps" jsonschema_description:"the mains turned up"`
	Lamp      []LampCase        `json:"lamp" jsonschema_description:"what stands across the lamp"`
}

// BringingUpStep is a set at a share of its mains.
type BringingUpStep struct {
	Percent float64  `json:"percent" jsonschema_description:"of the mains volts"`
	Amps    float64  `json:"amps" jsonschema_description:"A rms from the line"`
	Watts   float64  `json:"watts" jsonschema_description:"W from the line"`
	VoltsDC *float64 `json:"volts_dc" jsonschema:"nullable" jsonschema_description:"V DC on the first reservoir; null where there is none"`
}

// LampCase is the volts across the lamp in a case.
type LampCase struct {
	Case  caseWord `json:"case" jsonschema_description:"how the set is"`
	Volts float64  `json:"volts" jsonschema_description:"V rms"`
}

// Working is the set while it plays in one position of its switches: what to measure, and what each part
// carries. Volts of nodes are against the reference; null where nothing leads there that could tell them.
type Working struct {
	Switches   map[string]string             `json:"switches" jsonschema_description:"each switch and selector, and how it stands"`
	Reference  string                        `json:"reference" jsonschema_description:"the node against which volts are told"`
	Lines      []WorkingLine                 `json:"lines" jsonschema_description:"what a bench measures"`
	Nodes      workingNodes                  `json:"nodes" jsonschema_description:"the volts of every node"`
	Line       WorkingSupply                 `json:"line" jsonschema_description:"what comes from the line"`
	Fuses      map[string]WorkingCurrent     `json:"fuses" jsonschema_description:"the current of each fuse"`
	Resistors  map[string]WorkingResistor    `json:"resistors" jsonschema_description:"resistors, potentiometers and thermistors"`
	Capacitors map[string]WorkingCapacitor   `json:"capacitors" jsonschema_description:"capacitors"`
	Rectifiers map[string]WorkingRectifier   `json:"rectifiers" jsonschema_description:"rectifying sections"`
	Heaters    []WorkingLoad                 `json:"heaters" jsonschema_description:"each stretch of a heater"`
	Lamps      []WorkingLoad                 `json:"lamps" jsonschema_description:"dial lamps"`
	Motors     []WorkingLoad                 `json:"motors" jsonschema_description:"motors"`
	Windings   map[string]WorkingCurrent     `json:"windings" jsonschema_description:"the current of each winding"`
	Coils      map[string]WorkingCoil        `json:"coils" jsonschema_description:"coils"`
	Tubes      map[string][]WorkingElectrode `json:"tubes" jsonschema_description:"what plates and screens draw"`
	Batteries  map[string]WorkingBattery     `json:"batteries" jsonschema_description:"what batteries give"`
	Cold       []string                      `json:"cold" jsonschema_description:"tubes whose heaters are not fed"`
	Balance    WorkingBalance                `json:"balance" jsonschema_description:"watts in and watts out"`
}

// WorkingLine is a reading while the set plays.
type WorkingLine struct {
	Point string `json:"point" jsonschema_description:"what it is at the bench"`
	Check
}

// workingNodes are the volts of each node, null where nothing leads there.
type workingNodes map[string]*WorkingNode

// WorkingNode is the volts of a node.
type WorkingNode struct {
	VoltsDC *float64 `json:"volts_dc" jsonschema:"nullable" jsonschema_description:"V, mean; null where no DC leads there"`
	VoltsAC float64  `json:"volts_ac" jsonschema_description:"V rms of the rest"`
}

// WorkingSupply is what the line gives.
type WorkingSupply struct {
	Amps  float64 `json:"amps" jsonschema_description:"A rms at the hot side"`
	Watts float64 `json:"watts" jsonschema_description:"W"`
	Other float64 `json:"amps_other_side" jsonschema_description:"A rms at the other side"`
}

// WorkingCurrent is a current.
type WorkingCurrent struct {
	Amps   float64 `json:"amps" jsonschema_description:"A rms"`
	AmpsDC float64 `json:"amps_dc" jsonschema_description:"A, mean"`
}

// WorkingResistor is what a resistor carries; a potentiometer's halves differ and have no current here.
type WorkingResistor struct {
	Watts     float64  `json:"watts" jsonschema_description:"W"`
	VoltsDC   *float64 `json:"volts_dc,omitempty" jsonschema:"nullable" jsonschema_description:"V, mean"`
	Milliamps *float64 `json:"milliamps,omitempty" jsonschema:"nullable" jsonschema_description:"mA rms"`
}

// WorkingCapacitor is what stands across a capacitor.
type WorkingCapacitor struct {
	VoltsDC   *float64 `json:"volts_dc" jsonschema:"nullable" jsonschema_description:"V, mean; null where nothing but leakage settles it"`
	Peak      *float64 `json:"volts_peak" jsonschema:"nullable" jsonschema_description:"V; null likewise"`
	VoltsAC   float64  `json:"volts_ac" jsonschema_description:"V rms of the rest"`
	Milliamps float64  `json:"milliamps" jsonschema_description:"mA rms"`
	Watts     *float64 `json:"watts,omitempty" jsonschema:"nullable" jsonschema_description:"W in its stated leakage"`
}

// WorkingRectifier is what a rectifying section carries.
type WorkingRectifier struct {
	MilliampsDC float64 `json:"milliamps_dc" jsonschema_description:"mA, mean"`
	Milliamps   float64 `json:"milliamps" jsonschema_description:"mA rms"`
	Peak        float64 `json:"milliamps_peak" jsonschema_description:"mA"`
	Reverse     float64 `json:"volts_reverse" jsonschema_description:"V, the most that it holds off"`
}

// WorkingLoad is a heater, a lamp or a motor.
type WorkingLoad struct {
	Part      string    `json:"part" jsonschema_description:"the part's name"`
	Between   [2]string `json:"between" jsonschema_description:"its two nodes"`
	Volts     float64   `json:"volts" jsonschema_description:"V rms"`
	Milliamps float64   `json:"milliamps" jsonschema_description:"mA rms"`
	Watts     float64   `json:"watts" jsonschema_description:"W"`
}

// WorkingCoil is what a coil carries.
type WorkingCoil struct {
	MilliampsDC float64 `json:"milliamps_dc" jsonschema_description:"mA, mean"`
	Milliamps   float64 `json:"milliamps" jsonschema_description:"mA rms"`
	Watts       float64 `json:"watts" jsonschema_description:"W"`
}

// WorkingElectrode is what a plate or a screen draws: one of both is named, by its node.
type WorkingElectrode struct {
	Plate       string  `json:"plate,omitempty" jsonschema_description:"the plate's node"`
	Screen      string  `json:"screen,omitempty" jsonschema_description:"the screen's node"`
	VoltsDC     float64 `json:"volts_dc" jsonschema_description:"V to the cathode, mean"`
	MilliampsDC float64 `json:"milliamps_dc" jsonschema_description:"mA, mean"`
}

// WorkingBattery is what a battery gives.
type WorkingBattery struct {
	MilliampsDC float64 `json:"milliamps_dc" jsonschema_description:"mA, mean"`
}

// WorkingBalance is the watts that come in and those that stay.
type WorkingBalance struct {
	Line float64 `json:"line_watts" jsonschema_description:"W from the line"`
	Lost float64 `json:"lost_watts" jsonschema_description:"W in all parts, less what batteries give"`
}

func bringingUpOf(b *diagnose.BringingUp) *BringingUp {
	if b == nil {
		return nil
	}
	out := &BringingUp{Switches: switchesOf(b.Settings), Reservoir: b.Reservoir, LampWatts: round(b.LampWatts), StopAmps: round(b.StopAmps),
		Steps: []BringingUpStep{}, Lamp: []LampCase{}}
	for _, s := range b.Steps {
		step := BringingUpStep{Percent: s.Percent, Amps: round(s.Amps), Watts: round(s.Watts)}
		if s.HasDC {
			step.VoltsDC = rounded(s.VoltsDC)
		}
		out.Steps = append(out.Steps, step)
	}
	for _, x := range b.Lamp {
		out.Lamp = append(out.Lamp, LampCase{caseWord(x.Case), round(x.Volts)})
	}
	return out
}

func workingOf(c *analysis.Circuit, p *diagnose.Playing) Working {
	out := Working{Switches: switchesOf(p.Settings), Reference: p.Reference, Lines: []WorkingLine{}, Nodes: workingNodes{},
		Line:    WorkingSupply{round(p.Amps), round(p.Watts), round(p.OtherAmps)},
		Balance: WorkingBalance{round(p.Watts), round(p.Lost - p.BatteryWatts)}}
	for _, l := range p.Lines {
		out.Lines = append(out.Lines, WorkingLine{l.Point, checkOf(l.Check)})
	}
	for i, v := range p.Nodes {
		out.Nodes[c.NodeName(i)] = nodeOf(v)
	}
	out.parts(c, p.WorkingSet)
	out.loads(c, p.WorkingSet)
	return out
}

func nodeOf(v analysis.WorkingVolts) *WorkingNode {
	if !v.HasAC {
		return nil
	}
	n := &WorkingNode{VoltsAC: round(v.AC)}
	if v.HasDC {
		n.VoltsDC = rounded(v.DC)
	}
	return n
}

// milli is a figure in thousandths.
func milli(x float64) float64 { return round(1e3 * x) }

// parts are what has one entry a part.
func (out *Working) parts(c *analysis.Circuit, w *analysis.WorkingSet) {
	name := func(part int) string { return c.Set.Parts[part].Name }
	out.Fuses, out.Windings = map[string]WorkingCurrent{}, map[string]WorkingCurrent{}
	for _, x := range w.Fuses {
		out.Fuses[x.Name] = WorkingCurrent{round(x.Amps), round(x.AmpsDC)}
	}
	for _, x := range w.Windings {
		out.Windings[x.Name] = WorkingCurrent{round(x.Amps), round(x.AmpsDC)}
	}
	out.Resistors = map[string]WorkingResistor{}
	for _, x := range w.Resistors {
		r := WorkingResistor{Watts: round(x.Watts)}
		if amps := milli(x.Amps); !x.Potentiometer {
			r.VoltsDC, r.Milliamps = rounded(x.VoltsDC), &amps
		}
		out.Resistors[name(x.Part)] = r
	}
	out.Capacitors = map[string]WorkingCapacitor{}
	for _, x := range w.Capacitors {
		k := WorkingCapacitor{VoltsAC: round(x.VoltsAC), Milliamps: milli(x.Amps)}
		if x.Known {
			k.VoltsDC, k.Peak = rounded(x.VoltsDC), rounded(x.Peak)
		}
		if x.HasLeak {
			k.Watts = rounded(x.LeakWatts)
		}
		out.Capacitors[name(x.Part)] = k
	}
	out.Rectifiers = map[string]WorkingRectifier{}
	for _, x := range w.Rectifiers {
		out.Rectifiers[x.Name] = WorkingRectifier{milli(x.AmpsDC), milli(x.Amps), milli(x.Peak), round(x.Reverse)}
	}
	out.Coils = map[string]WorkingCoil{}
	for _, x := range w.Coils {
		out.Coils[name(x.Part)] = WorkingCoil{milli(x.AmpsDC), milli(x.Amps), round(x.Watts)}
	}
	out.Batteries = map[string]WorkingBattery{}
	for _, x := range w.Batteries {
		out.Batteries[x.Name] = WorkingBattery{milli(x.AmpsDC)}
	}
}

// loads are what may have several entries a part.
func (out *Working) loads(c *analysis.Circuit, w *analysis.WorkingSet) {
	name := func(part int) string { return c.Set.Parts[part].Name }
	of := func(all []analysis.WorkingLoad) []WorkingLoad {
		loads := []WorkingLoad{}
		for _, x := range all {
			loads = append(loads, WorkingLoad{name(x.Part), [2]string{c.NodeName(x.A), c.NodeName(x.B)}, round(x.Volts), milli(x.Amps), round(x.Watts)})
		}
		return loads
	}
	out.Heaters, out.Lamps, out.Motors = of(w.Heaters), of(w.Lamps), of(w.Motors)
	out.Tubes = map[string][]WorkingElectrode{}
	for _, x := range w.Draws {
		e := WorkingElectrode{Plate: c.NodeName(x.Node), VoltsDC: round(x.VoltsDC), MilliampsDC: milli(x.AmpsDC)}
		if x.Screen {
			e.Plate, e.Screen = "", e.Plate
		}
		out.Tubes[name(x.Part)] = append(out.Tubes[name(x.Part)], e)
	}
	out.Cold = []string{}
	for _, p := range w.Cold {
		out.Cold = append(out.Cold, name(p))
	}
}
