package page

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"coldcheck/analysis"
	"coldcheck/analysis/survey"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// shortLetters is how much of a node's name is left where lines stand close.
const shortLetters = 7

// namesFolded is how many parts of a folded run are named in the drawing.
const namesFolded = 3

// Sizes beyond the metal.
const (
	handWidth  = 290.0 // of a wide drawing, for the hand and its words
	handHeight = 104.0 // of a tall one, for the hand
	handWords  = 280.0 // of a tall one, for the words beside it
	earthSpace = 64.0
)

// uprightPaper is how wide a drawing may be to be read on upright A4 paper: its small letters, 11 px,
// are then 5 points high.
const uprightPaper = 1150.0

// drawing is what the template draws of a scene.
type drawing struct {
	ID            string
	Title         string
	Width, Height string
	Rows          string // where its rows begin, and the last ends: those of which nothing is shown fold
	Least         string // how much it takes across its rows for the hand alone
	Broad         bool   // too wide to be read on upright paper
	Tall          bool
	Box           string
	Blades        []bladeView
	Cells         []cellView
	Joints        []jointView
	Hand          handView
	Earths        []earthView
	Folded        int // parts that are drawn folded
}

// wireView is a line of one potential.
type wireView struct {
	D    string
	Node int // in Target.Nodes
	On   string
	Bare bool // not shown where scripts are off: its hatch is left to the script
}

// textView is a line of words.
type textView struct{ Class, X, Y, Text, Full string }

type bladeView struct {
	Blade        int
	Level        survey.Level
	At           string
	Name, Side   textView
	Row          string // its place across the rows
	Lead         wireView
	State        string
	Index, Other int
}

type cellView struct {
	Branches             string // numbers, blank between
	At                   string // the symbol's place
	Symbol               string
	Leads                []wireView
	Dots                 []dotView
	Texts                []textView
	Guarded              bool
	Shown                string // the symbol of its state
	OpenWord, BrokenWord string
	Class                string
	State                textView
	Seldom               bool
	Row, Span            string
	Hand                 string // of a hand, the number of its metal
	branches             []int
}

// dotView is where a line branches off another.
type dotView struct{ X, Y string }

type jointView struct {
	X, Y   string
	Label  textView
	Dot    bool
	Node   int
	Span   string // how much it takes along the rows
	Cells  string // numbers of those that must be shown for it to be, "" where it always is
	Hidden bool
	of     []int
}

type handView struct {
	Earth                  bool // the earth alone
	At, EarthAt            string
	Leads                  []string
	Name, Figure, Line     textView
	BarX, BarY, BarW, BarH string
	Bar, Row               string // where it is along the rows, and across them
	Low, End               string // how far the bar goes for the rows, and for the earths
	Band                   int
	Node                   int
	Potential              string
}

type earthView struct {
	Index int
	Lead  string
	At    string
	Label textView
	Cells []cellView
	On    bool
}

// num writes a coordinate.
func num(x float64) string { return strconv.FormatFloat(math.Round(x), 'f', -1, 64) }

// place is a place of the drawing, from one along the row and one across the rows.
func (l *layout) at(x, y float64) (string, string) {
	if l.tall {
		return num(y), num(x)
	}
	return num(x), num(y)
}

// put is where a symbol stands: turned in a tall drawing, mirrored where its part is the other way round.
func (l *layout) put(x, y float64, mirrored bool) string {
	a, b := l.at(x, y)
	s := "translate(" + a + " " + b + ")"
	if l.tall {
		s += "rotate(90)"
	}
	if mirrored {
		s += "scale(-1 1)"
	}
	return s
}

// still is where a symbol stands that is not turned.
func (l *layout) still(x, y float64) string {
	a, b := l.at(x, y)
	return "translate(" + a + " " + b + ")"
}

