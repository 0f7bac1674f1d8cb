package plan

import (
	"fmt"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// Plan is a rework plan: steps in the order in which a person will solder.
type Plan struct {
	File  string
	Name  string // what the plan is for
	Steps []Step
}

// Step is one step of a plan. Which of its texts are given depends on what it does.
type Step struct {
	Number int    // from 1
	Do     string // one of stepVerbs
	Part   string // of all but mark
	Node   string // of mark
	// Terminal names one end of the part, "" where the plan does not; From and To are points.
	Terminal, From, To string
	As                 *netlist.Table // keys of a part, or of a point; nil where the step has none
	Why                string         // written as a remark above the step; never read

	Pos    netlist.Pos // of the step
	places map[string]netlist.Pos
}

// verb is one thing that a step does, and the keys that it takes.
type verb struct {
	name     string
	meaning  string // one line
	required []string
	optional []string
	example  string
}

// stepVerbs are all that a step can do, in the order of the format's page.
var stepVerbs = []verb{
	{"replace", "puts another part in the place of one; what it does not say of the kind and the ends (pins, windings) stays", []string{"part", "as"}, nil,
		`part = "C1", as = { value = "4.7 nF", class = "Y2" }`},
	{"remove", "takes a part out", []string{"part"}, nil, `part = "R1"`},
	{"fit", "puts in a part that was not there", []string{"part", "as"}, nil, `part = "F1", as = { kind = "fuse", … }`},
	{"move", "moves one end of a part to another point", []string{"part", "from", "to"}, []string{"terminal"}, `part = "S1", from = "line 2", to = "line 1"`},
	{"change", "gives a part other keys; the rest of it stays", []string{"part", "as"}, nil, `part = "PL1", as = { style = "polarized" }`},
	{"mark", "gives a point other keys of [nodes]; the rest stays", []string{"node", "as"}, nil, `node = "chassis", as = { guard = "cabinet" }`},
}

// stepKeys are the keys of [[steps]].
var stepKeys = []netlist.KeyInfo{
	{Name: "do", Sort: netlist.SortWord, Words: verbNames(), Required: true, Meaning: "what is done", Example: `do = "replace"`},
	{Name: "part", Sort: netlist.SortText, Meaning: "the part that it is done to", Example: `part = "C1"`},
	{Name: "node", Sort: netlist.SortNode, Meaning: "the point that is marked", Example: `node = "chassis"`},
	{Name: "as", Sort: netlist.SortText, Meaning: "the keys of a part, or of a point, as a set file has them",
		Example: `as = { kind = "capacitor", ends = ["B-", "chassis"], value = "4.7 nF", class = "Y2" }`},
	{Name: "from", Sort: netlist.SortNode, Meaning: "the point that the end is on", Example: `from = "line 2"`},
	{Name: "to", Sort: netlist.SortNode, Meaning: "the point that it goes to", Example: `to = "line 1"`},
	{Name: "terminal", Sort: netlist.SortText, Meaning: "which end, where two ends of the part are on that point", Example: `terminal = "pin 3"`},
}

// planKeys are the keys at the top of a plan.
var planKeys = []netlist.KeyInfo{
	{Name: "plan", Sort: netlist.SortText, Required: true, Meaning: "what the plan is for", Example: `plan = "switch to the hot leg, safety capacitor"`},
	{Name: "format", Sort: netlist.SortNumber, Default: "1", Meaning: "the version of the format", Example: "format = 1"},
	{Name: "steps", Sort: netlist.SortText, Required: true, Meaning: "the steps, each below a line [[steps]]", Example: "[[steps]]"},
}

// Topic is what the format says of a plan.
func Topic() netlist.Topic {
	var rows [][2]string
	for _, v := range stepVerbs {
		rows = append(rows, [2]string{v.name, v.meaning + ": " + v.example})
	}
	return netlist.Topic{
		Name: "plan", Words: []string{"plans", "rework plan", "rework", "steps", "step"}, Meaning: "a rework plan: a file of its own, with steps in the order in which you will solder",
		Notes: []string{
			"Each step begins with a line [[steps]]. The parts that a step fits are written as in [parts], and count as good unless it says otherwise; a can is a step for each of its sections.",
			"coldcheck rework SET PLAN carries it out on a copy and tells what it does at every step; coldcheck rework --propose SET writes one.",
		},
		Tables: []netlist.TopicTable{{Title: "A plan has", Keys: planKeys}, {Title: "A step takes", Keys: stepKeys}, {Title: "do is one of", Rows: rows}},
		Example: `plan = "switch to the hot leg, safety capacitor"
[[steps]]
do = "replace"
part = "C1"
as = { value = "4.7 nF", class = "Y2", type = "ceramic" }
[[steps]]
do = "move"
part = "S1"
from = "line 2"
to = "line 1"`,
	}
}

func verbNames() []string {
	names := make([]string, len(stepVerbs))
	for i, v := range stepVerbs {
		names[i] = v.name
	}
	return names
}

func findVerb(name string) *verb {
	for i := range stepVerbs {
		if stepVerbs[i].name == name {
			return &stepVerbs[i]
		}
	}
	return nil
}

// String gives the step in a few words: "replace C1", "move S1 from line 2 to line 1".
func (s *Step) String() string {
	switch s.Do {
	case "mark":
		return "mark " + words.Visible(s.Node)
	case "move":
		end := ""
		if s.Terminal != "" {
			end = " " + words.Visible(s.Terminal)
		}
		return fmt.Sprintf("move %s%s from %s to %s", words.Visible(s.Part), end, words.Visible(s.From), words.Visible(s.To))
	}
	return s.Do + " " + words.Visible(s.Part)
}
