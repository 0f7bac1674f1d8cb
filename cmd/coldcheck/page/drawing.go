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

// namesFolded is how many parts of a folded run are named in the drawing.
const namesFolded = 3

// Sizes to the right of the metal.
const (
	handWidth  = 230.0
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
	Fit           int  // its width in hundreds
	Broad         bool // too wide to be read on upright paper
	Box           string
	Blades        []bladeView
	Cells         []cellView
	Joints        []jointView
	Buses         []string // verticals of the blades and the metal
	Hand          handView
	Earths        []earthView
	Folded        int // parts that are drawn folded
}

type bladeView struct {
	Index, Blade         int
	X, Y, LabelY, StateY string
	Label, Full          string
	Lead, State          string
}

type cellView struct {
	Branches             string // numbers, blank between
	X, Y                 string
	Lead, Name, Symbol   string
	NameY                string
	Full                 string
	Lines                []lineView
	Guard                string
	GuardY, StateY       string
	FrameX, FrameY       string
	FrameW, FrameH       string
	OpenWord, BrokenWord string
	State, StateWord     string
	branches             []int
}

type lineView struct{ Y, Text string }

type jointView struct {
	X, Y, LabelX, LabelY string
	Label, Full          string
	Dot                  bool
}

type handView struct {
	X, Y, Lead, EarthLead, EarthX string
	TextX, NameY, FigureY, LineY  string
	Metal                         string
	BarX, BarY, BarH              string
	Figure                        string
	Band                          int
}

type earthView struct {
	Index                     int
	Lead, X, Y, LabelX, TextY string
	Label                     string
	Cells                     []cellView
	On                        bool
}

