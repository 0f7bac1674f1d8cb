package live

import (
	"bytes"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/netlist/setfile"
	"coldcheck/netlist/settest"
	"coldcheck/rules/rework"
)

// offered finds an offer by the words in it.
func (x *at) offered(a offersAsked, words string) []step {
	x.t.Helper()
	var all []string
	for _, o := range post[offersAnswer](x, "offers", a).Offers {
		if strings.Contains(o.Label, words) {
			return o.Steps
		}
		all = append(all, o.Label)
	}
	x.t.Fatalf("%+v offers %q, and nothing with %q", a, all, words)
	return nil
}

func messages(items []item) (all []string) {
	for _, i := range items {
		all = append(all, i.Signal+" "+i.Message)
	}
	return all
}

// TestPlanByPointing: what is picked becomes steps; what the plan does is what rework says of the file that is saved.
func TestPlanByPointing(t *testing.T) {
	text := exampleText(t, "hot-chassis")
	x := open(t, text)
	var steps []step
	add := func(a offersAsked, words string) {
		t.Helper()
		a.Steps = steps
		steps = append(steps, x.offered(a, words)...)
	}
	add(offersAsked{Part: "C7"}, "class Y1")
	add(offersAsked{Part: "C1"}, "Remove C1")
	add(offersAsked{Node: "chassis"}, "guard")
	add(offersAsked{Part: "V5"}, "into doubt")
	add(offersAsked{Node: "line 1", To: "line 2"}, "class X2")
	before := post[planAnswer](x, "plan", planAsked{Steps: steps})
	if before.Wrong != "" || len(before.Cured) == 0 || len(before.Left) == 0 || len(before.Labels) != len(steps) || len(before.Stages) != len(steps)-1 {
		t.Fatalf("%+v", before)
	}
	saved := post[saveAnswer](x, "save-plan", savePlanAsked{Name: "tried by pointing", Steps: steps})
	if saved.File != "set.plan.toml" || saved.There != "" {
		t.Fatalf("%+v", saved)
	}
	data, err := os.ReadFile(filepath.Join(filepath.Dir(x.file), "set.plan.toml"))
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Parse("set.plan.toml", data)
	if err != nil {
		t.Fatalf("%v\n%s", err, data)
	}
	if p.Name != "tried by pointing" || len(p.Steps) != len(steps) || !strings.Contains(string(data), "# Class Y1 stands for double insulation") {
		t.Errorf("%s", data)
	}
	c, _, err := rework.Run(settest.Load(t, text), p)
	if err != nil {
		t.Fatal(err)
	}
	var own planAnswer
	own.compare(c)
	for name, two := range map[string][2][]item{"cured": {own.Cured, before.Cured}, "left": {own.Left, before.Left}, "new": {own.New, before.New}} {
		if a, b := strings.Join(messages(two[0]), "\n"), strings.Join(messages(two[1]), "\n"); a != b {
			t.Errorf("%s: rework says\n%s\nthe bench\n%s", name, a, b)
		}
	}
	if after, err := os.ReadFile(x.file); err != nil || string(after) != text {
		t.Error("the set file was written")
	}
	// The bench with all of it done is the set that rework makes.
	a := asked{Plug: "reversed", Steps: steps, Done: len(steps)}
	done := post[stateAnswer](x, "state", a)
	if len(done.Controls.Parts) != len(c.After.Case.Set.Parts) {
		t.Errorf("%d parts, want %d", len(done.Controls.Parts), len(c.After.Case.Set.Parts))
	}
	a.Done = 0
	if as := post[stateAnswer](x, "state", a); len(as.Controls.Parts) != 39 {
		t.Errorf("as found it has %d parts", len(as.Controls.Parts))
	}
}

