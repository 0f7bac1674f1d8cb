package live

import (
	"net/http"
	"os"
	"strings"
	"testing"
	"time"

	"coldcheck/netlist/settest"
)

// sixty is a set of some sixty parts.
func sixty(b *testing.B) string {
	text := settest.Large(60, 1)
	if n := len(settest.Load(b, text).Parts); n < 55 || n > 70 {
		b.Fatalf("%d parts", n)
	}
	return text
}

// BenchmarkState is one changed failure on a set of sixty parts, asked for over the wire: less than 0.1 s.
func BenchmarkState(b *testing.B) {
	x := open(b, sixty(b))
	faults := post[stateAnswer](x, "state", asked{}).Controls.Faults
	post[findingsAnswer](x, "findings", struct{}{})
	x.files.background.Wait()
	i := 0
	for b.Loop() {
		post[stateAnswer](x, "state", asked{Faults: []string{faults[i%len(faults)].Value}})
		i++
	}
}

// BenchmarkThreeFailures is BenchmarkState with three at once.
func BenchmarkThreeFailures(b *testing.B) {
	x := open(b, sixty(b))
	faults := post[stateAnswer](x, "state", asked{}).Controls.Faults
	post[findingsAnswer](x, "findings", struct{}{})
	x.files.background.Wait()
	i := 0
	for b.Loop() {
		a := asked{}
		for k := range mostFaults {
			a.Faults = append(a.Faults, faults[(i*7+k*11)%len(faults)].Value)
		}
		data := `{"faults":["` + strings.Join(a.Faults, `","`) + `"]}`
		if status, _, _ := x.do(x.request("state", []byte(data))); status != http.StatusOK && status != http.StatusUnprocessableEntity {
			b.Fatal(status)
		}
		i++
	}
}

// BenchmarkPlan is one step carried out on a set of sixty parts, with what it cures, leaves and brings.
func BenchmarkPlan(b *testing.B) {
	x := open(b, sixty(b))
	x.files.background.Wait()
	part := post[stateAnswer](x, "state", asked{}).Controls.Parts[5].Value
	for b.Loop() {
		post[planAnswer](x, "plan", planAsked{Steps: []step{{Text: "do = \"remove\"\npart = \"" + part + "\""}}})
	}
}

// BenchmarkFollow is from the save of a set of sixty parts to the page's new state: less than 0.5 s.
func BenchmarkFollow(b *testing.B) {
	text := sixty(b)
	x := open(b, text)
	l := x.stream()
	x.next(l, eventHello)
	n := 0
	for b.Loop() {
		b.StopTimer()
		time.Sleep(2 * quietTime) // as between two saves of a person
		x.files.background.Wait()
		n++
		changed := text + strings.Repeat("# \n", n)
		b.StartTimer()
		if err := os.WriteFile(x.file, []byte(changed), 0o666); err != nil {
			b.Fatal(err)
		}
		x.next(l, eventFile)
		post[stateAnswer](x, "state", asked{})
	}
}