// line is a line through some places, each two numbers.
func (l *layout) line(places ...float64) string {
	var b strings.Builder
	for i := 0; i < len(places); i += 2 {
		x, y := l.at(places[i], places[i+1])
		switch {
		case i == 0:
			b.WriteString("M" + x + " " + y)
			continue
		case places[i] == places[i-2] && places[i+1] == places[i-1]:
			continue
		}
		px, py := l.at(places[i-2], places[i-1])
		switch {
		case py == y:
			b.WriteString("H" + x)
		case px == x:
			b.WriteString("V" + y)
		}
	}
	return b.String()
}

// text is a line of words at a place; across moves it down the page.
func (l *layout) text(class string, x, y float64, words, full string) textView {
	if full == words {
		full = ""
	}
	return textView{class, num(x), num(y), words, full}
}

// name is what stands above the symbol of one branch or of several folded ones.
func (l *layout) name(branches []int) string {
	return phrase.FewOf(l.names(branches), namesFolded, ", ", "more")
}

func (l *layout) names(branches []int) []string {
	var names []string
	for _, i := range branches {
		for _, n := range l.s.branches[i].Parts {
			if n = netlist.Visible(n); !slices.Contains(names, n) {
				names = append(names, n)
			}
		}
	}
	return names
}

// draw turns a layout into what the template writes.
func (l *layout) draw(id, title string) *drawing {
	d := &drawing{ID: id, Title: title, Tall: l.tall}
	lines := l.uprights()
	for _, j := range l.joints {
		switch {
		case j.target:
		case j.blade >= 0:
			d.Blades = append(d.Blades, l.blade(j))
		default:
			d.Joints = append(d.Joints, l.jointView(j, lines))
		}
	}
	for _, c := range l.cells {
		d.Cells = append(d.Cells, l.cellView(c))
		if len(c.branches) > 1 && l.s.branches[c.branches[0]].heater() {
			d.Folded = max(d.Folded, len(c.branches))
		}
	}
	along, across := l.drawHand(d)
	d.Least = num(across)
	for _, y := range append(l.rows, l.m.top+l.below) {
		d.Rows = strings.TrimSpace(d.Rows + " " + num(y-l.m.before))
	}
	across = max(across, l.height)
	width, height := along, across
	if l.tall {
		width, height = across, along
	}
	d.Broad = width > uprightPaper
	d.Width, d.Height, d.Box = num(width), num(height), fmt.Sprintf("0 0 %s %s", num(width), num(height))
	return d
}

func (l *layout) blade(j *joint) bladeView {
	part, _ := l.s.set.Plug()
	v := bladeView{Blade: j.blade, Row: num(j.y), At: l.put(j.x-34, j.y, false), Lead: wireView{D: l.line(j.x-30, j.y, j.x, j.y), Node: l.s.nodeIndex(j.node)}}
	label, full := shorten(netlist.Visible(j.node), 12), netlist.Visible(part.Name+", "+j.node)
	if l.tall {
		v.Name, v.Side = l.text("nm", j.y+9, j.x-46, label, full), l.text("side", j.y+9, j.x-33, "", "")
		return v
	}
	v.Name, v.Side = l.text("nm", j.x-34, j.y-14, label, full), l.text("side", j.x-34, j.y+24, "", "")
	return v
}

func shorten(s string, n int) string {
	r := []rune(s)
	if len(r) <= n {
		return s
	}
	return string(r[:n-1]) + "…"
}