// TestOffersFit: whatever is offered, of every part and point, alone and with a second point, can be carried out.
func TestOffersFit(t *testing.T) {
	x := open(t, exampleText(t, "line-bypass"))
	e := x.files.now()
	tried := 0
	for _, p := range e.set.Parts {
		for _, to := range []string{"", "chassis", "line 1"} {
			all, say := e.offers(offersAsked{Part: p.Name, To: to})
			if (say != "") != (len(all) == 0) || len(all) == 0 && to == "" && p.Kind != netlist.KindPlug {
				t.Errorf("%s: %v, %s", p.Name, all, say)
			}
			for _, o := range all {
				if _, err := e.stage(o.Steps); err != nil || o.Label == "" {
					t.Errorf("%s: %q: %v", p.Name, o.Label, err)
				}
				tried++
			}
		}
	}
	for _, n := range e.set.Nodes {
		all, say := e.offers(offersAsked{Node: n.Name, To: "chassis"})
		if say != "" && n.Name != "chassis" {
			t.Errorf("%s: %v, %s", n.Name, all, say)
		}
		for _, o := range all {
			if _, err := e.stage(o.Steps); err != nil {
				t.Errorf("%s: %q: %v", n.Name, o.Label, err)
			}
			tried++
		}
	}
	if tried < 200 {
		t.Errorf("only %d offers", tried)
	}
	for _, a := range []offersAsked{{Part: "C99"}, {Node: "nowhere"}, {}, {Part: "C1", Steps: []step{{Text: "do = \"remove\"\npart = \"C1\""}}}} {
		if got := post[offersAnswer](x, "offers", a); len(got.Offers) > 0 || got.Say == "" {
			t.Errorf("%+v: %+v", a, got)
		}
	}
}

// TestWrongPlans: a plan that cannot be carried out says why, at the step.
func TestWrongPlans(t *testing.T) {
	x := open(t, exampleText(t, "line-bypass"))
	for text, words := range map[string]string{
		"do = \"remove\"\npart = \"C99\"":           "C99",
		"do = \"remove\"":                           "has no part",
		"do = \"cut\"\npart = \"C1\"":               "not known",
		"nonsense":                                  "step 1",
		"do = \"remove\"\npart = \"PL1\"":           "plug",
		"[[steps]]\ndo = \"remove\"\npart = \"C1\"": "step 1",
	} {
		if a := post[planAnswer](x, "plan", planAsked{Steps: []step{{Text: text}}}); !strings.Contains(a.Wrong, words) {
			t.Errorf("%q: %q, want %q", text, a.Wrong, words)
		}
		data := []byte(`{"steps": [{"text": ` + quoted(text) + `}]}`)
		status, body, _ := x.do(x.request("save-plan", data))
		if status != http.StatusUnprocessableEntity {
			t.Errorf("%q is saved: %d %s", text, status, body)
		}
	}
	x.refused(x.request("save-plan", []byte("{}")), http.StatusUnprocessableEntity, "no steps yet")
	x.refused(x.request("save-plan", []byte(`{"name": "two\nlines", "steps": [{"text": "do = \"remove\"\npart = \"C1\""}]}`)), http.StatusUnprocessableEntity, "one line")
	many := planAsked{}
	for range mostSteps + 1 {
		many.Steps = append(many.Steps, step{Text: "do = \"remove\"\npart = \"C1\""})
	}
	if a := post[planAnswer](x, "plan", many); !strings.Contains(a.Wrong, "100 steps at most") {
		t.Errorf("%q", a.Wrong)
	}
}

func quoted(s string) string {
	return `"` + strings.NewReplacer("\\", "\\\\", `"`, `\"`, "\n", `\n`).Replace(s) + `"`
}

// TestProposals: the plans of rework --propose are had as steps that rework takes.
func TestProposals(t *testing.T) {
	x := open(t, exampleText(t, "hot-chassis"))
	all := post[proposalsAnswer](x, "proposals", struct{}{})
	if len(all.Plans) == 0 || all.Found == "" || all.Judge == "" {
		t.Fatalf("%+v", all)
	}
	for _, p := range all.Plans {
		a := post[planAnswer](x, "plan", planAsked{Name: p.Name, Steps: p.Steps})
		if a.Wrong != "" || len(p.Steps) != len(p.Labels) {
			t.Errorf("%s: %s", p.Kind, a.Wrong)
		}
		for _, i := range append(a.Left, a.New...) {
			if i.Signal == "DANGER" || i.Signal == "WARNING" {
				t.Errorf("%s leaves %s %s", p.Kind, i.Signal, i.Message)
			}
		}
	}
}

