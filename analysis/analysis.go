package analysis

import (
	"sync"

	"coldcheck/analysis/budget"
	"coldcheck/analysis/internal/charge"
	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/nodal"
	"coldcheck/analysis/internal/parallel"
	"coldcheck/analysis/internal/search"
	"coldcheck/analysis/internal/topology"
	"coldcheck/netlist"
)

// Circuit is a set made ready for analysis. Many goroutines may use it.
type Circuit struct {
	*circuit.Circuit
	network *nodal.Network
	wirings *topology.Wirings
	judge   *search.Judge

	playing sync.Once
	played  *Playing
	similar *Circuit // where the working set begins, nil for at rest
}

// New makes a set ready on a bench. It fails only where the bench names a node that is not there.
func New(set *netlist.Set, bench Bench) (*Circuit, error) {
	made, err := circuit.New(set, bench)
	if err != nil {
		return nil, err
	}
	n := nodal.NewNetwork(made)
	c := &Circuit{Circuit: made, network: n, wirings: topology.NewWirings(made), judge: search.NewJudge(n)}
	return c, nil
}

// Result is all that Examine finds.
type Result struct {
	Circuit *Circuit
	*search.Result
	Stored []Stored
}

// Examine searches every state with every set of faults up to the limit. Options out of range are
// taken as the nearest that are in it.
func (c *Circuit) Examine(options Options) *Result {
	return c.ExamineOf(options, search.All)
}

// ExamineOf is Examine of those points and pairs alone that are sought.
func (c *Circuit) ExamineOf(options Options, sought Sought) *Result {
	return &Result{Circuit: c, Result: search.Examine(c.network, options, sought), Stored: charge.Unplugged(c.network)}
}

// EachState visits every state with up to most faults, guards aside and suspect parts counted: by
// number of faults, then faults in the order of the file, plug polarity, switches, rectifier. Rows are
// handed out one at a time and are not kept; visit returns false to stop.
func (c *Circuit) EachState(most int, filter Filter, visit func(Row) bool) {
	search.EachState(c.network, most, filter, visit)
}

// Judged lists what is read in every state with these faults, the cleared ones among them, then,
// where a failed part is what shorts the line, the state once more with every failed part's short
// left out.
func (c *Circuit) Judged(faults ...*Fault) []Row { return c.judge.Judged(faults...) }

// JudgedAt is Judged in some of Positions alone.
func (c *Circuit) JudgedAt(positions []int, faults ...*Fault) []Row {
	return c.judge.JudgedAt(positions, faults...)
}

// Contradictory reports whether two faults cannot be together.
func Contradictory(f, g *Fault) bool { return circuit.Contradictory(f, g) }

// JudgedEach is Judged for each of some faults alone, several at a time. Visit may be called from
// several goroutines at once, once for each place in the list.
func (c *Circuit) JudgedEach(faults []*Fault, visit func(i int, rows []Row)) {
	c.judge.JudgedEach(faults, visit)
}

// WorstBetween is the worst from one touch point to another, by their places in Points, in all states
// with these faults; nil where every one is cleared.
func (c *Circuit) WorstBetween(a, b int, faults ...*Fault) *Worst {
	return c.judge.WorstsBetween([][2]int{{a, b}}, faults...)[0]
}

// WorstsBetween is WorstBetween of each of some pairs.
func (c *Circuit) WorstsBetween(pairs [][2]int, faults ...*Fault) []*Worst {
	return c.judge.WorstsBetween(pairs, faults...)
}

// WorstsBetweenIn is WorstsBetween in one of Positions and one plug polarity alone, whichever rectifier conducts.
func (c *Circuit) WorstsBetweenIn(position int, plug Polarity, pairs [][2]int, faults ...*Fault) []*Worst {
	return c.judge.WorstsBetweenIn([]int{position}, []Polarity{plug}, pairs, faults...)
}

// Solve solves one state.
func (c *Circuit) Solve(state State) *Solution { return c.network.Solve(state) }

// Wiring lays out the channels of a state. Those of states without faults are kept.
func (c *Circuit) Wiring(state State) *Wiring { return c.wirings.Of(state) }

// Draws lists what the tubes draw in a state, which is no channel of its wiring.
func (c *Circuit) Draws(state State) []Channel { return topology.Draws(c.Circuit, state) }

// ColdOhms is what an ohmmeter shows between two nodes of the unplugged set with some faults, +Inf
// above OpenOhms: capacitors by their leakage alone, rectifiers open, heaters at a sixth of their hot
// ohms. With tied the blades are joined. Settings are as for StateOf. A node that is not there is
// joined to nothing.
func (c *Circuit) ColdOhms(settings map[string]string, a, b string, tied bool, faults ...*Fault) float64 {
	return c.network.UnpluggedBetween(c.StateOf(AsMarked, settings).Position, a, b, tied, faults...)
}

// Stresses lists the worst volts of every capacitor over the normal states, also with each piece of
// touchable metal earthed in turn. Others names, of each capacitor between the line and a hand, the further
// ones of its path: it stands the whole when one of them shorts.
func (c *Circuit) Stresses(others map[string][]string) []Stress {
	return charge.Stresses(c.network, others)
}

// EachStanding visits every normal state that is not cleared, then the same with each piece of touchable
// metal earthed in turn; then likewise with each of some capacitors shorted.
func (c *Circuit) EachStanding(shorted []string, visit func(Standing)) {
	charge.EachStanding(c.network, shorted, visit)
}

// Fits gives a TooLarge error for a set whose equations would not fit, else nil.
func (c *Circuit) Fits() error { return search.Fits(c.network) }

// Bytes estimates what the equations of all switch positions take.
func (c *Circuit) Bytes() float64 { return c.network.Bytes() }

// Network is the equations, for the packages below this one.
func (c *Circuit) Network() *nodal.Network { return c.network }

// Forget lets go of the equations and the wirings, which may be large. They are made again when they
// are asked for.
func (c *Circuit) Forget() {
	c.network.Forget()
	c.wirings.Forget()
	c.judge.Forget()
	c.playing, c.played, c.similar = sync.Once{}, nil, nil
}

// Work is about what it takes to examine the circuit at single failures and to judge it.
func (c *Circuit) Work() budget.Count {
	const whole, perPart, perPoint, perPosition, most = 4000, 300, 1400, 1000, 1e6
	size := whole + perPart*len(c.Set.Parts) + perPoint*len(c.Points) + perPosition*len(c.Positions)
	return budget.Count(size) + min(budget.Count(search.SingleFailures(c.network)), most)
}

// WorstOf is the worst, at the point of that index in Points, of the rows that are not cleared and
// that keep lets through; nil where there is none. A nil keep lets all through.
func WorstOf(rows []Row, point int, keep func(Row) bool) *Worst {
	return search.WorstOf(rows, point, keep)
}

// SideBySide calls work for 0 to n-1, as many at a time as there are processors.
func SideBySide(n int, work func(i int)) { parallel.Each(n, work) }

// BodyImpedance is the touch-current network of IEC 60990, in Ω at omega rad/s.
func BodyImpedance(omega float64) complex128 { return circuit.BodyImpedance(omega) }
