package draft

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/filetest"
	"coldcheck/netlist/setfile"
)

// loaded is the set that an interview gives, which must read without a problem and without a notice.
func loaded(t rapid.TB, i *Interview) (*netlist.Set, string) {
	t.Helper()
	var b bytes.Buffer
	if err := i.Write(&b); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	set, err := setfile.Load("draft.toml", strings.NewReader(text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	if len(set.Notices) > 0 {
		t.Fatalf("%v\n%s", set.Notices, text)
	}
	return set, text
}

// more are answers beside those that a question offers and gives as examples.
var more = map[string][]string{
	"name": {`"quoted" \ and 'so'`, "zero\u200bwidth"}, "mains": {"117v 60 cycles", "240 V 50 Hz", "115 V 60 cycles AC", "120 V 60~", "120 V 60 cps", "120 V 60 cy"},
	"blade-1":     {"switch", "fuse, switch, B-", "chassis", "switch, winding", "fuse, don't know", "switch > load"},
	"blade-2":     {"fuse, switch, string", "winding", "B-", "chassis", "switch, chassis", "fuse"},
	"across-line": {"47 nF 275 V AC X2 film"}, "fuse-amps": {"500 mA"},
	"tubes": {"25Z6GT 25L6GT 6K7 6A7", "5Y3GT, 6V6GT, 6SQ7", "50Y6GT, 50L6GT, 12SQ7", "6X4, 6BE6, heater 6.3 V 300 mA", "UCH81", "heater 117 V 75 mA", "35Z5GT, 50L6GT"},
	"lamp":  {"6.3 V 0.25 A"}, "dropper": {"22"}, "surge": {"22"}, "high-volts": {"350"},
	"reservoirs": {"40 uF, 40 uF, 20 uF", "160 uF 200 V, 160 uF 350 V", "8 uF paper"}, "filter": {"1k, 2.2k", "field coil 1500 ohm"},
	"b-minus-capacitor": {"250 mmf"}, "b-minus-resistor": {"2.2 meg"},
	"metal":   {"volume shaft: knob, handle", "chassis: cover, tone arm, speaker grille: sleeve", "Volume  Shaft, CHASSIS", "tone control: knob", "vol shaft: knob, handle", "control shaft", "condenser .1 mfd"},
	"antenna": {"wire", "coil", "250 pF"}, "ground": {"wire", "coil 3 ohm"},
	"else": {"wire from chassis to building earth", "insulation from line 1 to volume shaft; motor 20 W 120 V from line 1 to B-minus", "coil 20 ohm from line 2 to chassis"},
}

// offers are answers to a question, right and wrong.
func offers(i *Interview, q *Question) []string {
	list := slices.Concat(q.Examples, wordsOf(i.Words(q)), more[q.Key], []string{"", "", "", DontKnow, "unknown", "nonsense 3"})
	if q.Key == "replaced" {
		for _, p := range i.Document().Parts {
			list = append(list, p.Name)
		}
	}
	return list
}

// jumble are the words of all answers, and what else a person may hit.
func jumble() []string {
	pieces := []string{"", "0", "-1", "1e300", "inf", "=", "\"", "\\", "#", "’", "\u00a0", "µF", "Ω", "x", "from", "to", "cord", "heater", "B+", "line 1", "building earth", "ground", "earth", "supply", "%s", "[set]"}
	for _, q := range questions() {
		for _, text := range slices.Concat(q.Examples, wordsOf(q.Words), more[q.Key]) {
			pieces = append(pieces, strings.Fields(text)...)
		}
	}
	return pieces
}

// drawn gives answers at random until all is answered or one has enough. What is usual is always taken.
func drawn(t *rapid.T) *Interview {
	i := New()
	stop := rapid.IntRange(0, 60).Draw(t, "stop")
	for n := 0; n < stop; n++ {
		q := i.Next()
		if q == nil {
			break
		}
		text := rapid.SampledFrom(offers(i, q)).Draw(t, q.Key)
		if rapid.IntRange(0, 9).Draw(t, "jumbled") == 9 {
			text = strings.Join(rapid.SliceOfN(rapid.SampledFrom(jumble()), 1, 6).Draw(t, q.Key), rapid.SampledFrom([]string{" ", ", ", "; ", ": ", ""}).Draw(t, "between"))
		}
		if _, _, err := i.Answer(q, text); err != nil {
			if words := err.Error(); words == "" || strings.HasSuffix(words, ".") || strings.Contains(words, "\n") {
				t.Fatalf("%s = %q: %q", q.Key, text, words)
			}
			if _, _, err := i.Answer(q, ""); err != nil {
				t.Fatalf("what is usual of %s, %q: %v", q.Key, i.Usual(q), err)
			}
		}
	}
	return i
}

// TestWhateverIsAnswered: the file reads without a problem and a notice, wherever one stops, and says what was
// answered; the answers read back give it again.
func TestWhateverIsAnswered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		i := drawn(t)
		set, text := loaded(t, i)
		settled, _ := i.settle()
		saysWhatWasAnswered(t, settled, set)
		for line := range strings.Lines(text) {
			if strings.HasPrefix(line, "#") && len([]rune(line)) > 100 {
				t.Errorf("a wide remark: %s", line)
			}
		}
		var kept bytes.Buffer
		if err := i.WriteAnswers(&kept, "Answers."); err != nil {
			t.Fatal(err)
		}
		again, err := Read("answers.toml", kept.Bytes())
		if err != nil {
			t.Fatalf("%v\n%s", err, &kept)
		}
		if _, same := loaded(t, again); same != text {
			t.Fatalf("read back it gives another set:\n%s\n%s", text, same)
		}
	})
}

