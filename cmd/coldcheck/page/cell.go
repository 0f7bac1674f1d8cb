package page

import (
	"fmt"
	"strconv"
	"strings"

	"coldcheck/analysis/survey"
	"coldcheck/netlist"
)

func (l *layout) cellView(c *cell) cellView {
	half := symbolHalf
	if l.s.branches[c.branches[0]].symbol() == "wire" {
		half = 0
	}
	v := l.symbol(c.branches, c.x, c.y, c.from.node)
	v.Seldom, v.Row = c.seldom, num(c.y)
	span := max(half, l.cellWidth(c.branches)/2-labelGap/2)
	v.Span = num(c.x-span) + " " + num(c.x+span)
	v.Leads = []wireView{{D: l.line(c.from.x, c.from.y, c.from.x, c.y, c.x-half, c.y), Node: l.s.nodeIndex(c.from.node)}}
	to := wireView{Node: l.s.nodeIndex(c.to.node)}
	switch {
	case c.bridge:
		to.D = l.line(c.x+half, c.y, c.from.x+c.width, c.y, c.from.x+c.width, c.y+l.m.drop, c.to.x, c.y+l.m.drop, c.to.x, c.to.y)
	case c.to.target:
		to.D = l.line(c.x+half, c.y, c.to.x, c.y)
	default:
		to.D = l.line(c.x+half, c.y, c.to.x, c.y, c.to.x, c.to.y)
	}
	v.Leads = append(v.Leads, to)
	end := c.y
	if c.bridge {
		end += l.m.drop
	}
	v.branchOff(l, c.from, c.y)
	v.branchOff(l, c.to, end)
	return v
}

// branchOff puts a dot where a cell leaves the vertical of a joint on its way: a line that merely crosses it has none.
func (v *cellView) branchOff(l *layout, j *joint, y float64) {
	if !j.target && y != j.y && j.top < y && y < j.low {
		a, b := l.at(j.x, y)
		v.Dots = append(v.Dots, dotView{a, b})
	}
}

// symbol is a symbol with its words at a place; the current comes to it from a node.
func (l *layout) symbol(branches []int, x, y float64, from string) cellView {
	e := l.s.branches[branches[0]]
	v := cellView{branches: branches, At: l.put(x, y, e.mirrored(from)), Symbol: e.drawn(), OpenWord: e.openWord(), BrokenWord: e.brokenWord()}
	var numbers []string
	for _, i := range branches {
		numbers = append(numbers, strconv.Itoa(i))
	}
	v.Branches = strings.Join(numbers, " ")
	guard := ""
	if len(branches) == 1 {
		guard = e.guardWords()
	}
	v.Guarded = guard != ""
	full := strings.Join(l.names(branches), ", ")
	if l.tall {
		l.wordsBeside(&v, branches, x, y, guard, full)
		return v
	}
	v.Texts = append(v.Texts, l.text("nm", x, y-23, l.name(branches), full))
	below := y + 34
	lines := e.says()
	if len(branches) > 1 && e.heater() {
		lines = []string{fmt.Sprintf("%d heaters", len(branches))}
	}
	for _, line := range lines {
		v.Texts = append(v.Texts, l.text("nd", x, below, line, ""))
		below += 13
	}
	if guard != "" {
		v.Texts = append(v.Texts, l.text("gd", x, y-37, guard, ""))
	}
	v.State = l.text("st", x, below, "", "")
	return v
}

// wordsBeside puts the words of a symbol on its right.
func (l *layout) wordsBeside(v *cellView, branches []int, x, y float64, guard, full string) {
	words := l.beside(branches)
	names := len(broken(l.name(branches), nameLetters))
	at := x - lineHeight*float64(len(words)-1)/2 + 4
	for i, line := range words {
		class := "nd"
		switch {
		case i < names:
			class = "nm"
		case line == guard && guard != "" && i == names:
			class = "gd"
		}
		title := ""
		if i == 0 {
			title = full
		}
		if line != "" {
			v.Texts = append(v.Texts, l.text(class, y+24, at, line, title))
			at += lineHeight
		}
	}
	v.State = l.text("st", y+24, at, "", "")
}

// openWord is what is wrong, or set so, where no current can pass.
func (e *branch) openWord() string {
	if e.Class == survey.Hand {
		return "open"
	}
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
	case e.Class == survey.Hand:
		return "shorted"
	case e.Class == survey.Insulates:
		return "failed"
	case e.part().Kind == netlist.KindSwitch, e.part().Kind == netlist.KindSelector:
		return "stuck"
	case e.part().Kind == netlist.KindPotentiometer:
		return "0 Ω" // shorted, or turned to that end
	}
	return "shorted"
}

// level is the most that any of a cell's branches carries.
func (v *cellView) level(e *survey.Evaluation) survey.Level {
	level := survey.NoCurrent
	for _, i := range v.branches {
		level = max(level, e.Levels[i])
	}
	return level
}

// show gives a cell the state of its branches. A folded one is open where any of it is.
func (v *cellView) show(e *survey.Evaluation) {
	state, word, open := "", "", 0
	for _, i := range v.branches {
		switch {
		case e.Branches[i] == survey.Open:
			open++
			if state, word = " so", v.OpenWord; open < len(v.branches) {
				word = fmt.Sprintf("%d of %d %s", open, len(v.branches), v.OpenWord)
			}
		case e.Branches[i] == survey.Broken && state == "":
			state, word = " sx", v.BrokenWord
		}
	}
	level := v.level(e)
	v.Class = fmt.Sprintf("cell l%d%s", level, state)
	if v.Seldom {
		v.Class += " seldom"
		if level > 0 {
			v.Class += " on"
		}
	}
	v.State.Text, v.Shown = word, v.Symbol
	switch {
	case state != " so":
	case v.Symbol == "switch":
		v.Shown = "switch-open"
	default:
		v.Shown = "gap"
	}
	for i := range v.Leads {
		v.Leads[i].Bare = v.Seldom && level == 0
		v.Leads[i].show(e)
	}
}