// TestTriedRemedies: a finding whose remedy was tried has it as steps for the plan.
func TestTriedRemedies(t *testing.T) {
	x := open(t, exampleText(t, "hot-chassis"))
	l := x.stream()
	if x.next(l, eventHello); x.files.now().triedReport.Load() == nil {
		x.next(l, eventRemedies)
	}
	f := post[findingsAnswer](x, "findings", struct{}{})
	if !f.Tried || len(f.Plans) == 0 || !strings.Contains(string(f.HTML), `data-plan="0"`) {
		t.Fatalf("%d plans\n%s", len(f.Plans), f.HTML)
	}
	a := post[planAnswer](x, "plan", planAsked{Steps: f.Plans[0].Steps})
	if a.Wrong != "" || len(a.Cured) == 0 {
		t.Errorf("%+v", a)
	}
}

// TestSaves: a save is a new file, made through no link, and replaces another only after it was asked about, and only
// the one that was asked about.
func TestSaves(t *testing.T) {
	x := open(t, exampleText(t, "line-bypass"))
	path := filepath.Join(filepath.Dir(x.file), "set.plan.toml")
	a := savePlanAsked{Name: "one", Steps: []step{{Text: "do = \"remove\"\npart = \"C1\""}}}
	named := func() string {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		first, _, _ := strings.Cut(string(data), "\n")
		return first
	}
	if s := post[saveAnswer](x, "save-plan", a); s.There != "" || named() != `plan = "one"` {
		t.Fatalf("%+v, %s", s, named())
	}
	a.Name = "two"
	s := post[saveAnswer](x, "save-plan", a)
	if s.There == "" || s.Changed == "" || named() != `plan = "one"` {
		t.Fatalf("replaced unasked: %+v, %s", s, named())
	}
	put(t, path, "plan = \"theirs, longer than before\"\n")
	a.Replace = s.There
	if s = post[saveAnswer](x, "save-plan", a); s.There == "" || s.There == a.Replace || !strings.Contains(named(), "theirs") {
		t.Fatalf("one that was not asked about is replaced: %+v, %s", s, named())
	}
	a.Replace = s.There
	if s = post[saveAnswer](x, "save-plan", a); s.There != "" || named() != `plan = "two"` {
		t.Fatalf("%+v, %s", s, named())
	}
	elsewhere := filepath.Join(t.TempDir(), "elsewhere")
	put(t, elsewhere, "theirs")
	for _, target := range []string{elsewhere, filepath.Join(t.TempDir(), "nowhere")} {
		if err := os.Remove(path); err != nil {
			t.Fatal(err)
		}
		if err := os.Symlink(target, path); err != nil {
			t.Skip(err)
		}
		x.refused(x.request("save-plan", []byte(`{"steps": [{"text": "do = \"remove\"\npart = \"C1\""}]}`)), http.StatusConflict, "is a link")
	}
	if data, err := os.ReadFile(elsewhere); err != nil || string(data) != "theirs" {
		t.Errorf("through a link: %q, %v", data, err)
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(path, 0o777); err != nil {
		t.Fatal(err)
	}
	x.refused(x.request("save-plan", []byte(`{"steps": [{"text": "do = \"remove\"\npart = \"C1\""}]}`)), http.StatusConflict, "no plain file")
	x.refused(x.request("save-plan", []byte(`{"path": "/tmp/x", "steps": []}`)), http.StatusBadRequest, "unknown field")
	left, err := filepath.Glob(filepath.Join(filepath.Dir(x.file), "*"))
	if err != nil || len(left) != 2 {
		t.Errorf("left %v, %v", left, err)
	}
}

// readingsOf puts some readings behind a set file and reads it.
func readingsOf(t *testing.T, text, readings string) *netlist.Set {
	t.Helper()
	set, err := setfile.Load("set.toml", bytes.NewReader([]byte(text+"\n"+readings)))
	if err != nil {
		t.Fatalf("%v\n%s", err, readings)
	}
	return set
}