// saysWhatWasAnswered holds a set to the answers that it was made of.
func saysWhatWasAnswered(t *rapid.T, s answers, set *netlist.Set) {
	t.Helper()
	count := map[netlist.Kind]int{}
	var tubes, typed []string
	for _, p := range set.Parts {
		count[p.Kind]++
		if tube, ok := p.Detail.(*netlist.Tube); ok {
			tubes = append(tubes, tube.TypeName)
		}
	}
	for _, x := range s.tubes() {
		if x.known != nil && (x.known.Heater != nil || len(x.known.Rectifiers) > 0) {
			typed = append(typed, x.text)
		}
	}
	if !s.is("entry", byOther, DontKnow) && !slices.Equal(tubes, typed) {
		t.Errorf("tubes %q of %q", tubes, typed)
	}
	if (count[netlist.KindSwitch] == 0) != (!s.chainHas(switchW) && s.is("switch", none)) {
		t.Errorf("%d switches", count[netlist.KindSwitch])
	}
	if s.chainHas(fuse) && count[netlist.KindFuse] == 0 {
		t.Error("no fuse")
	}
	if (count[netlist.KindTransformer] > 0) != s.transformed() {
		t.Errorf("%d transformers", count[netlist.KindTransformer])
	}
	saysWhatIsInReach(t, s, set)
}

// saysWhatIsInReach holds the plug and the touch points of a set to the answers.
func saysWhatIsInReach(t *rapid.T, s answers, set *netlist.Set) {
	t.Helper()
	if _, plug := set.Plug(); s.is("plug", plain, polarized) && plug.Style != s["plug"] {
		t.Errorf("the plug is %s", plug.Style)
	}
	if text, ok := s.known("metal"); ok {
		list, err := piecesOf(text)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range list {
			if n := set.Node(p.name); n == nil || n.Touch != p.touch || n.Guard != p.guard {
				t.Errorf("%v is %v", p, n)
			}
		}
	}
	for _, key := range []string{"antenna", "ground"} {
		touched := slices.ContainsFunc(set.TouchPoints(), func(n *netlist.Node) bool { return n.Touch == key })
		if touched == s.is(key, none) {
			t.Errorf("%s is %q, and within reach: %v", key, s[key], touched)
		}
	}
}

