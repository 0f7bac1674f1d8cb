package live

import (
	"bytes"
	"encoding/json"
	"maps"
	"math"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"coldcheck/analysis/diagnose"
	"coldcheck/cmd/coldcheck/reading"
	"coldcheck/netlist/plan"
	"coldcheck/netlist/setfile"
)

// FuzzRequests: whatever is asked, by whatever name, the bench answers, with JSON or with a sentence, never with a
// fault of its own, and writes nothing but what a save names; what a save wrote is a plan that fits the set, or readings
// that the set file takes. The same bytes as the text of a reading are read as a set file reads them.
func FuzzRequests(f *testing.F) {
	// A set that is worked out quickly: a body that takes ten seconds ends the fuzzing.
	x := open(f, exampleText(f, "tape-jack"))
	x.work.wait()
	x.long.wait()
	for what, bodies := range requestSeeds(x) {
		for _, body := range bodies {
			f.Add(what, []byte(body))
		}
	}
	f.Fuzz(func(t *testing.T, what string, body []byte) {
		checkFigure(t, string(body))
		if what == "proposals" {
			return // a search that takes long
		}
		x.t = t
		r, err := http.NewRequest(http.MethodPost, "http://"+x.host+"/", bytes.NewReader(body))
		if err != nil {
			t.Fatal(err)
		}
		r.URL.Path = "/" + what
		r.Header = x.request("", nil).Header
		if r.URL.Path == "//" || strings.ContainsAny(what, "\r\n") {
			return // no request line has these
		}
		status, answer, h := x.do(r)
		switch {
		case status == http.StatusOK && strings.HasPrefix(h.Get("Content-Type"), "application/json"):
			x.checkAnswer(what, body, answer)
		case status == http.StatusInternalServerError:
			t.Errorf("a fault: %s", answer)
		case status < 400 || status > 503:
			t.Errorf("status %d, %.300s", status, answer)
		}
		left, err := filepath.Glob(filepath.Join(filepath.Dir(x.file), "*"))
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range left {
			switch filepath.Base(file) {
			case "set.toml", "set.plan.toml", "set.readings.toml":
			default:
				t.Errorf("%s was written", file)
			}
		}
	})
}

// requestSeeds are bodies by what they ask.
func requestSeeds(x *at) map[string][]string {
	seeds := map[string][]string{"../set.toml": {"{}"}}
	for _, what := range []string{"state", "findings", "plan", "offers", "checks", "readings", "save-plan", "save-readings"} {
		seeds[what] = []string{
			"{}", `{"plug":"reversed","settings":{"S1":"off"},"faults":["C1 shorted"],"isolated":true,"earthed":["chassis"],"steps":[],"done":3}`,
			`{"name":"x","steps":[{"text":"do = \"remove\"\npart = \"C1\"","why":""}]}`,
			`{"name":"\u202e","steps":[{"text":"do = \"fit\"\npart = \"C40\"\nas = { kind = \"capacitor\", ends = [\"line 1\", \"line 2\"], value = \"0.1 uF\", class = \"X2\" }","why":"as\nit was"}]}`,
			`{"part":"C1","to":"chassis","steps":[]}`, `{"node":"chassis","to":"line 1","steps":[]}`,
			`{"typed":[{"id":"x","text":"1.2 meg"}],"explain":true}`, `{"replace":"0 0","steps":[{"text":"[[steps]]"}]}`, "[", `{"done":-1}`, "null",
		}
	}
	for i, id := range slices.Sorted(maps.Keys(x.files.now().checkOf())) {
		if i%9 > 0 {
			continue // some of each sort
		}
		name := strconv.Quote(strings.ReplaceAll(id, "\n", ""))
		for _, typed := range []string{"12", "OL", "-0", "5e-400", "1.2 meg", ""} {
			body := `{"typed":[{"id":` + name + `,"text":"` + typed + `"}]}`
			seeds["readings"], seeds["save-readings"] = append(seeds["readings"], body), append(seeds["save-readings"], body)
		}
	}
	// As the text of a reading, each of these stands for itself.
	seeds[""] = []string{"ol.", " O.L. ", "open", "∞", "inf", "0", "-5", "−5 V", "1e6", "1e9", "20000 V", "1e12", "1e13", "400 mA", "1.5 A", "1000 A", "1e300", "4k7", "half", ""}
	return seeds
}

