// Command soak holds the live bench to what a server owes those who leave it open: it runs one on a copy of a set
// file, opens pages, edits the file every second, asks at random, saves, sends what is no request, and looks at the
// end whether anything grew, was late, or was lost.
//
//	go run ./testdata/soak [-for 1h] [-seed N] SET
//
// It ends with status 1 and a sentence for each thing that did not hold. It reads /proc, so it is for Linux.
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"time"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// options say how long, and what is taken as too much.
type options struct {
	time, within time.Duration
	searched     time.Duration
	seed         uint64
	binary, set  string
	pages        int
	traced       bool
	keep         bool
}

func parse(args []string, stderr io.Writer) (*options, bool) {
	o := &options{}
	flags := flag.NewFlagSet("soak", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.DurationVar(&o.time, "for", time.Minute, "how long the bench is asked")
	flags.DurationVar(&o.within, "within", time.Second, "what no request may take longer than")
	flags.DurationVar(&o.searched, "searched", 20*time.Second, "what may pass until an answer is there that has the report of an edition worked out, or is a search")
	flags.Uint64Var(&o.seed, "seed", 1, "what the drawing begins with")
	flags.StringVar(&o.binary, "binary", "", "a coldcheck that is built already")
	flags.IntVar(&o.pages, "pages", 10, "pages open at a time")
	flags.BoolVar(&o.traced, "traced", false, "have strace look at each file and address that the server opens; times and memory are not judged then")
	flags.BoolVar(&o.keep, "keep", false, "leave the folder that it worked in")
	if flags.Parse(args) != nil || flags.NArg() != 1 {
		fmt.Fprintln(stderr, "usage: soak [flags] SET")
		return nil, false
	}
	o.set = flags.Arg(0)
	return o, true
}

func run(args []string, stdout, stderr io.Writer) int {
	o, ok := parse(args, stderr)
	if !ok {
		return 2
	}
	s, err := prepare(o)
	if err != nil {
		fmt.Fprintln(stderr, err)
		return 2
	}
	if !o.keep {
		defer os.RemoveAll(s.folder)
	}
	if err := s.serve(); err != nil {
		fmt.Fprintln(stderr, err)
		return 2
	}
	s.soak()
	s.end()
	s.print(stdout)
	if len(s.broken.all) > 0 {
		return 1
	}
	return 0
}

// soak is one run.
type soak struct {
	*options
	folder string // with the folders "set", of the set file, and "aside"
	server *server
	broken broken
	figures
	known known
	saves saves
	edits edits
}

// broken are the sentences of what did not hold.
type broken struct {
	lock sync.Mutex
	all  []string
}

// mostBroken is how many sentences are told.
const mostBroken = 40

func (b *broken) say(format string, args ...any) {
	b.lock.Lock()
	defer b.lock.Unlock()
	if len(b.all) < mostBroken {
		b.all = append(b.all, fmt.Sprintf(format, args...))
	}
}

// prepare makes the folder: the set's copy, a plan to begin with where the set has one, the program.
func prepare(o *options) (*soak, error) {
	folder, err := os.MkdirTemp("", "soak")
	if err != nil {
		return nil, err
	}
	s := &soak{options: o, folder: folder}
	for _, name := range []string{"set", "aside"} {
		if err := os.Mkdir(filepath.Join(folder, name), 0o777); err != nil {
			return nil, err
		}
	}
	text, err := os.ReadFile(o.set)
	if err != nil {
		return nil, err
	}
	name := strings.TrimSuffix(filepath.Base(o.set), ".toml")
	plan, err := os.ReadFile(filepath.Join(filepath.Dir(o.set), "plans", name+"-plan.toml"))
	if err != nil {
		plan = []byte("plan = \"nothing yet\"\n")
	}
	s.edits.begin(s, string(text), string(plan))
	if o.binary != "" {
		o.binary, err = filepath.Abs(o.binary)
		return s, err
	}
	o.binary = filepath.Join(folder, "coldcheck")
	if out, err := exec.Command("go", "build", "-o", o.binary, "coldcheck/cmd/coldcheck").CombinedOutput(); err != nil {
		return nil, fmt.Errorf("the program cannot be built: %w\n%s", err, out)
	}
	return s, nil
}

func (s *soak) file(name string) string { return filepath.Join(s.folder, "set", name) }

// soak does all of it at once, until the time is over.
func (s *soak) soak() {
	ctx, stop := context.WithTimeout(context.Background(), s.time)
	defer stop()
	var all sync.WaitGroup
	drawn := func(n int) *rand.Rand { return rand.New(rand.NewPCG(s.seed, uint64(n))) }
	for i := range s.pages {
		p := &page{soak: s, Rand: drawn(i), client: newClient(), number: i}
		all.Go(func() { p.open(ctx) })
	}
	all.Go(func() { s.edits.run(ctx, s, drawn(101)) })
	for i := range 2 {
		p := &page{soak: s, Rand: drawn(102 + i), client: newClient(), number: i}
		all.Go(func() { p.savePlans(ctx, i == 0) })
	}
	readings := &page{soak: s, Rand: drawn(104), client: newClient()}
	all.Go(func() { readings.saveReadings(ctx) })
	all.Go(func() { s.measure(ctx) })
	all.Wait()
}

// pause waits, and reports whether there is time left.
func pause(ctx context.Context, d time.Duration) bool {
	select {
	case <-ctx.Done():
		return false
	case <-time.After(d):
		return ctx.Err() == nil
	}
}