// TestGoingBack: from any question back to the first and on again nothing is lost, and an answer changed on the way
// opens those alone that do not fit it.
func TestGoingBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		i := drawn(t)
		_, text := loaded(t, i)
		q := i.Next()
		if q == nil {
			q = questions()[len(questions())-1]
		}
		steps := 0
		for before := i.Before(q); before != nil; before = i.Before(q) {
			q = before
			steps++
			if _, same := loaded(t, i); same != text {
				t.Fatalf("back at %s the set is another", q.Key)
			}
		}
		if q.Key != "name" || steps > len(questions()) {
			t.Fatalf("%d steps back ends at %s", steps, q.Key)
		}
		for _, q := range questions() {
			if _, there := i.given[q.Key]; there && q.applies(i.upTo(q)) {
				if _, _, err := i.Answer(q, ""); err != nil {
					t.Fatalf("what was answered to %s is taken no more: %v", q.Key, err)
				}
			}
		}
		if _, same := loaded(t, i); same != text {
			t.Fatal("answered again as before, the set is another")
		}
	})
}

// TestChanged: a changed answer lets those behind it stand that still fit.
func TestChanged(t *testing.T) {
	i, err := Read("answers.toml", []byte("plug = \"plain\"\nentry = \"string\"\nblade-1 = \"string\"\nblade-2 = \"switch, B-\"\ntubes = \"35W4 50C5\"\nlamp = \"47\"\nlamp-at = \"tap\"\nantenna = \"none\""))
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := i.Answer(find("tubes"), "35Z4GT, 50L6GT"); err != nil {
		t.Fatal(err)
	}
	open := i.Open()
	if !slices.Contains(open, "lamp-at") || slices.Contains(open, "lamp") || slices.Contains(open, "blade-2") || slices.Contains(open, "antenna") {
		t.Errorf("open: %q", open)
	}
}

// TestWrongAnswers: each is told at once, with what would be right.
func TestWrongAnswers(t *testing.T) {
	begun := "entry = \"string\"\nblade-1 = \"string\"\n"
	for _, c := range []struct{ given, key, text, want string }{
		{"", "mains", "120", "needs volts and hertz"},
		{"", "mains", "110 V DC", "only AC mains"},
		{"", "plug", "polarised", `did you mean polarized?`},
		{"", "name", DontKnow, "has to be said"},
		{begun, "tubes", "heater 25 V", "has no volts and amperes"},
		{begun, "tubes", "heater 150 mA", "has no volts and amperes"},
		{begun, "tubes", "heater red", "has no volts and amperes"},
		{"", "mains", "dunno", "Enter alone takes what stands in brackets, which is 120 V 60 Hz unless"},
		{begun, "blade-2", "switch, string", "this one ends at B- or the chassis"},
		{begun, "blade-2", "B-, switch", "B- is the end of a leg"},
		{begun, "blade-2", "winding", "not at the winding"},
		{begun, "blade-2", "switch, switch, B-", "stands twice"},
		{begun, "blade-2", "don't know, switch", "stands last"},
		{"entry = \"string\"\nblade-1 = \"B-\"\n", "blade-2", "chassis", "a short"},
		{begun, "across-line", "0.05", "has no unit"},
		{begun, "across-line", "0.05 uF foo", `"foo" is not understood`},
		{begun, "across-line", "400 V", "value of the capacitor is not said"},
		{begun, "across-line", "0.05 mF", "write uF to be plain"},
		{begun, "tubes", "35W4, 50C9", `did you mean "50C5"?`},
		{begun, "tubes", "ZZ99", `"heater 25 V 150 mA"`},
		{begun, "tubes", "none", "a tube at least"},
		{begun + "tubes = \"50C5\"\n", "rectifier", "tube", "none of the tubes"},
		{begun + "tubes = \"35W4, 50C5\"\n", "rectifier", "none", "35W4 among the tubes is a rectifier; say tube"},
		{begun + "tubes = \"5Y3GT, 6V6GT\"\n", "rectifier", "none", "stands in no string"},
		{"entry = \"transformer\"\ntubes = \"5Y3GT, 6V6GT\"\n", "rectifier", "none", "5Y3GT among the tubes is a rectifier; say tube"},
		{begun + "tubes = \"35W4\"\nrectifier = \"tube\"\n", "circuit", "doubler", "two sections"},
		{begun + "rectifier = \"selenium\"\ncircuit = \"doubler\"\n", "reservoirs", "40 uF", "a doubler has two"},
		{begun + "rectifier = \"selenium\"\nreservoirs = \"40 uF, 40 uF\"\n", "filter", "1k, 1k", "there is 1 gap"},
		{begun + "b-minus = \"resistor\"\n", "b-minus-resistor", "250M", "write k or meg"},
		{begun, "metal", "chassis: towel", `"towel" guards nothing`},
		{begun, "metal", "thing", "does not show in its name"},
		{begun, "metal", "chassis, condenser .1 mfd from line 1 to chassis", "say a part at else"},
		{begun, "metal", "chassis, chassis resistor", "is a part"},
		{begun, "metal", "chassis, 220k handle", "is a part"},
		{begun, "metal", "chassis, screw 0.1 uF", "is a part"},
		{begun, "metal", "jumper chassis to B-", "is a part"},
		{begun, "metal", "vol shaft, Volume Shaft: knob", "said twice"},
		{begun, "metal", "antenna lead", "asked after next"},
		{begun, "metal", "handle, Handle", "said twice"},
		{begun + "metal = \"chassis, handle\"\n", "loose", "knob", "there is handle"},
		{begun, "antenna", "string", "capacitor 250 pF mica"},
		{begun, "else", "capacitor 1 nF", "from where to where"},
		{begun, "else", "capacitor 1 nF from line 1 to line 9", "not two of the points: chassis"},
		{begun, "else", "wire from B- to B-minus", "both ends are on"},
		{begun, "replaced", "C99", "no part is called"},
		{begun, "metal", strings.Repeat("handle", 400), "longer than 1000"},
		{begun, "metal", "a\x07b", "control character"},
	} {
		i, err := Read("answers.toml", []byte(c.given))
		if err != nil {
			t.Fatalf("%q: %v", c.given, err)
		}
		_, before := loaded(t, i)
		kept, _, err := i.Answer(find(c.key), c.text)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s = %q is taken as %q; %v", c.key, c.text, kept, err)
		}
		if _, after := loaded(t, i); after != before {
			t.Errorf("%s = %q leaves something behind", c.key, c.text)
		}
	}
}