// num writes a coordinate.
func num(x float64) string { return strconv.FormatFloat(math.Round(x*10)/10, 'f', -1, 64) }

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
	d := &drawing{ID: id, Title: title}
	lines := l.uprights()
	for _, j := range l.joints {
		switch {
		case j.target:
		case j.blade >= 0:
			d.Blades = append(d.Blades, l.blade(j))
			d.Buses = append(d.Buses, bus(j.x, min(j.y, j.top), max(j.y, j.low)))
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
	right := l.drawRight(d)
	width, height := right, l.height
	if low := topMargin + rowHeight*float64(1+len(d.Earths)); low > height {
		height = low
	}
	d.Fit, d.Broad = int(math.Ceil(width/100)), width > uprightPaper
	d.Width, d.Height, d.Box = num(width), num(height), fmt.Sprintf("0 0 %s %s", num(width), num(height))
	return d
}

func bus(x, top, low float64) string {
	if top == low {
		return ""
	}
	return fmt.Sprintf("M%s %sV%s", num(x), num(top), num(low))
}

func (l *layout) blade(j *joint) bladeView {
	part, _ := l.s.set.Plug()
	return bladeView{
		Index: j.blade, Blade: j.blade, X: num(j.x - 34), Y: num(j.y), LabelY: num(j.y - 14), StateY: num(j.y + 24),
		Label: shorten(netlist.Visible(j.node), 12), Full: netlist.Visible(part.Name + ", " + j.node),
		Lead: fmt.Sprintf("M%s %sH%s", num(j.x-30), num(j.y), num(j.x)),
	}
}

func shorten(s string, n int) string {
	r := []rune(s)
	if len(r) <= n {
		return s
	}
	return string(r[:n-1]) + "…"
}

func (l *layout) jointView(j *joint, lines []upright) jointView {
	ends := 0
	for _, c := range l.cells {
		if c.from == j || c.to == j {
			ends++
		}
	}
	full := netlist.Visible(j.node)
	labelY := j.y + 19
	if j.low > j.y && j.top >= j.y { // clear of a vertical that goes down
		labelY = j.y - 9
	}
	label := shorten(full, nodeLetters)
	labelX := labelX(lines, j.x, labelY, utf8.RuneCountInString(label))
	return jointView{X: num(j.x), Y: num(j.y), LabelX: num(labelX), LabelY: num(labelY), Label: label, Full: full, Dot: ends != 2}
}

func (l *layout) cellView(c *cell) cellView {
	left := fmt.Sprintf("M%s %s", num(c.from.x), num(c.y))
	if c.from.y != c.y && c.from.blade < 0 {
		left = fmt.Sprintf("M%s %sV%s", num(c.from.x), num(c.from.y), num(c.y))
	}
	half := symbolHalf
	e := l.s.branches[c.branches[0]]
	if e.symbol() == "wire" {
		half = 0
	}
	right := fmt.Sprintf("M%s %sH%s", num(c.x+half), num(c.y), num(c.to.x))
	switch {
	case c.bridge:
		right = fmt.Sprintf("M%s %sH%sV%sH%s", num(c.x+half), num(c.y), num(c.from.x+c.width), num(c.y+bridgeDrop), num(c.to.x))
	case c.to.y != c.y && !c.to.target:
		right += "V" + num(c.to.y)
	}
	v := l.symbol(c.branches, c.x, c.y)
	v.Lead = left + "H" + num(c.x-half) + right
	return v
}

// symbol is a symbol with its labels at a place.
func (l *layout) symbol(branches []int, x, y float64) cellView {
	e := l.s.branches[branches[0]]
	v := cellView{branches: branches, X: num(x), Y: num(y), Symbol: e.symbol(), Name: l.name(branches), Full: strings.Join(l.names(branches), ", "), NameY: num(y - 23)}
	var numbers []string
	for _, i := range branches {
		numbers = append(numbers, strconv.Itoa(i))
	}
	v.Branches = strings.Join(numbers, " ")
	below := y + 34
	if len(branches) > 1 && e.heater() {
		v.Lines = append(v.Lines, lineView{num(below), fmt.Sprintf("%d heaters", len(branches))})
		below += 13
	} else {
		for _, text := range e.says() {
			v.Lines = append(v.Lines, lineView{num(below), text})
			below += 13
		}
		if guard := e.guardWords(); guard != "" {
			v.Guard, v.GuardY = guard, num(y-37)
			v.FrameX, v.FrameY, v.FrameW, v.FrameH = num(x-guardHalf), num(y-19), num(2*guardHalf), "38"
		}
	}
	v.StateY = num(below)
	v.OpenWord, v.BrokenWord = e.openWord(), e.brokenWord()
	return v
}

// openWord is what is wrong, or set so, where no current can pass.
func (e *branch) openWord() string {
	switch e.part().Kind {
	case netlist.KindSwitch:
		return "off"
	case netlist.KindSelector:
		return "not made"
	case netlist.KindTube:
		return "pulled"
	case netlist.KindWire:
		return "off"
	}
	return "open"
}

func (e *branch) brokenWord() string {
	switch {
	case e.Class == survey.Insulates:
		return "failed"
	case e.part().Kind == netlist.KindSwitch, e.part().Kind == netlist.KindSelector:
		return "stuck"
	}
	return "shorted"
}

// drawRight draws the metal, the hand and the paths to earth, and gives the right edge.
func (l *layout) drawRight(d *drawing) float64 {
	t := l.target
	x := l.width
	if len(l.cells) == 0 {
		x += cellWidth
	}
	y := topMargin
	if !math.IsNaN(t.y) && !math.IsInf(t.top, 0) {
		y = t.top
	}
	low := max(y, topMargin+rowHeight*float64(len(l.s.Earths)))
	if !math.IsInf(t.low, 0) {
		low = max(low, t.low)
	}
	d.Hand = handView{
		X: num(x + 58), Y: num(y), Lead: fmt.Sprintf("M%s %sH%s", num(x), num(y), num(x+40)),
		EarthLead: fmt.Sprintf("M%s %sH%s", num(x+76), num(y), num(x+132)), EarthX: num(x + 132),
		TextX: num(x + 14), NameY: num(y - 26), FigureY: num(y + 42), LineY: num(y + 57),
		Metal: shorten(netlist.Visible(l.s.Node), 18),
		BarX:  num(x - 3), BarY: num(y - 12), BarH: num(low - y + 24),
	}
	right := x + handWidth
	for k, earth := range l.s.Earths {
		row := y + rowHeight*float64(k+1)
		v := earthView{Index: k}
		at := x
		lead := fmt.Sprintf("M%s %s", num(x), num(row))
		for _, i := range earth.Branches {
			half := symbolHalf
			if l.s.branches[i].symbol() == "wire" {
				half = 0
			}
			width := l.cellWidth([]int{i})
			v.Cells = append(v.Cells, l.symbol([]int{i}, at+width/2, row))
			lead += fmt.Sprintf("H%sM%s %s", num(at+width/2-half), num(at+width/2+half), num(row))
			at += width
		}
		v.Lead = lead + "H" + num(at+24)
		v.X, v.Y = num(at+24), num(row)
		v.LabelX, v.TextY = num(at+24), num(row-14)
		v.Label = l.earthLabel(earth)
		d.Earths = append(d.Earths, v)
		right = max(right, at+24+earthSpace)
	}
	return right
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
	for i := range d.Blades {
		d.Blades[i].State = bladeWords(c, polarity, d.Blades[i].Blade, lost)
	}
	d.Hand.Figure, d.Hand.Band = phrase.Body(e.Reading), verdictOf(e).head()
}

// show gives a cell the state of its branches. A folded one brings current where all of it does, and
// is open where any of it is.
func (v *cellView) show(e *survey.Evaluation) {
	count := map[survey.BranchState]int{}
	for _, i := range v.branches {
		count[e.Branches[i]]++
	}
	state := survey.AtRest
	switch {
	case count[survey.Open] > 0:
		state, v.StateWord = survey.Open, v.OpenWord
	case count[survey.BrokenBrings] > 0:
		state, v.StateWord = survey.BrokenBrings, v.BrokenWord
	case count[survey.Broken] > 0:
		state, v.StateWord = survey.Broken, v.BrokenWord
	case count[survey.BranchBrings] == len(v.branches):
		state = survey.BranchBrings
	case count[survey.BranchBrings]+count[survey.OwnCurrent] > 0:
		state = survey.OwnCurrent
	}
	v.State = string(branchLetters[state])
}
