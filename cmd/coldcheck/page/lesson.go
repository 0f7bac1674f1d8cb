package page

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/survey"
	"coldcheck/netlist"
	"coldcheck/rules"
	"coldcheck/rules/phrase"
)

// lessonView is the walk through one set, about the metal of its verdict.
type lessonView struct {
	Metal  string
	Guard  string
	Steps  []stepView
	Stands []string // how many safeguards stand, and why
	Two    []string // what would make it two
	Remedy string   // of the strongest finding about the metal
}

// stepView is one step, and where it sets the controls.
type stepView struct {
	Do, Then, Figure string
	Head             string
	Band             int
	Fault, Way       int
	Combo, Number    int
}

// Text is what the step does and what that comes to.
func (v stepView) Text() string { return strings.TrimSpace(v.Do + " " + v.Then) }

// lesson is the walk about a scene, in words.
func (s *sheet) lesson(r *rules.Report, foremost int) lessonView {
	scene := s.scenes[foremost]
	v := lessonView{Metal: scene.name()}
	if g := scene.metal.Points[0].Guard; g != "" {
		v.Guard = fmt.Sprintf("A %s is meant to keep fingers off it; the figures are those of the bare metal.", g)
	}
	v.Steps = s.steps(foremost)
	v.Stands, v.Two = s.stands(foremost), scene.two()
	for i := range r.Findings {
		if f := &r.Findings[i]; slices.Contains(f.Nodes, scene.Node) && v.Remedy == "" {
			v.Remedy = s.inWords(sentence(capital(f.Remedy)))
		}
	}
	return v
}

// steps are the walk, those that make no difference told as one at its end.
func (s *sheet) steps(foremost int) []stepView {
	var steps []stepView
	var idle, shorting []string
	for n, step := range s.Walk(foremost) {
		if n < 2 || s.matters(foremost, step) {
			steps = append(steps, s.step(foremost, step))
			continue
		}
		idle = append(idle, s.idleWords(step))
		if words := s.shortingWords(step.Shorting); words != "" && !slices.Contains(shorting, words) {
			shorting = append(shorting, words)
		}
	}
	if len(idle) > 0 {
		last := s.step(foremost, survey.Step{Kind: survey.PlugAsMarked})
		last.Do = "Each of these: " + strings.Join(idle, "; ") + "."
		last.Then = "None of them makes a difference for the worse here." + strings.Join(shorting, "")
		steps = append(steps, last)
	}
	for i := range steps {
		steps[i].Number = i + 1
	}
	return steps
}

// matters reports whether a step shows something of its own.
func (s *sheet) matters(scene int, step survey.Step) bool {
	if step.Kind == survey.ControlMoved {
		return survey.Compare(s.At(step.Before, scene), s.At(step.At, scene)) != survey.NoDifference
	}
	return step.Worse
}

// idleWords name a step that makes no difference.
func (s *sheet) idleWords(step survey.Step) string {
	if step.Kind == survey.ControlMoved {
		return netlist.Visible(s.Circuit.Switches[step.Control].Name) + " moved"
	}
	words := stepNames[step.Kind]
	return strings.ToLower(words[:1]) + words[1:]
}

// step is a step that sets the page's controls to a state.
func (s *sheet) step(scene int, step survey.Step) stepView {
	e := s.At(step.At, scene)
	n := s.Positions()
	head := verdictOf(e).head()
	figure := fmt.Sprintf("%s: %s through a body; on a meter %s.", netlist.Visible(s.scenes[scene].Node), phrase.Body(e.Reading), phrase.OnMeter(e.Reading))
	if note := note(e); note != "" {
		figure += " " + note
	}
	v := stepView{Figure: figure, Head: verdictHeads[head], Band: head, Fault: step.At.Faults, Way: step.At.State / n, Combo: step.At.State % n}
	v.Do, v.Then = s.stepWords(scene, step)
	return v
}

// stepWords tell what a step does, and what that comes to.
func (s *sheet) stepWords(scene int, step survey.Step) (do, then string) {
	switch step.Kind {
	case survey.PlugAsMarked:
		return s.asMarkedWords(), ""
	case survey.PlugReversed:
		if s.Circuit.BothHot() {
			return "Turn the plug round: the two legs are exchanged, and neither is a neutral.", s.change(scene, step)
		}
		_, other := s.Circuit.Blades(analysis.AsMarked)
		return fmt.Sprintf("Turn the plug round, or meet an outlet wired backwards, which is the same thing: now %s is hot.", netlist.Visible(other)), s.change(scene, step)
	case survey.ControlMoved:
		return s.moveWords(scene, step)
	}
	before := s.At(step.Before, scene)
	return fmt.Sprintf("%s, %s. Before it was %s.", s.failureWords(step), s.stateOf(step.At.State), phrase.Body(before.Reading)),
		s.change(scene, step) + s.shortingWords(step.Shorting)
}

