package netlist

// BuildingEarth is the reserved node: a rod, a water pipe, whatever earth the building has.
const BuildingEarth = "building earth"

// Set is one set's wiring, checked and complete.
type Set struct {
	Name  string
	File  string  // as the person named it; "-" for standard input
	Volts float64 // mains, V rms
	Hertz float64 // mains, Hz
	// Earthed is what of the mains is earthed: one of MainsEarthed.
	Earthed string
	// Condition is that of every part, guard and insulation that has none of its own; "" where the file
	// says none.
	Condition Condition
	Note      string

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

// What of the mains is earthed.
const (
	EarthedNeutral  = "neutral"  // one side: the usual socket
	EarthedMidpoint = "midpoint" // the middle of the two: 240 V of a split phase
	EarthedStar     = "star"     // the star point of three phases, of which the sides are two
	EarthedNowhere  = "nowhere"  // nothing: a building's own isolated supply
)

// MainsEarthed are all of them, the default first.
var MainsEarthed = []string{EarthedNeutral, EarthedMidpoint, EarthedStar, EarthedNowhere}

// BothHot reports whether neither leg of the building's mains is the neutral.
func (s *Set) BothHot() bool {
	return s.Earthed == EarthedMidpoint || s.Earthed == EarthedStar || s.Earthed == EarthedNowhere
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

// Coupled reports whether touchable metal of a kind is a terminal that a signal alone passes: a small
// capacitor can carry that, and hold off the line.
func Coupled(touch string) bool { return touch == "antenna" || touch == "ground" || touch == "jack" }

// GuardKinds are the things that keep fingers off metal.
var GuardKinds = []string{"cabinet", "knob", "cover", "sleeve"}
