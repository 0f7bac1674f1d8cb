// Package netlist says what a set is: its nodes, its parts and how they are joined, as a person
// would call them out from the chassis.
//
// The story runs in this order. A set file is TOML (format 1). Load reads it into the parts as
// written, each with its place in the file; the table of kinds says which terminals and keys a
// kind takes; values come out in base units (volts, amps, ohms, farads, henries, watts, hertz);
// tube types come from the embedded catalogue or from the file itself. What is wrong is reported
// in one go, each problem at its line and column; what is merely odd becomes a notice.
//
// The package knows nothing of hazards: it does not say what a fault is, nor what is dangerous.
package netlist

import (
	"fmt"

	"coldcheck/netlist/internal/words"
)

// Pos is a place in a file. Line and Col count from 1; Col counts characters, not bytes.
// A zero Line means that the place is not known.
type Pos struct {
	File string
	Line int
	Col  int
}

// String gives "file:line:col", or the file alone where the line is not known, fit for a terminal.
func (p Pos) String() string {
	if p.Line == 0 {
		return words.Visible(p.File)
	}
	return fmt.Sprintf("%s:%d:%d", words.Visible(p.File), p.Line, p.Col)
}

// BuildingEarth is the reserved node: a rod, a water pipe, whatever earth the building has.
const BuildingEarth = "building earth"

// Set is one set's wiring, checked and complete.
type Set struct {
	Name  string
	File  string  // as the person named it; "-" for standard input
	Volts float64 // mains, V rms
	Hertz float64 // mains, Hz
	Note  string

	// Nodes are all nodes in the order in which the file first names them, [nodes] first.
	Nodes []*Node
	// Parts are all parts in the order of the file. Exactly one is the plug.
	Parts    []*Part
	Readings []Reading
	Notices  []Notice

	nodes map[string]*Node
	parts map[string]*Part
	doc   *Document
}

// NewSet returns a set without nodes and parts, that a document says.
func NewSet(doc *Document) *Set {
	return &Set{File: doc.File, nodes: map[string]*Node{}, parts: map[string]*Part{}, doc: doc}
}

// AddNode gives the set a node.
func (s *Set) AddNode(n *Node) {
	s.nodes[n.Name] = n
	s.Nodes = append(s.Nodes, n)
}

// AddPart gives the set a part.
func (s *Set) AddPart(p *Part) {
	s.parts[p.Name] = p
	s.Parts = append(s.Parts, p)
}

// Document returns a copy of the set as its file writes it.
func (s *Set) Document() *Document { return s.doc.Clone() }

// Node returns the node of that name, or nil.
func (s *Set) Node(name string) *Node { return s.nodes[name] }

// Part returns the part of that name, or nil.
func (s *Set) Part(name string) *Part { return s.parts[name] }

// TouchPoints returns the nodes that a person can touch, in the order of the file.
func (s *Set) TouchPoints() []*Node {
	var points []*Node
	for _, n := range s.Nodes {
		if n.Touch != "" {
			points = append(points, n)
		}
	}
	return points
}

// Plug returns the plug and the part that it is.
func (s *Set) Plug() (*Part, *Plug) {
	for _, p := range s.Parts {
		if plug, ok := p.Detail.(*Plug); ok {
			return p, plug
		}
	}
	return nil, nil
}

// Notice is something odd in the file that is no error.
type Notice struct {
	Pos  Pos
	Text string // lower case, no full stop
	Node string // the node it speaks of, if one
	Part string // the part it speaks of, if one
}

// Node is one conductor: everything that is joined without a part between.
type Node struct {
	Name         string
	Touch        string // what a person can touch: one of TouchKinds; "" where no one can
	Guard        string // what keeps fingers off: one of GuardKinds; "" is bare
	GuardSuspect bool   // a loose or cracked guard
	Note         string
	Pos          Pos // where [nodes] names it, else where a part first uses it
}

// TouchKinds are the kinds of touchable metal, in the order of the format's page.
var TouchKinds = []string{"chassis", "control", "antenna", "ground", "fastener", "jack", "speaker", "pickup", "trim"}

// GuardKinds are the things that keep fingers off metal.
var GuardKinds = []string{"cabinet", "knob", "cover", "sleeve"}

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

// Detail is implemented by the details of each kind, and by nothing else.
type Detail interface{ kind() Kind }

// Ends are a two-ended part's nodes, in the order written.
type Ends [2]string

// Plug is the line plug: the one way in for the mains.
type Plug struct {
	Style        string // plain, polarized, grounding
	Hot, Neutral string
	Earth        string // "" unless grounding
}

// Switch is one or more poles that move together; on closes them.
type Switch struct{ Poles []Ends }

// Selector joins each deck's common to one of its throws.
type Selector struct {
	Decks     []Deck
	Positions []string // the name of each position, as many as throws
	Fixed     string   // the one position that is a state, "" where all are
}

// Deck is one wafer of a selector. A throw of "" is open.
type Deck struct {
	Common string
	Throws []string
}

// Fuse is a fuse.
type Fuse struct {
	Ends Ends
	Amps float64 // 0 where no rating is given
}

