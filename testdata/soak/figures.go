package main

import (
	"context"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"sync"
	"time"
)

// figures are what was measured.
type figures struct {
	lock      sync.Mutex
	kinds     map[string]*kindFigures
	memory    []int // resident, in kB, one a moment
	late      time.Duration
	streams   int // opened
	told      int // events that came
	filesLeft int
}

// kindFigures are those of one sort of request.
type kindFigures struct {
	statuses map[int]int
	times    []time.Duration
	over     int // of them took too long
}

// searches are the kinds that are asked again until they are there: the first to ask them of a new edition has the whole
// report, the checklist or a search worked out, and what comes behind waits for that. inAll is the time until they are.
const inAll = ", until it is there"

var searches = []string{"findings", "checks", "plan", "proposals", "readings", "save-readings"}

// limit is what an answer of a kind may take.
func (s *soak) limit(kind string) time.Duration {
	if strings.HasSuffix(kind, inAll) {
		return s.searched
	}
	return s.within
}

func (s *soak) took(kind string, status int, d time.Duration) {
	s.lock.Lock()
	defer s.lock.Unlock()
	if s.kinds == nil {
		s.kinds = map[string]*kindFigures{}
	}
	k := s.kinds[kind]
	if k == nil {
		k = &kindFigures{statuses: map[int]int{}}
		s.kinds[kind] = k
	}
	k.statuses[status]++
	k.times = append(k.times, d)
	if d > s.limit(kind) {
		k.over++
	}
}

// measure takes the memory at intervals, and how late the machine lets a sleeper wake: what it takes from the server
// as well.
func (s *soak) measure(ctx context.Context) {
	const nap = 50 * time.Millisecond
	every := max(s.time/500, nap)
	next := time.Now()
	for {
		began := time.Now()
		if !pause(ctx, nap) {
			return
		}
		s.late = max(s.late, time.Since(began)-nap)
		if time.Now().After(next) {
			s.memory = append(s.memory, s.server.resident())
			next = next.Add(every)
		}
	}
}

// judged is how long a run must be for its memory to say something: a heap takes a while to find its size.
const judged = 5 * time.Minute

// mostGrowth is by how much the memory of the last tenth may be above that which follows upon the first.
const mostGrowth = 1.10

// tenth is the median of a tenth of the samples, counted from 0.
func tenth(samples []int, n int) int {
	from, to := n*len(samples)/10, (n+1)*len(samples)/10
	if from >= to {
		return 0
	}
	part := slices.Sorted(slices.Values(samples[from:to]))
	return part[len(part)/2]
}

// judge holds the figures to the bounds.
func (s *soak) judge() {
	if s.traced {
		return
	}
	if first, last := tenth(s.memory, 1), tenth(s.memory, 9); s.time >= judged && float64(last) > mostGrowth*float64(first) {
		s.broken.say("the server's memory grew from %d kB after the first tenth of the time to %d kB in the last", first, last)
	}
	for _, kind := range slices.Sorted(maps.Keys(s.kinds)) {
		if k := s.kinds[kind]; k.over > 0 {
			s.broken.say("%d of %d requests for %s took longer than %s, the slowest %s", k.over, len(k.times), kind, s.limit(kind), slices.Max(k.times).Round(time.Millisecond))
		}
	}
}

func (s *soak) print(w io.Writer) {
	fmt.Fprintf(w, "%s, seed %d, %d pages; %d streams opened, %d events; the machine woke a sleeper %s late at worst\n",
		s.time, s.seed, s.pages, s.streams, s.told, s.late.Round(time.Millisecond))
	fmt.Fprintf(w, "%d edits (%s)\n", s.edits.made, counts(s.edits.kinds))
	fmt.Fprintf(w, "saves: %s\n", counts(s.saves.counted))
	for _, kind := range slices.Sorted(maps.Keys(s.kinds)) {
		k := s.kinds[kind]
		slices.Sort(k.times)
		at := func(share float64) time.Duration {
			return k.times[int(share*float64(len(k.times)-1))].Round(time.Millisecond)
		}
		fmt.Fprintf(w, "  %-24s %7d asked, median %s, 99 %% in %s, slowest %s; status %s\n", kind, len(k.times), at(.5), at(.99), at(1), counts(k.statuses))
	}
	var tenths []string
	for n := range 10 {
		tenths = append(tenths, fmt.Sprint(tenth(s.memory, n)))
	}
	fmt.Fprintf(w, "resident kB, median by tenths: %s\n", strings.Join(tenths, " "))
	fmt.Fprintf(w, "files open: %d at the beginning, %d in the end\n", s.server.files, s.filesLeft)
	switch {
	case s.traced:
		fmt.Fprintln(w, "times and memory are not judged under strace")
	case s.time < judged:
		fmt.Fprintf(w, "memory is not judged of less than %s\n", judged)
	}
	for _, b := range s.broken.all {
		fmt.Fprintln(w, "BROKEN:", b)
	}
	if len(s.broken.all) == 0 {
		fmt.Fprintln(w, "all of it held")
	}
}

// counts tells a tally in the order of its keys.
func counts[K int | string](m map[K]int) string {
	var all []string
	for _, k := range slices.Sorted(maps.Keys(m)) {
		all = append(all, fmt.Sprintf("%v: %d", k, m[k]))
	}
	return strings.Join(all, ", ")
}