// TestMetalIsTaken: names of metal that have the word of a part in them are no parts.
func TestMetalIsTaken(t *testing.T) {
	for _, name := range []string{"motor shaft", "speaker frame", "dial lamp bezel", "transformer screws", "set screw 2", "1/4 inch screws", "3 screws", "fuse holder screw", "cap screws", "tuning control", "switch shaft", "trimmer screws"} {
		if kept, err := checkMetal(nil, "chassis, "+name); err != nil {
			t.Errorf("%s is taken as %q; %v", name, kept, err)
		}
	}
}

// TestQuestions: each has all that is said of it, and a key that is none of another's.
func TestQuestions(t *testing.T) {
	seen := map[string]bool{}
	for _, q := range Questions() {
		if q.Ask == "" || q.Why == "" || q.Group == "" || len(q.Examples) == 0 || q.usual == nil || q.check == nil || seen[q.Key] {
			t.Errorf("%s lacks something", q.Key)
		}
		seen[q.Key] = true
		for _, text := range []string{q.Ask, q.Why, q.Unknown} {
			if strings.Contains(strings.ToLower(text), "safe") {
				t.Errorf("%s promises", q.Key)
			}
		}
	}
	for key := range more {
		if !seen[key] {
			t.Errorf("no question %s", key)
		}
	}
}

