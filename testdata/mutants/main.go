// Command mutants tells how much of the code the tests hold: it changes one small thing at a time, at a place drawn at
// random, and sees whether a test of that package fails. No file is touched: the changed one is laid over it (go test
// -overlay).
//
//	go run ./testdata/mutants [-n 300] [-seed N] [-also PACKAGE] [-whole] [-at-once N] PACKAGE...
//
// Each change that no test notices is printed, with its place. Some are no other program (an equivalent mutant): that
// is for a person to say. It ends with status 1 where fewer than -least of a hundred were noticed.
package main

import (
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"runtime"
	"slices"
	"strings"
	"time"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("mutants", flag.ContinueOnError)
	flags.SetOutput(stderr)
	n := flags.Int("n", 300, "how many changes are tried")
	seed := flags.Uint64("seed", 1, "what the drawing begins with")
	also := flags.String("also", "", "a package whose tests judge too what the tests of a package below it let pass")
	least := flags.Float64("least", 0, "how many of a hundred have to be noticed")
	only := flags.String("only", "", "a file with what was printed: those changes alone are tried again")
	within := flags.Duration("within", 0, "end after so long, with as many as were tried (0: never)")
	whole := flags.Bool("whole", false, "have the whole of the tests judge, not those of -short alone")
	atOnce := flags.Int("at-once", runtime.NumCPU(), "how many are tried at once")
	if flags.Parse(args) != nil || flags.NArg() == 0 {
		fmt.Fprintln(stderr, "usage: mutants [flags] PACKAGE...")
		return 2
	}
	t, all, err := begin(flags.Args(), *also, *seed, *whole)
	if err != nil {
		fmt.Fprintln(stderr, err)
		return 2
	}
	defer os.RemoveAll(t.folder)
	if *only != "" {
		printed, err := os.ReadFile(*only)
		if err != nil {
			fmt.Fprintln(stderr, err)
			return 2
		}
		all = slices.DeleteFunc(all, func(m *mutant) bool { return !strings.Contains(string(printed), m.String()+"\n") })
	}
	rand.New(rand.NewPCG(*seed, 0)).Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	fmt.Fprintf(stdout, "%d places in %d packages, seed %d\n", len(all), len(t.clean), *seed)
	began := time.Now()
	more := func() bool { return t.tried < *n && (*within == 0 || time.Since(began) < *within) }
	if err := t.tryAll(all, *atOnce, more, func(m *mutant) { fmt.Fprintf(stdout, "survives: %s\n", m) }); err != nil {
		fmt.Fprintln(stderr, err)
		return 2
	}
	share := t.print(stdout)
	if share < *least {
		return 1
	}
	return 0
}

// print tells the count by package, and gives the share that was noticed, of a hundred.
func (t *trial) print(w io.Writer) float64 {
	var sum tally
	for _, p := range slices.Sorted(keys(t.tallies)) {
		c := t.tallies[p]
		fmt.Fprintf(w, "%-45s %s\n", p, c)
		sum.add(c)
	}
	fmt.Fprintf(w, "%-45s %s; %d did not compile and were drawn anew\n", "all", &sum, t.broken)
	return sum.share()
}