func (l *layout) jointView(j *joint, lines []upright) jointView {
	v := jointView{Node: l.s.nodeIndex(j.node)}
	v.X, v.Y = l.at(j.x, j.y)
	ends, always := 0, false
	for i, c := range l.cells {
		if c.from == j || c.to == j {
			ends++
			always = always || !c.seldom
			v.of = append(v.of, i)
		}
	}
	if !always {
		v.Cells = strings.Trim(fmt.Sprint(v.of), "[]")
	}
	v.Dot = ends != 2
	full := netlist.Visible(j.node)
	label := shorten(full, nodeLetters)
	if l.tall {
		v.Label, v.Span = l.text("nd", j.y+9, j.x-8, label, full), num(j.x-20)+" "+num(j.x+6)
		return v
	}
	below, above := j.y+19, j.y-9
	order := [2]float64{below, above}
	if j.low > j.y && j.top >= j.y { // clear of a vertical that goes down
		order = [2]float64{above, below}
	}
	beside := l.besideJoint(j, lines)
	onlyLines := slices.DeleteFunc(slices.Clone(beside), func(u upright) bool { return u.half > 0 })
	at, labelY, letters := j.x, order[0], 0
place: // a name on the edge of a symbol is still read, one with a line through it hardly
	for _, around := range [][]upright{beside, onlyLines} {
		for _, most := range []int{nodeLetters, shortLetters} {
			label = shorten(full, most)
			letters = utf8.RuneCountInString(label)
			for _, labelY = range order {
				var clear bool
				if at, clear = labelX(around, j.x, labelY, letters); clear {
					break place
				}
			}
		}
	}
	half := letterWidth / 2 * float64(letters)
	v.Label, v.Span = l.text("nd", at, labelY, label, full), num(min(j.x-4, at-half))+" "+num(max(j.x+4, at+half))
	return v
}

// drawHand draws the metal, the hand and the paths to earth, and gives how far along and across they reach.
func (l *layout) drawHand(d *drawing) (along, across float64) {
	t := l.target
	x := l.width
	if len(l.cells) == 0 {
		x += l.m.cell
	}
	y := l.m.top
	if !math.IsNaN(t.y) && !math.IsInf(t.top, 0) && !l.tall { // in a tall one it stands where it is in view
		y = t.top
	}
	step, first := l.m.row, y+l.m.row
	if l.tall {
		step, first = 84, y+handWords
	}
	end, low := y, y
	if n := len(l.s.Earths); n > 0 {
		end = first + step*float64(n-1)
	}
	if !math.IsInf(t.low, 0) {
		low = t.low
	}
	d.Hand = l.hand(x, y, max(low, end))
	if l.whole {
		d.Hand = handView{Earth: true, Node: d.Hand.Node, EarthAt: l.still(x+30, y), BarX: d.Hand.BarX, BarY: d.Hand.BarY, BarW: d.Hand.BarW, BarH: d.Hand.BarH,
			Leads: []string{l.line(x, y, x+30, y)}, Name: l.text("nm", x+14, y-26, "earth", "")}
	}
	d.Hand.Bar, d.Hand.Row, d.Hand.Low, d.Hand.End = num(x), num(y), num(low), num(end)
	along, across = x+handWidth, end+l.m.row/2+20
	if l.whole {
		along = x + earthSpace + 20
	}
	if l.tall {
		along, across = x+handHeight, max(y+handWords, end+70)
	}
	for k, earth := range l.s.Earths {
		v, end := l.earthView(k, earth, x, first+step*float64(k))
		d.Earths = append(d.Earths, v)
		along = max(along, end)
	}
	return along, across
}

// hand is the hand at the metal's end.
func (l *layout) hand(x, y, low float64) handView {
	v := handView{Node: l.s.nodeIndex(l.s.Node)}
	metal, full := shorten(netlist.Visible(l.s.Node), 18), netlist.Visible(l.s.Node)
	const line = "through a hand to earth"
	if l.tall {
		v.At, v.EarthAt = l.still(x+36, y+4), l.still(x+70, y)
		v.Leads = []string{l.line(x, y, x+20, y), l.line(x+46, y, x+70, y)}
		v.BarX, v.BarY, v.BarW, v.BarH = num(y-16), num(x-3), num(low-y+32), "6"
		v.Name, v.Figure = l.text("nm", y+32, x+24, metal, full), l.text("mA", y+32, x+42, "", "")
		v.Line = l.text("nd", y+32, x+56, line, "")
		return v
	}
	v.At, v.EarthAt = l.still(x+58, y), l.still(x+132, y)
	v.Leads = []string{l.line(x, y, x+40, y), l.line(x+76, y, x+132, y)}
	v.BarX, v.BarY, v.BarW, v.BarH = num(x-3), num(y-12), "6", num(low-y+24)
	v.Name, v.Figure = l.text("nm", x+14, y-26, metal, full), l.text("mA", x+14, y+42, "", "")
	v.Line = l.text("nd", x+14, y+57, line, "")
	return v
}

