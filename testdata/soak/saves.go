package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"time"

	"coldcheck/netlist/plan"
	"coldcheck/netlist/setfile"
)

// saves keeps account of what the bench said that it had saved.
type saves struct {
	lock     sync.Mutex
	counted  map[string]int
	plans    map[string][]step // by name: what it was told to write
	written  map[string]bool   // those of them that it said it had written
	replaced map[string]int    // by what a page was shown of the file that was there: how often it was replaced
	moved    int               // how often the plan was put aside, so that there was none
	readings string            // as they were written last
}

func (v *saves) count(what string) {
	v.lock.Lock()
	defer v.lock.Unlock()
	if v.counted == nil {
		v.counted, v.plans, v.written, v.replaced = map[string]int{}, map[string][]step{}, map[string]bool{}, map[string]int{}
	}
	v.counted[what]++
}

// saved is the answer to a save.
type saved struct {
	File    string
	There   string
	LeftOut string `json:"left_out"`
}

// savePlans saves plans, beside another who does: what is there is replaced when the bench asked. One of them puts the
// file aside now and then.
func (p *page) savePlans(ctx context.Context, tidies bool) {
	defer p.client.CloseIdleConnections()
	replace := ""
	for n := 0; pause(ctx, time.Duration(300+p.IntN(700))*time.Millisecond); n++ {
		if p.IntN(3) > 0 || len(p.steps) == 0 {
			p.point()
		}
		if tidies && p.IntN(20) == 0 {
			p.moveAside(n)
		}
		// The length differs from plan to plan, so that one written within a tick of the clock has another stamp.
		name := fmt.Sprintf("plan %d of %d %s", n, p.number, strings.Repeat("x", n%97))
		p.saves.count("plans asked")
		p.saves.lock.Lock()
		p.saves.plans[name] = p.steps
		p.saves.lock.Unlock()
		var answer saved
		status := p.post("save-plan", map[string]any{"name": name, "steps": p.steps, "replace": replace}, &answer)
		switch {
		case status != 200:
			p.saves.count("plans refused")
			p.steps = nil
		case answer.There != "":
			p.saves.count("plans asked back")
			replace = answer.There
			continue
		default:
			p.saves.count("plans written")
			p.saves.lock.Lock()
			p.saves.written[name] = true
			p.saves.replaced[replace]++
			p.saves.lock.Unlock()
		}
		replace = ""
	}
}

func (p *page) moveAside(n int) {
	err := os.Rename(p.file("set.plan.toml"), filepath.Join(p.folder, "aside", fmt.Sprintf("%d.plan.toml", n)))
	if err == nil {
		p.saves.lock.Lock()
		p.saves.moved++
		p.saves.lock.Unlock()
	}
}

// saveReadings saves readings, alone, so that each file can be held to what was asked.
func (p *page) saveReadings(ctx context.Context) {
	defer p.client.CloseIdleConnections()
	replace := ""
	for pause(ctx, time.Duration(500+p.IntN(1500))*time.Millisecond) {
		if len(p.checks) == 0 || p.IntN(10) == 0 {
			p.learnChecks()
			continue
		}
		var all []typed
		bad := 0
		for _, i := range p.Perm(len(p.checks))[:1+p.IntN(min(len(p.checks), 10))] {
			text := p.anyOf([]string{"12", "0.5", "many", "3"})
			if text == "many" {
				bad++
			}
			all = append(all, typed{p.checks[i], text})
		}
		p.saves.count("readings asked")
		var answer saved
		status := p.post("save-readings", map[string]any{"typed": all, "replace": replace}, &answer)
		switch {
		case status != 200:
			p.saves.count("readings refused")
		case answer.There != "":
			p.saves.count("readings asked back")
			replace = answer.There
			continue
		default:
			p.saves.count("readings written")
			p.checkReadings(len(all), bad, answer.LeftOut)
		}
		replace = ""
	}
}

// checkReadings holds the file to what was typed: each reading is in it, or a remark of it, or told to be left out.
func (p *page) checkReadings(typed, bad int, leftOut string) {
	data, err := os.ReadFile(p.file("set.readings.toml"))
	if err != nil {
		p.broken.say("the readings that were saved are not there: %v", err)
		return
	}
	text := string(data)
	p.saves.readings = text
	in := strings.Count(text, "[[readings]]")
	if _, remarks, ok := strings.Cut(text, "With both blades tied"); ok {
		in += strings.Count(remarks, "\n# ")
	}
	left := 0
	if leftOut != "" {
		first, _, _ := strings.Cut(leftOut, " ")
		left, _ = strconv.Atoi(first)
	}
	if in+left != typed || left < bad {
		p.broken.say("of %d readings, %d of them unreadable, %d are in the file and %d are told to be left out", typed, bad, in, left)
	}
}

// check holds what lies there in the end to what was said.
func (v *saves) check(s *soak) {
	v.count("looked at in the end")
	// A plan is replaced once, and after it one more save may name it for each time that there was none: what was
	// put aside is asked about by nobody.
	more := 0
	for _, times := range v.replaced {
		more += times - 1
	}
	v.counted["plans put aside"] = v.moved
	if more > v.moved {
		s.broken.say("%d saves say that they replaced a plan that another had replaced already, and it was put aside %d times alone: what was written there is lost unasked", more, v.moved)
	}
	data, err := os.ReadFile(s.file("set.plan.toml"))
	switch {
	case err != nil && len(v.written) == 0, os.IsNotExist(err) && v.moved > 0:
	case err != nil:
		s.broken.say("the plan that was saved is not there: %v", err)
	default:
		v.checkPlan(s, data)
	}
	if v.readings == "" {
		return
	}
	data, err = os.ReadFile(s.file("set.readings.toml"))
	if err != nil || string(data) != v.readings {
		s.broken.say("the readings are not those that were saved last (%v)", err)
	}
	if _, err := setfile.Load("set.toml", strings.NewReader(s.edits.text+"\n"+v.readings)); err != nil {
		s.broken.say("the set file does not take the readings that were saved for it: %v", err)
	}
}

func (v *saves) checkPlan(s *soak, data []byte) {
	p, err := plan.Parse("set.plan.toml", data)
	if err != nil {
		s.broken.say("the plan that was saved is none: %v", err)
		return
	}
	steps := v.plans[p.Name]
	if !v.written[p.Name] || len(steps) != len(p.Steps) {
		s.broken.say("the plan that lies there is %q with %d steps, which no save was told to be written", p.Name, len(p.Steps))
		return
	}
	for i := range steps {
		one, err := plan.Parse("", []byte("plan = \"one\"\n[[steps]]\n"+steps[i].Text+"\n"))
		if err != nil || one.Steps[0].String() != p.Steps[i].String() {
			s.broken.say("step %d of the plan that lies there is %s, and was saved as %q (%v)", i+1, p.Steps[i].String(), steps[i].Text, err)
		}
	}
}