// FuzzAnswers: whatever the file, its problems lie inside it, or it gives a set that reads, twice the same.
func FuzzAnswers(f *testing.F) {
	for _, text := range []string{"", "plug = \"plain\"", "plug = 3", "nonsense = \"x\"", "tubes = [\"35W4\", \"50C5\"]\nentry = \"string\"", "tubes = [1]", "else = \"wire from B- to chassis\"",
		"metal = \"chassis: cabinet, a to b shaft\"\nelse = \"wire from a to b shaft to line 1\"", "blade-1 = \"fuse, switch, string\"\nblade-2 = \"B-\"\nentry = \"string\"", "mains = \"12 V 1e9 Hz\"",
		"[set]\nname = \"x\"", "name = \"\\u0000\"", "entry = \"transformer\"\ntubes = \"5Y3GT 6X4\"\nrectifier = \"tube\"", Topic().Example} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		i, err := Read("answers.toml", data)
		if err != nil {
			problems, ok := err.(netlist.Problems)
			if !ok || len(problems) == 0 || i != nil {
				t.Fatalf("%T with %v", err, i)
			}
			for _, p := range problems {
				filetest.CheckPlace(t, p.Pos, data)
			}
			return
		}
		_, text := loaded(t, i)
		if _, again := loaded(t, i); again != text {
			t.Fatal("a second time it is another")
		}
	})
}

// TestAutotransformerAtTheLine: whatever rectifies and wherever the legs end, each winding but that of a filament, which
// is at B-plus, is joined to a blade, and so is the chassis unless it was said what keeps which point off it.
func TestAutotransformerAtTheLine(t *testing.T) {
	tubes := []string{"6X4, 6BE6, heater 12 V 150 mA", "5Y3GT, 6V6GT", "6BE6", "none", DontKnow}
	tried := map[string]int{}
	for _, legs := range [][2]string{{"winding", "switch, B-"}, {"winding", "winding"}, {DontKnow, "winding"}, {"switch, chassis", "winding"}, {DontKnow, DontKnow}} {
		for _, typed := range tubes {
			for _, rectifier := range append(wordsOf(rectifierWords), DontKnow) {
				for _, joined := range append(wordsOf(barrierWords), DontKnow) {
					i := New()
					kept := true
					for _, a := range [][2]string{{"entry", byAuto}, {"blade-1", legs[0]}, {"blade-2", legs[1]}, {"tubes", typed}, {"lamp", "47"}, {"rectifier", rectifier}, {"b-minus", joined}} {
						if !find(a[0]).applies(i.upTo(find(a[0]))) {
							continue
						}
						if _, _, err := i.Answer(find(a[0]), a[1]); err != nil {
							kept = false
						}
					}
					if !kept {
						continue
					}
					tried[rectifier]++
					set, text := loaded(t, i)
					at := atTheLine(set)
					for _, p := range set.Parts {
						x, ok := p.Detail.(*netlist.Transformer)
						for k := 0; ok && k < len(x.Windings); k++ {
							if w := x.Windings[k]; !at[w.Start] && !strings.HasPrefix(w.Name, "filament") {
								t.Fatalf("winding %s hangs on nothing:\n%s", w.Name, text)
							}
						}
					}
					if !at[chassis] && (joined == byWire || joined == DontKnow || rectifier == none && legs[1] == "winding" && joined == nothing) {
						t.Fatalf("the chassis hangs on nothing:\n%s", text)
					}
				}
			}
		}
	}
	for _, rectifier := range append(wordsOf(rectifierWords), DontKnow) {
		if tried[rectifier] < 10 {
			t.Errorf("rectifier %s was tried %d times", rectifier, tried[rectifier])
		}
	}
}

// atTheLine are the nodes that wires, switches, fuses and windings join to a blade.
func atTheLine(set *netlist.Set) map[string]bool {
	at := map[string]bool{}
	_, plug := set.Plug()
	at[plug.Hot], at[plug.Neutral] = true, true
	join := func(a, b string) bool {
		fresh := at[a] != at[b]
		at[a] = at[a] || at[b]
		at[b] = at[a]
		return fresh
	}
	for more := true; more; {
		more = false
		for _, p := range set.Parts {
			switch x := p.Detail.(type) {
			case *netlist.Transformer:
				for _, w := range x.Windings {
					more = join(w.Start, w.End) || more
				}
			default:
				if p.Kind == netlist.KindWire || p.Kind == netlist.KindSwitch || p.Kind == netlist.KindFuse {
					more = join(p.Terminals[0].Node, p.Terminals[1].Node) || more
				}
			}
		}
	}
	return at
}
