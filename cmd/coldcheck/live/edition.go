package live

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/netlist/setfile"
	"coldcheck/rules"
	"coldcheck/rules/rework/propose"
)

// edition is what the files hold at a time. It does not change.
type edition struct {
	number, planNumber int
	*made                       // of the last good set file; its set is nil where there was none yet
	slips              []string // what is wrong with the set file as it is now
	gone               bool     // it is not there any more
	planName           string
	steps              []step // of the plan file
	planSlips          []string

	data, planData []byte // as read, nil of a file that is gone
}

// made is a set with what was worked out of it so far.
type made struct {
	set  *netlist.Set
	base *circuitOf // on the bare mains, as the file has it

	lock     sync.Mutex
	circuits []*circuitOf // those asked for last, the newest first

	report      func() *rules.Report         // nothing tried
	triedReport atomic.Pointer[rules.Report] // with remedies tried, nil until they are
	checklist   func() *diagnose.Checklist
	proposals   func() *propose.Proposals
}

// circuitOf is a circuit with the key that it was asked for by, and the set's metals.
type circuitOf struct {
	*analysis.Circuit
	key    string
	metals [][]int // by piece: places in Points
}

func newMade(set *netlist.Set) (*made, error) {
	m := &made{set: set}
	base, err := newCircuit("", set, analysis.Bench{})
	if err != nil {
		return nil, err
	}
	m.base = base
	m.report = sync.OnceValue(func() *rules.Report {
		return rules.Check(base.Circuit, analysis.Options{Faults: analysis.DefaultFaults})
	})
	m.checklist = sync.OnceValue(func() *diagnose.Checklist { return diagnose.Checks(base.Circuit) })
	m.proposals = sync.OnceValue(func() *propose.Proposals { return searchPlans(set) })
	return m, nil
}

// try tries the remedies of the findings.
func (m *made) try() {
	r := *m.report()
	r.Findings = slices.Clone(r.Findings) // the others go on being read
	propose.TryRemedies(&r)
	m.triedReport.Store(&r)
}

func newCircuit(key string, set *netlist.Set, bench analysis.Bench) (*circuitOf, error) {
	c, err := analysis.New(set, bench)
	var unknown *analysis.UnknownNode
	switch {
	case errors.As(err, &unknown):
		return nil, fmt.Errorf("the set has no point %q for the earth clip", netlist.Visible(unknown.Name))
	case err != nil:
		return nil, err
	}
	if err := c.Fits(); err != nil {
		return nil, err
	}
	of := &circuitOf{Circuit: c, key: key}
	places := map[string]int{}
	for i, p := range c.Points {
		places[p.Name] = i
	}
	for _, points := range c.Metals() {
		var piece []int
		for _, p := range points {
			piece = append(piece, places[p.Name])
		}
		of.metals = append(of.metals, piece)
	}
	return of, nil
}

// keptCircuits is how many benches and stages of plans are kept made.
const keptCircuits = 8

// circuit gives the circuit of a key, made now or kept from before.
func (m *made) circuit(key string, make func() (*circuitOf, error)) (*circuitOf, error) {
	m.lock.Lock()
	defer m.lock.Unlock()
	if i := slices.IndexFunc(m.circuits, func(c *circuitOf) bool { return c.key == key }); i >= 0 {
		c := m.circuits[i]
		m.circuits = slices.Insert(slices.Delete(m.circuits, i, i+1), 0, c)
		return c, nil
	}
	c, err := make()
	if err != nil {
		return nil, err
	}
	m.circuits = slices.Insert(m.circuits, 0, c)
	m.circuits = m.circuits[:min(len(m.circuits), keptCircuits)]
	return c, nil
}

// files are the files that were named, and what they hold now.
type files struct {
	set, plan string

	lock       sync.Mutex
	current    *edition
	background sync.WaitGroup
	trying     sync.Mutex // held while remedies are tried
	saving     sync.Mutex // held from the look at what is there until it is replaced
}

// openFiles reads the files for the first time.
func openFiles(set, planFile string) (*files, error) {
	f := &files{set: set, plan: planFile}
	for _, path := range []string{set, planFile} {
		if path == "" {
			continue
		}
		if _, err := setfile.ReadFile(path, nil); err != nil {
			return nil, err
		}
	}
	e, _ := f.read(&edition{made: &made{}})
	if len(e.planSlips) > 0 {
		return nil, errors.New(strings.Join(e.planSlips, "\n"))
	}
	f.current = e
	return f, nil
}

func (f *files) now() *edition {
	f.lock.Lock()
	defer f.lock.Unlock()
	return f.current
}

func (f *files) wait() { f.background.Wait() }

// read reads the files again and reports whether they hold something else than before.
func (f *files) read(before *edition) (*edition, bool) {
	e := *before
	data, err := setfile.ReadFile(f.set, nil)
	planData := before.planData
	var planErr error
	if f.plan != "" {
		planData, planErr = setfile.ReadFile(f.plan, nil)
	}
	sameSet := err == nil && before.data != nil && bytes.Equal(data, before.data) || err != nil && before.gone
	samePlan := planErr == nil && bytes.Equal(planData, before.planData) && before.planData != nil || f.plan == "" || planErr != nil && before.planData == nil
	if sameSet && samePlan {
		return before, false
	}
	e.number++
	if !sameSet {
		f.readSet(&e, data, err)
	}
	if !samePlan {
		e.planNumber++
		e.readPlan(f.plan, planData, planErr)
	}
	return &e, true
}

func (f *files) readSet(e *edition, data []byte, err error) {
	e.data, e.gone, e.slips = data, false, nil
	if err != nil {
		e.data, e.gone, e.slips = nil, true, slipsOf(err)
		return
	}
	set, err := setfile.Load(f.set, bytes.NewReader(data))
	if err == nil {
		var m *made
		if m, err = newMade(set); err == nil {
			e.made = m
			return
		}
	}
	e.slips = slipsOf(err)
}

func (e *edition) readPlan(file string, data []byte, err error) {
	e.planData, e.planSlips = data, nil
	if err == nil {
		var p *plan.Plan
		if p, err = plan.Parse(file, data); err == nil {
			e.planName, e.steps = p.Name, stepsOf(p)
			return
		}
	} else {
		e.planData = nil
	}
	e.planSlips = slipsOf(err)
}

// slipsOf are the lines of an error, each with its place.
func slipsOf(err error) []string {
	var problems netlist.Problems
	if !errors.As(err, &problems) {
		return []string{err.Error()}
	}
	var lines []string
	for _, p := range problems {
		lines = append(lines, p.String())
	}
	return lines
}

// there reports whether a file is where it was.
func there(path string) bool {
	_, err := os.Stat(path)
	return !errors.Is(err, fs.ErrNotExist)
}

// folders are where the named files are, and where links of that name lead.
func (f *files) folders() []string {
	var all []string
	add := func(path string) {
		if folder := filepath.Dir(path); !slices.Contains(all, folder) {
			all = append(all, folder)
		}
	}
	for _, path := range []string{f.set, f.plan} {
		if path == "" {
			continue
		}
		add(path)
		if real, err := filepath.EvalSymlinks(path); err == nil {
			add(real)
		}
	}
	return all
}