func (s *sheet) asMarkedWords() string {
	_, plug := s.k.Set.Plug()
	hot, _ := s.Circuit.Blades(analysis.AsMarked)
	on := ""
	if len(s.Circuit.Switches) > 0 {
		on = ", " + s.settings(0)
	}
	if s.Circuit.BothHot() {
		return fmt.Sprintf("The plug one way round; neither leg is a neutral%s.", on)
	}
	if plug.Style == "plain" {
		return fmt.Sprintf("The plug one way round: the hot side of the outlet is on %s%s.", netlist.Visible(hot), on)
	}
	return fmt.Sprintf("The plug as marked, in a right outlet: %s is hot%s.", netlist.Visible(hot), on)
}

func (s *sheet) moveWords(scene int, step survey.Step) (do, then string) {
	name := s.Circuit.Switches[step.Control].Name
	state := s.States[step.At.State]
	at := state.At(name)
	verb := "Set " + name + " to " + netlist.Visible(at)
	if at == "off" {
		verb = "Switch " + name + " off"
	}
	then = s.change(scene, step)
	if step.OffIsLive {
		then += " Off is not dead."
	}
	return fmt.Sprintf("%s, %s.", verb, phrase.PlugOf(s.Circuit, state.Plug)), then
}

// change tells what the state of a step is beside the one before it.
func (s *sheet) change(scene int, step survey.Step) string {
	to := s.At(step.At, scene)
	switch survey.Compare(s.At(step.Before, scene), to) {
	case survey.ShortsLine:
		return "That shorts the line: a breaker or a fuse opens."
	case survey.NoDifference:
		if from, low := s.At(step.Before, scene), to.Class() == analysis.UnderLimit && !to.Cleared; low && phrase.Body(from.Reading) != phrase.Body(to.Reading) {
			return "It stays under the first limit."
		}
		return "It makes no difference to a hand here."
	case survey.WorseClass:
		return map[analysis.Class]string{analysis.Startles: "Now it startles.", analysis.Live: "Now it is live."}[to.Class()]
	case survey.BetterClass:
		return map[analysis.Class]string{analysis.UnderLimit: "Now it is under the first limit.", analysis.Startles: "Now it no longer holds a hand, and still startles."}[to.Class()]
	case survey.Higher:
		return "The current is higher, in the same class."
	}
	return "The current is lower, in the same class."
}

// settings tells where the controls stand in a state.
func (s *sheet) settings(state int) string {
	return strings.Join(phrase.Settings(s.States[state].Settings), ", ")
}

// stateOf tells a state's plug and controls.
func (s *sheet) stateOf(i int) string { return s.inWords(phrase.State(s.States[i])) }

// stepNames name a sort of failure, whichever it strikes.
var stepNames = map[survey.StepKind]string{
	survey.NeutralLost:      "The neutral is lost somewhere in the building or the cord",
	survey.EarthLost:        "The earth contact is open: an adapter, an old outlet, a pin cut off",
	survey.TubePulled:       "Pull a tube, any of them",
	survey.PartOpen:         "A lamp, a fuse, a coil or a resistor opens, any of them",
	survey.CapacitorShorted: "A capacitor shorts, any of them",
	survey.ResistorShorted:  "A resistor of 10 kΩ or more shorts, any of them",
	survey.InsulationFailed: "Insulation breaks down, any of it",
}

// failureWords tell the failure of a step that does harm.
func (s *sheet) failureWords(step survey.Step) string {
	if step.Kind == survey.ControlTurned {
		return "Turn a control: " + s.wrongWords(step.At.Faults)
	}
	faults := s.FaultSets[step.At.Faults]
	f := faults[0]
	words := ""
	switch step.Kind {
	case survey.NeutralLost:
		if len(f.Between) == 1 {
			return "One leg, " + netlist.Visible(f.Between[0]) + ", is lost somewhere in the building or the cord"
		}
		return stepNames[step.Kind]
	case survey.EarthLost:
		return stepNames[step.Kind]
	case survey.SeveralFailed:
		return "Several things at once: " + faultsWords(s.k.Set, faults)
	case survey.TubePulled:
		words = "Pull a tube: " + netlist.Visible(f.Part)
	case survey.PartOpen:
		words = "Something burns out or breaks: " + netlist.Visible(f.Part) + " opens"
	case survey.CapacitorShorted:
		words = "A capacitor shorts: " + netlist.Visible(f.Part)
	case survey.ResistorShorted:
		words = "A resistor shorts: " + netlist.Visible(f.Part)
	case survey.InsulationFailed:
		words = "Insulation breaks down: " + phrase.Fault(f)
	}
	switch {
	case f.Cost == 0:
		words += ", which nobody vouches for"
	case f.Cost > 1:
		words += ", which counts as two failures"
	}
	return words
}

// shortingWords name the fault sets that short the line in a state in which it was not.
func (s *sheet) shortingWords(sets []int) string {
	var names []string
	for _, n := range sets {
		names = append(names, faultsWords(s.k.Set, s.FaultSets[n]))
	}
	if len(names) == 0 {
		return ""
	}
	return " Left aside, since it shorts the line and a breaker or a fuse opens: " + phrase.FewOf(names, namesFolded, "; ", "more") + "."
}
