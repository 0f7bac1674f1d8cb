package netlist

// Kind is what a part is: one of the words of the format.
type Kind string

// The kinds of part.
const (
	KindPlug          Kind = "plug"
	KindSwitch        Kind = "switch"
	KindSelector      Kind = "selector"
	KindFuse          Kind = "fuse"
	KindWire          Kind = "wire"
	KindResistor      Kind = "resistor"
	KindPotentiometer Kind = "potentiometer"
	KindThermistor    Kind = "thermistor"
	KindCapacitor     Kind = "capacitor"
	KindCoil          Kind = "coil"
	KindMotor         Kind = "motor"
	KindLamp          Kind = "lamp"
	KindTransformer   Kind = "transformer"
	KindTube          Kind = "tube"
	KindRectifier     Kind = "rectifier"
	KindBattery       Kind = "battery"
	KindInsulation    Kind = "insulation"
)

// Condition says what to believe of a part's insulation.
type Condition string

// The conditions. A paper capacitor is Suspect unless the file says otherwise.
const (
	Good    Condition = "good"
	Suspect Condition = "suspect"
	Failed  Condition = "failed"
)

// Grade is the grade of an insulation (IEC 61140, IEC 62368-1 clause 3).
type Grade string

// The grades of insulation.
const (
	Functional    Grade = "functional"
	Basic         Grade = "basic"
	Supplementary Grade = "supplementary"
	Double        Grade = "double"
	Reinforced    Grade = "reinforced"
)

// Part is one part of a set.
type Part struct {
	Name string
	Kind Kind
	Pos  Pos
	Note string

	// Condition is never empty: what the file says, else the default of the part.
	Condition       Condition
	ConditionStated bool

	// Frame is the node of the part's own metal, "" where none is named.
	Frame           string
	FrameInsulation Grade // of the frame, where there is one

	// Terminals are the part's ends in the order of the format's table, the frame not among them.
	Terminals []Terminal

	// Detail is what only this kind has: *Plug, *Switch, … *Insulation.
	Detail Detail
}

// Terminal is one end of a part.
type Terminal struct {
	Name string // "hot", "end 1", "pole 2 end 1", "pin 3", "primary start", "wiper", "throw line", …
	Node string
}

// HasTwoLeads reports whether it is plain what one lead off a part means: of a plug or a tube it means nothing,
// and of a part with more leads than two it would have to be said which.
func (p *Part) HasTwoLeads() bool {
	if d, ok := p.Detail.(*Potentiometer); ok {
		return d.Rheostat()
	}
	return p.Kind != KindPlug && p.Kind != KindTube && len(p.Terminals) == 2
}
