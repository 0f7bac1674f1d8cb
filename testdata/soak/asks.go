package main

import (
	"bytes"
	"context"
	"encoding/json"
	"time"
)

// asked is a state, as live takes it.
type asked struct {
	Plug     string            `json:"plug"`
	Settings map[string]string `json:"settings"`
	Faults   []string          `json:"faults"`
	Isolated bool              `json:"isolated"`
	Earthed  []string          `json:"earthed"`
	Steps    []step            `json:"steps"`
	Done     int               `json:"done"`
}

// learn asks for the set as it is when nothing is set.
func (p *page) learn() { p.state(asked{}) }

func (p *page) state(a asked) int {
	var answer struct {
		Head     head
		Controls controls
		Cards    []json.RawMessage
	}
	status := p.post("state", a, &answer)
	if status == 200 {
		p.head = answer.Head
		if len(answer.Controls.Parts) > 0 {
			p.known.lock.Lock()
			p.known.controls = answer.Controls
			p.known.lock.Unlock()
		}
	}
	return status
}

func (p *page) knows() controls {
	p.known.lock.Lock()
	defer p.known.lock.Unlock()
	return p.known.controls
}

// refresh asks what a page asks when it is told that the file is another.
func (p *page) refresh(ctx context.Context, changed chan bool) {
	for {
		select {
		case <-ctx.Done():
			return
		case <-changed:
			p.learn()
			p.post("findings", struct{}{}, new(any))
			p.learnChecks()
		}
	}
}

// ask asks this and that, as long as there is time.
func (p *page) ask(ctx context.Context) {
	p.learnChecks()
	ways := []struct {
		weight int
		does   func()
	}{
		{40, func() { p.state(p.anyState()) }},
		{3, func() { p.post("findings", struct{}{}, new(any)) }},
		{3, p.learnChecks},
		{20, p.point},
		{6, func() { p.post("plan", map[string]any{"name": "tried", "steps": p.steps}, new(any)) }},
		{14, p.read},
		{16, p.spoil},
		{8, p.garble},
	}
	sum := 0
	for _, w := range ways {
		sum += w.weight
	}
	// One page alone looks for plans, and not often: that is a search of many seconds, and holds a place for as long.
	searches := time.NewTicker(max(p.time/20, 10*time.Second))
	defer searches.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-searches.C:
			if p.number == 0 {
				p.post("proposals", struct{}{}, new(any))
			}
		case <-time.After(time.Duration(200+p.IntN(1300)) * time.Millisecond):
			at := p.IntN(sum)
			for _, w := range ways {
				if at -= w.weight; at < 0 {
					w.does()
					break
				}
			}
		}
	}
}

// anyOf draws one of a list, "" where it is empty.
func (p *page) anyOf(list []string) string {
	if len(list) == 0 {
		return ""
	}
	return list[p.IntN(len(list))]
}

func (p *page) anyChoice(list []choice) string {
	if len(list) == 0 {
		return ""
	}
	return list[p.IntN(len(list))].Value
}

func (p *page) anyState() asked {
	c := p.knows()
	a := asked{Plug: p.anyChoice(c.Plugs), Settings: map[string]string{}, Isolated: p.IntN(8) == 0, Faults: []string{}, Earthed: []string{}}
	for _, s := range c.Switches {
		if p.IntN(3) == 0 {
			a.Settings[s.Name] = p.anyChoice(s.Positions)
		}
	}
	for range p.IntN(5) {
		a.Faults = append(a.Faults, p.anyChoice(c.Faults))
	}
	for range p.IntN(3) / 2 {
		a.Earthed = append(a.Earthed, p.anyOf(c.Points))
	}
	if p.IntN(20) == 0 {
		a.Settings["none such"], a.Plug = "off", "sideways"
	}
	if p.IntN(3) == 0 {
		a.Steps, a.Done = p.steps, p.IntN(len(p.steps)+2)
	}
	return a
}

// mostSteps is where a page begins its plan anew.
const mostSteps = 8

// point picks something, and takes one of what is offered into the plan.
func (p *page) point() {
	c := p.knows()
	a := map[string]any{"steps": p.steps, "to": ""}
	if p.IntN(2) == 0 {
		a["to"] = p.anyOf(c.Points)
	}
	if p.IntN(2) == 0 {
		a["part"] = p.anyChoice(c.Parts)
	} else {
		a["node"] = p.anyOf(c.Points)
	}
	var answer struct{ Offers []struct{ Steps []step } }
	if status := p.post("offers", a, &answer); len(p.steps) > mostSteps || status == 422 {
		p.steps = nil // of another set, it may be
	}
	if n := len(answer.Offers); n > 0 {
		p.steps = append(p.steps, answer.Offers[p.IntN(n)].Steps...)
	}
}

func (p *page) learnChecks() {
	var answer struct {
		Sections []struct{ Checks []struct{ ID string } }
	}
	if p.post("checks", struct{}{}, &answer) == 200 {
		p.checks = nil
		for _, s := range answer.Sections {
			for _, c := range s.Checks {
				p.checks = append(p.checks, c.ID)
			}
		}
	}
}

// typed is a reading as a page sends it.
type typed struct {
	ID   string `json:"id"`
	Text string `json:"text"`
}

// read types readings in; at times their explanation is asked for, which is a search.
func (p *page) read() {
	var all []typed
	for range 1 + p.IntN(6) {
		all = append(all, typed{p.anyOf(p.checks), p.anyOf([]string{"12", "0", "1.2 meg", "OL", "open", "115 V", "many", "", "-5", "1e300", "0.4 mA", "∞"})})
	}
	p.post("readings", map[string]any{"typed": all, "explain": p.IntN(8) == 0}, new(any))
}

// garble asks by the right guard for what is no request.
func (p *page) garble() {
	what := p.anyOf([]string{"state", "findings", "plan", "offers", "checks", "readings", "save-plan", "save-readings"})
	body, err := json.Marshal(p.anyState())
	if err != nil {
		p.broken.say("%v", err)
	}
	switch p.IntN(4) {
	case 0:
		body = body[:p.IntN(len(body))]
	case 1:
		body[p.IntN(len(body))] ^= byte(1 << p.IntN(8))
	case 2:
		body = append(body, body...)
	case 3:
		body = bytes.Repeat([]byte("["), 1+p.IntN(100_000))
	}
	if what == "state" || p.IntN(2) == 0 {
		p.postBytes("state", body, new(any))
		return
	}
	p.postBytes(what, body, new(any))
}