// earthView is a path from the metal to an earth, and how far it reaches.
func (l *layout) earthView(k int, earth *survey.Path, x, row float64) (earthView, float64) {
	v := earthView{Index: k}
	at := x
	start := x
	var lead string
	for n, i := range earth.Branches {
		half := symbolHalf
		if l.s.branches[i].symbol() == "wire" {
			half = 0
		}
		width := l.cellWidth([]int{i})
		v.Cells = append(v.Cells, l.symbol([]int{i}, at+width/2, row, earth.Nodes[n]))
		lead += l.line(start, row, at+width/2-half, row)
		start = at + width/2 + half
		at += width
	}
	v.Lead = lead + l.line(start, row, at+24, row)
	v.At = l.still(at+24, row)
	if l.tall {
		v.Label = l.text("nm", row+8, at+20, l.earthLabel(earth), "")
		return v, at + 24 + 30
	}
	v.Label = l.text("nm", at+24, row-14, l.earthLabel(earth), "")
	return v, at + 24 + earthSpace
}

func (l *layout) earthLabel(p *survey.Path) string {
	_, plug := l.s.set.Plug()
	switch p.To() {
	case plug.Earth:
		return "earth contact"
	case netlist.BuildingEarth:
		return "building earth"
	}
	return "earthed by a lead"
}

// What of the plug's blades a failure leaves without a supply, beside a blade's number.
const (
	noBlade = -1
	notHot  = 2 // the one that is not hot, whichever that is
)

// lostBlade is the blade whose side of the supply is lost.
func lostBlade(c *analysis.Circuit, faults survey.Faults) int {
	for _, f := range faults {
		switch {
		case f.Kind != analysis.NeutralLost:
		case len(f.Between) == 0:
			return notHot
		case f.Between[0] == c.Plug.Hot:
			return 0
		default:
			return 1
		}
	}
	return noBlade
}

// bladeWords are the captions of a blade: which side of the supply is on it.
func bladeWords(c *analysis.Circuit, polarity analysis.Polarity, blade, lost int) string {
	hot := polarity.HotBlade() == blade
	switch {
	case lost == blade, lost == notHot && !hot:
		return "not connected"
	case c.Earthed() == netlist.EarthedNowhere:
		return "line"
	case hot:
		return "HOT"
	case c.BothHot():
		return "HOT too"
	}
	return "neutral"
}

// show sets a drawing to a state.
func (d *drawing) show(e *survey.Evaluation, c *analysis.Circuit, polarity analysis.Polarity, lost int) {
	for i := range d.Cells {
		d.Cells[i].show(e)
	}
	for k := range d.Earths {
		d.Earths[k].On = e.Earths[k]
		for i := range d.Earths[k].Cells {
			d.Earths[k].Cells[i].show(e)
		}
	}
	for i := range d.Joints {
		j := &d.Joints[i]
		j.Hidden = j.Cells != "" && !slices.ContainsFunc(j.of, func(k int) bool { return d.Cells[k].level(e) > 0 })
	}
	for i := range d.Blades {
		d.Blades[i].Side.Text = bladeWords(c, polarity, d.Blades[i].Blade, lost)
		d.Blades[i].Level = e.Blades[d.Blades[i].Blade]
		d.Blades[i].Lead.show(e)
	}
	d.Hand.Figure.Text, d.Hand.Band = phrase.Body(e.Reading), verdictOf(e).head()
	d.Hand.Potential = potentialClass(e, d.Hand.Node)
}

func (w *wireView) show(e *survey.Evaluation) { w.On = potentialClass(e, w.Node) }

// potentialClass is the class of a line at a node.
func potentialClass(e *survey.Evaluation, node int) string {
	if node < 0 {
		return "p" + string(potentialLetters[survey.Low])
	}
	return "p" + string(potentialLetters[e.Potentials[node]])
}