// checkAnswer holds an answer to what every answer of its sort is.
func (x *at) checkAnswer(what string, body []byte, answer string) {
	t := x.t
	if !json.Valid([]byte(answer)) {
		t.Fatalf("no JSON: %.300s", answer)
	}
	var saved saveAnswer
	switch what {
	case "readings":
		var a readingsAnswer
		if err := json.Unmarshal([]byte(answer), &a); err != nil {
			t.Fatal(err)
		}
		for _, j := range a.Judged {
			if !slices.Contains([]reading.Verdict{reading.Right, reading.Low, reading.High, reading.Misread}, j.Verdict) || j.Words == "" {
				t.Errorf("%s is judged %+v", body, j)
			}
		}
		return
	case "save-plan", "save-readings":
		if err := json.Unmarshal([]byte(answer), &saved); err != nil {
			t.Fatal(err)
		}
		if saved.There != "" {
			if err := os.Remove(filepath.Join(filepath.Dir(x.file), saved.File)); err != nil { // so that the next one is written
				t.Fatal(err)
			}
			return
		}
	default:
		return
	}
	data, err := os.ReadFile(filepath.Join(filepath.Dir(x.file), saved.File))
	if err != nil {
		t.Fatal(err)
	}
	if what == "save-readings" {
		whole := string(x.files.now().data) + "\n" + string(data)
		if _, err := setfile.Load("set.toml", strings.NewReader(whole)); err != nil {
			t.Errorf("the set file does not take what was saved: %v\n%s", err, data)
		}
		return
	}
	p, err := plan.Parse("set.plan.toml", data)
	if err == nil {
		_, err = p.ApplyAll(x.files.now().set)
	}
	if err != nil {
		t.Errorf("rework does not take what was saved: %v\n%s", err, data)
	}
}

// checkFigure holds what a page reads of a text to what a set file reads of it. A page takes more words for an
// ohmmeter that shows nothing, and no text that no file can hold.
func checkFigure(t *testing.T, text string) {
	if len(text) > 60 || !utf8.ValidString(text) || strings.ContainsAny(text, "\"\\") || strings.ContainsFunc(text, func(r rune) bool { return r < ' ' || r == 0x7f || r == '\ufeff' }) {
		return
	}
	for _, q := range []diagnose.Quantity{diagnose.VoltsRead, diagnose.VoltsDCRead, diagnose.OhmsRead, diagnose.MilliampsRead} {
		value, misread := reading.Figure(text, q)
		open := misread == nil && q == diagnose.OhmsRead && value == diagnose.OhmsRange
		file := `[set]
name = "bench"
[nodes]
chassis = { touch = "chassis" }
[parts]
PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }
BOND = { kind = "wire", ends = ["line 2", "chassis"] }
[[readings]]
at = ["line 1", "chassis"]
` + string(q) + " = \"" + text + "\"\n"
		set, err := setfile.Load("f", strings.NewReader(file))
		switch {
		case open && err != nil && slices.Contains([]string{"∞", "inf", "infinite"}, strings.ToLower(strings.TrimSpace(text))):
		case (misread == nil) != (err == nil):
			t.Errorf("%q as %s: the page says %v, the set file %v", text, q, misread, err)
		case err == nil && open && set.Readings[0].Value < diagnose.OhmsRange:
			t.Errorf("%q as %s is open on the page, and %v in the set file", text, q, set.Readings[0].Value)
		case err == nil && !open && math.Abs(set.Readings[0].Value-value) > 1e-9*math.Abs(value):
			t.Errorf("%q as %s is %v on the page, %v in the set file", text, q, value, set.Readings[0].Value)
		}
	}
}
