package main

import (
	"context"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// edits is the person at the editor, who alone writes the set file and the plan to begin with.
type edits struct {
	text, plan string         // as they were
	holds      map[string]any // by file: the text that it must hold now, nil where it was removed
	made       int
	kinds      map[string]int
}

func (e *edits) begin(s *soak, text, plan string) {
	e.text, e.plan, e.holds, e.kinds = text, plan, map[string]any{}, map[string]int{}
	e.put(s, "set.toml", text)
	e.put(s, "begin.toml", plan)
}

// between is the time from one edit to the next.
const between = time.Second

func (e *edits) run(ctx context.Context, s *soak, r *rand.Rand) {
	ways := []struct {
		name   string
		weight int
		does   func(*soak, *rand.Rand)
	}{
		{"good", 30, func(s *soak, r *rand.Rand) { e.put(s, "set.toml", e.good(r)) }},
		{"good in two strokes", 10, e.strokes},
		{"replaced", 15, e.replace},
		{"slip", 12, func(s *soak, _ *rand.Rand) { e.put(s, "set.toml", strings.Replace(e.text, "kind = ", "kin = ", 1)) }},
		{"cut off", 8, func(s *soak, r *rand.Rand) { e.put(s, "set.toml", e.text[:r.IntN(len(e.text))]) }},
		{"no text", 5, func(s *soak, r *rand.Rand) { e.put(s, "set.toml", "\x00\xff"+e.text[:r.IntN(100)]) }},
		{"removed", 10, e.remove},
		{"plan", 6, func(s *soak, r *rand.Rand) { e.put(s, "begin.toml", e.plan+"\n# "+strconv.Itoa(r.Int())+"\n") }},
		{"plan with a slip", 4, func(s *soak, _ *rand.Rand) { e.put(s, "begin.toml", e.plan+"\n[[steps\n") }},
	}
	var deck []int
	for i, w := range ways {
		deck = append(deck, slices.Repeat([]int{i}, w.weight)...)
	}
	for pause(ctx, between) {
		e.untouched(s)
		way := ways[deck[r.IntN(len(deck))]]
		way.does(s, r)
		e.made++
		e.kinds[way.name]++
	}
	e.untouched(s)
}

// untouched holds the files to what was written there last.
func (e *edits) untouched(s *soak) {
	for _, name := range slices.Sorted(maps.Keys(e.holds)) {
		data, err := os.ReadFile(s.file(name))
		want := e.holds[name]
		switch {
		case want == nil && !os.IsNotExist(err):
			s.broken.say("%s was removed, and is there again", name)
		case want != nil && (err != nil || string(data) != want.(string)):
			s.broken.say("%s was written by someone else (%v)", name, err)
		}
	}
}

func (e *edits) put(s *soak, name, text string) {
	e.holds[name] = text
	if err := os.WriteFile(s.file(name), []byte(text), 0o666); err != nil {
		s.broken.say("%s cannot be edited: %v", name, err)
	}
}

// value is a figure that can be another.
var value = regexp.MustCompile(`value = \d+\b`)

// good is the set with a name of its own and a figure changed.
func (e *edits) good(r *rand.Rand) string {
	text := strings.Replace(e.text, `name = "`, fmt.Sprintf(`name = "%d `, e.made), 1)
	if all := value.FindAllStringIndex(text, -1); len(all) > 0 {
		at := all[r.IntN(len(all))]
		text = text[:at[1]] + "0" + text[at[1]:]
	}
	return text
}

// strokes writes as an editor does that empties the file first.
func (e *edits) strokes(s *soak, r *rand.Rand) {
	text := e.good(r)
	e.put(s, "set.toml", text[:len(text)/2])
	time.Sleep(time.Duration(r.IntN(60)) * time.Millisecond)
	e.put(s, "set.toml", text)
}

// replace puts another file in its place.
func (e *edits) replace(s *soak, r *rand.Rand) {
	text, aside := e.good(r), filepath.Join(s.folder, "aside", "new.toml")
	err := os.WriteFile(aside, []byte(text), 0o666)
	if err == nil {
		err = os.Rename(aside, s.file("set.toml"))
	}
	if err != nil {
		s.broken.say("set.toml cannot be replaced: %v", err)
	}
	e.holds["set.toml"] = text
}

func (e *edits) remove(s *soak, _ *rand.Rand) {
	if err := os.Remove(s.file("set.toml")); err != nil && e.holds["set.toml"] != nil {
		s.broken.say("set.toml cannot be removed: %v", err)
	}
	e.holds["set.toml"] = nil
}

// followTime is how long a page may show what the file no longer says.
const followTime = 5 * time.Second

// last makes a last good edit, and waits for the bench to show it.
func (e *edits) last(s *soak) {
	const name = "the last edit of all"
	e.put(s, "set.toml", strings.Replace(e.text, `name = "`, `name = "`+name+" ", 1))
	e.put(s, "begin.toml", e.plan)
	p := &page{soak: s, client: newClient()}
	defer p.client.CloseIdleConnections()
	for end := time.Now().Add(followTime); time.Now().Before(end); time.Sleep(100 * time.Millisecond) {
		if p.learn(); strings.HasPrefix(p.head.Name, name) && len(p.head.Slips) == 0 && len(p.head.PlanSlips) == 0 && !p.head.Gone {
			e.untouched(s)
			return
		}
	}
	s.broken.say("the bench shows %q, with the slips %q, %s after the last edit", p.head.Name, p.head.Slips, followTime)
}
