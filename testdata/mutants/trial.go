package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"iter"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// outcome is what became of a change.
type outcome int

const (
	failed   outcome = iota // a test noticed it
	late                    // the tests took too long with it, which is noticed as well
	survived                // no test noticed it
	broken                  // it is no program
)

// tally counts outcomes.
type tally [broken + 1]int

func (t *tally) add(u *tally) {
	for i := range t {
		t[i] += u[i]
	}
}

func (t *tally) share() float64 {
	all := t[failed] + t[late] + t[survived]
	return 100 * float64(t[failed]+t[late]) / float64(max(all, 1))
}

func (t *tally) String() string {
	return fmt.Sprintf("%4d tried: %4d noticed, %2d of them by taking too long; %3d survive; %.0f %%",
		t[failed]+t[late]+t[survived], t[failed]+t[late], t[late], t[survived], t.share())
}

// trial is the trying of changes.
type trial struct {
	folder  string
	also    string
	seed    uint64
	whole   bool                     // of the tests, not those of -short alone
	clean   map[string]time.Duration // by package: what its tests take unchanged
	tallies map[string]*tally
	tried   int
	broken  int
	row     int // of them, without one between that did
}

// mostBroken is how many changes in a row may be no program; half of them are, at the worst.
const mostBroken = 30

// pkg is what the go command says of a package.
type pkg struct {
	Dir, ImportPath           string
	GoFiles                   []string
	TestGoFiles, XTestGoFiles []string
}

// begin finds the packages and every change that can be made in them, and takes the time of the unchanged tests.
func begin(patterns []string, also string, seed uint64, whole bool) (*trial, []*mutant, error) {
	t := &trial{also: also, seed: seed, whole: whole, clean: map[string]time.Duration{}, tallies: map[string]*tally{}}
	out, err := exec.Command("go", append([]string{"list", "-json"}, patterns...)...).Output()
	if err != nil {
		return nil, nil, fmt.Errorf("go list: %w", err)
	}
	var all []*mutant
	judges := map[string]bool{}
	for d := json.NewDecoder(strings.NewReader(string(out))); d.More(); {
		var p pkg
		if err := d.Decode(&p); err != nil {
			return nil, nil, err
		}
		if tested := len(p.TestGoFiles)+len(p.XTestGoFiles) > 0; !tested && !t.below(p.ImportPath) {
			continue
		} else if tested {
			judges[p.ImportPath] = true
		}
		for _, name := range p.GoFiles {
			more, err := mutantsOf(filepath.Join(p.Dir, name), p.ImportPath)
			if err != nil {
				return nil, nil, err
			}
			all = append(all, more...)
		}
	}
	if also != "" {
		judges[also] = true
	}
	if t.folder, err = os.MkdirTemp("", "mutants"); err != nil {
		return nil, nil, err
	}
	for _, judge := range slices.Sorted(keys(judges)) {
		t.test(judge, "", time.Hour) // once for what the build takes
		began := time.Now()
		if outcome, out := t.test(judge, "", time.Hour); outcome != survived {
			return nil, nil, fmt.Errorf("the tests of %s fail as they are:\n%s", judge, out)
		}
		t.clean[judge] = time.Since(began)
	}
	return t, all, nil
}

// below reports whether a package is one below the package whose tests judge too.
func (t *trial) below(pkg string) bool { return strings.HasPrefix(pkg, t.also+"/") }

// A test may take thrice its time, and this much besides, for machines that do other things.
const grace = 5 * time.Second

// tryAll tries one change after the other, so many at once, while more of them are asked for, and gives out those that
// survive, in the order of the list.
func (t *trial) tryAll(all []*mutant, atOnce int, more func() bool, out func(*mutant)) error {
	type result struct {
		outcome
		err error
	}
	var next int
	var tried []chan result
	for more() && (next < len(all) || len(tried) > 0) {
		for len(tried) < max(1, atOnce) && next < len(all) {
			c, m := make(chan result, 1), all[next]
			go func() {
				outcome, err := t.judge(m)
				c <- result{outcome, err}
			}()
			tried, next = append(tried, c), next+1
		}
		m, r := all[next-len(tried)], <-tried[0]
		tried = tried[1:]
		if err := r.err; err != nil {
			return err
		}
		if err := t.count(m, r.outcome); err != nil {
			return err
		}
		if r.outcome == survived {
			out(m)
		}
	}
	for _, c := range tried { // what was begun for nothing
		<-c
	}
	return nil
}

// judge makes a change and has the tests judge it.
func (t *trial) judge(m *mutant) (outcome, error) {
	folder, err := os.MkdirTemp(t.folder, "")
	if err != nil {
		return 0, err
	}
	defer os.RemoveAll(folder)
	changed, overlay := filepath.Join(folder, "changed.go"), filepath.Join(folder, "overlay.json")
	if err := os.WriteFile(changed, m.text(), 0o666); err != nil {
		return 0, err
	}
	over, err := json.Marshal(map[string]any{"Replace": map[string]string{m.file: changed}})
	if err != nil {
		return 0, err
	}
	if err := os.WriteFile(overlay, over, 0o666); err != nil {
		return 0, err
	}
	outcome := survived
	judges := []string{m.pkg}
	if t.below(m.pkg) {
		judges = append(judges, t.also)
	}
	for _, judge := range judges {
		if time, ok := t.clean[judge]; ok && outcome == survived {
			outcome, _ = t.test(judge, overlay, 3*time+grace)
		}
	}
	return outcome, nil
}

func (t *trial) count(m *mutant, o outcome) error {
	if o == broken {
		t.broken++
		if t.row++; t.row > mostBroken {
			return fmt.Errorf("%d changes in a row do not compile: is it that the code does not, as it is?", t.row)
		}
		return nil
	}
	t.tried++
	t.row = 0
	if t.tallies[m.pkg] == nil {
		t.tallies[m.pkg] = &tally{}
	}
	t.tallies[m.pkg][o]++
	return nil
}

// buildTime is what a build may take beyond the tests.
const buildTime = 5 * time.Minute

// test runs the tests of a package. Drawn inputs are not made smaller once they fail, and no file of them is written:
// that it fails is all that is asked. They
// are the same for every change: where others were drawn each time, a law that fails by bad luck alone would pass for one
// that noticed something.
func (t *trial) test(judge, overlay string, within time.Duration) (outcome, string) {
	args := []string{"test", "-vet=off", "-failfast", "-count=1", "-timeout", within.String()}
	if !t.whole {
		args = append(args, "-short")
	}
	if overlay != "" {
		args = append(args, "-overlay", overlay)
	}
	ctx, stop := context.WithTimeout(context.Background(), within+buildTime)
	defer stop()
	c := exec.CommandContext(ctx, "go", append(args, judge)...)
	c.Env = append(os.Environ(), fmt.Sprint("RAPID_SEED=", t.seed), "RAPID_SHRINKTIME=0s", "RAPID_NOFAILFILE=true")
	data, err := c.CombinedOutput()
	out := string(data)
	var exit *exec.ExitError
	switch {
	case err == nil:
		return survived, out
	case ctx.Err() != nil, strings.Contains(out, "panic: test timed out"):
		return late, out
	case strings.Contains(out, "[build failed]"), strings.Contains(out, "[setup failed]"), !errors.As(err, &exit):
		return broken, out
	}
	return failed, out
}

func keys[K comparable, V any](m map[K]V) iter.Seq[K] {
	return func(yield func(K) bool) {
		for k := range m {
			if !yield(k) {
				return
			}
		}
	}
}