// Wire is any conductor without resistance.
type Wire struct{ Ends Ends }

// Resistor is a fixed resistor.
type Resistor struct {
	Ends      Ends
	Ohms      float64 // as marked
	Tolerance float64 // per cent, 20 where not given
	Watts     float64 // 0 where not given
	Measured  float64 // ohms, 0 where not measured
}

// InUse is the ohms that the set really has: measured if it was, else as marked.
func (r *Resistor) InUse() float64 {
	if r.Measured > 0 {
		return r.Measured
	}
	return r.Ohms
}

// Potentiometer is a variable resistor; half of Ohms stands either side of the wiper.
type Potentiometer struct {
	Ends  Ends
	Wiper string // "" where none is wired
	Ohms  float64
}

// Capacitor is a capacitor.
type Capacitor struct {
	Ends     Ends
	Farads   float64
	Rating   float64 // volts, 0 where not given
	RatingAC bool    // the rating is in volts AC rms
	Class    string  // "X1", "Y2", "X1/Y2" …, "" where none is marked
	Type     string  // paper, film, ceramic, mica, electrolytic, "" where not given
	LeakOhms float64 // stated leakage, 0 where none is stated
	Positive string  // the end marked plus, "" where not given
}

// Coil is a choke or any winding on its own.
type Coil struct {
	Ends   Ends
	Ohms   float64
	Henrys float64
}

// Motor is a phonograph or fan motor.
type Motor struct {
	Ends        Ends
	Volts, Amps float64 // rated
}

// Lamp is a dial lamp or pilot lamp.
type Lamp struct {
	Ends        Ends
	Volts, Amps float64 // rated
}

// Transformer has one or more windings on one core.
type Transformer struct {
	Windings   []Winding // in the order of the file
	Coupled    bool      // volts are given: an ideal transformer; else each winding is a coil
	Insulation Grade     // between windings
}

// Winding is one winding; Start is the first end written.
type Winding struct {
	Name       string
	Start, End string
	Volts      float64 // 0 where the transformer is not coupled
}

// Tube is a tube in its socket.
type Tube struct {
	Type     *TubeType
	TypeName string // as the file writes it
	Pins     []Pin  // wired pins, by number
}

// Pin is a wired pin.
type Pin struct {
	Number int
	Node   string
}

// Node returns the node of a pin, "" where it is not wired.
func (t *Tube) Node(pin int) string {
	for _, p := range t.Pins {
		if p.Number == pin {
			return p.Node
		}
	}
	return ""
}

// Rectifier is a dry rectifier.
type Rectifier struct {
	Anode, Cathode string
	Type           string // selenium, silicon
}

// Battery is a battery.
type Battery struct {
	Positive, Negative string
	Volts              float64
}

// Insulation is something that should not conduct: a sleeve, a washer, a grommet, a knob.
type Insulation struct {
	Ends  Ends
	Grade Grade
}

func (*Plug) kind() Kind          { return KindPlug }
func (*Switch) kind() Kind        { return KindSwitch }
func (*Selector) kind() Kind      { return KindSelector }
func (*Fuse) kind() Kind          { return KindFuse }
func (*Wire) kind() Kind          { return KindWire }
func (*Resistor) kind() Kind      { return KindResistor }
func (*Potentiometer) kind() Kind { return KindPotentiometer }
func (*Capacitor) kind() Kind     { return KindCapacitor }
func (*Coil) kind() Kind          { return KindCoil }
func (*Motor) kind() Kind         { return KindMotor }
func (*Lamp) kind() Kind          { return KindLamp }
func (*Transformer) kind() Kind   { return KindTransformer }
func (*Tube) kind() Kind          { return KindTube }
func (*Rectifier) kind() Kind     { return KindRectifier }
func (*Battery) kind() Kind       { return KindBattery }
func (*Insulation) kind() Kind    { return KindInsulation }

// Reading is what a meter showed.
type Reading struct {
	Pos      Pos
	At       [2]string // nodes; BuildingEarth may be one even where no part is on it
	Quantity string    // "volts" (AC), "dc_volts", "ohms", "milliamps"
	Value    float64   // volts, ohms or milliamperes
	Plug     string    // "as-marked", "reversed", "out"
	Switches map[string]string
	Pulled   []string
	Meter    float64 // the meter's own ohms, 10 megohm where not given
}

// TubeType is what a type's table says of it.
type TubeType struct {
	Name       string
	Use        string
	Base       string
	Heater     *Heater // nil for a type without one
	Rectifiers []Section
	Cathodes   []int          // indirectly heated ones
	Elements   map[int]string // what the other pins are
	FromFile   bool           // from the set file's own [tube_types]
}

// Heater is a tube's heater at its published rating.
type Heater struct {
	Pins        [2]int
	Volts, Amps float64
	Tap         *Tap // nil where it has none
}

// Tap is a heater tap: Volts stand between it and heater pin From.
type Tap struct {
	Pin   int
	Volts float64
	From  int
}

// Section is one power rectifying section, by its pins.
type Section struct{ Anode, Cathode int }
