package setfile

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode"
	"unicode/utf16"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/filetest"
	"coldcheck/netlist/internal/tomltext"
	"coldcheck/netlist/internal/words"
)

// wanted is what a fixture's first lines say of it: "# error: LINE:COL: text" or "# notice: …".
type wanted struct {
	line, col int
	text      string
}

var wantedLine = regexp.MustCompile(`^(?:` + tomltext.ByteOrderMark + `)?# (?:error|notice): (\d+):(\d+): (.*)$`)

func readWanted(t *testing.T, data string) []wanted {
	t.Helper()
	var all []wanted
	for line := range strings.Lines(data) {
		m := wantedLine.FindStringSubmatch(strings.TrimRight(line, "\r\n"))
		if m == nil {
			break
		}
		row, _ := strconv.Atoi(m[1])
		col, _ := strconv.Atoi(m[2])
		all = append(all, wanted{row, col, m[3]})
	}
	return all
}

// told is a problem or a notice, to be compared with what was wanted.
type told struct {
	pos  netlist.Pos
	text string
}

// compare fails on what was told and not wanted, and on what was wanted and not told.
func compare(t *testing.T, got []told, want []wanted) {
	t.Helper()
	for i := range max(len(got), len(want)) {
		switch {
		case i >= len(got):
			t.Errorf("missing: %d:%d: %s", want[i].line, want[i].col, want[i].text)
		case i >= len(want):
			t.Errorf("surplus: %d:%d: %s", got[i].pos.Line, got[i].pos.Col, got[i].text)
		case got[i].pos.Line != want[i].line || got[i].pos.Col != want[i].col || !strings.Contains(got[i].text, want[i].text):
			t.Errorf("got %d:%d: %s\nwant %d:%d: %s", got[i].pos.Line, got[i].pos.Col, got[i].text, want[i].line, want[i].col, want[i].text)
		}
	}
}

// problemsOf gives the problems of an error that must be Problems.
func problemsOf(t testing.TB, set *netlist.Set, err error) netlist.Problems {
	t.Helper()
	var problems netlist.Problems
	if err == nil || !errors.As(err, &problems) || len(problems) == 0 {
		t.Fatalf("error is %v (%T), want Problems", err, err)
	}
	if set != nil {
		t.Errorf("there is a set beside the error %v", err)
	}
	return problems
}

func TestInvalidFilesTellEveryProblem(t *testing.T) {
	for _, file := range filetest.Fixtures(t, "testdata/invalid/*.toml") {
		t.Run(filetest.Name(file), func(t *testing.T) {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			want := readWanted(t, string(data))
			if len(want) == 0 {
				t.Fatal("the file does not say what is wrong with it")
			}
			set, err := Load(file, bytes.NewReader(data))
			var got []told
			for _, p := range problemsOf(t, set, err) {
				got = append(got, told{p.Pos, p.Text})
				checkVoice(t, p.Text)
			}
			compare(t, got, want)
		})
	}
}

func TestValidFilesLoad(t *testing.T) {
	for _, file := range filetest.Fixtures(t, "testdata/valid/*.toml") {
		t.Run(filetest.Name(file), func(t *testing.T) {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			set, err := Load(file, bytes.NewReader(data))
			if err != nil {
				t.Fatal(err)
			}
			var got []told
			for _, n := range set.Notices {
				got = append(got, told{n.Pos, n.Text})
				checkVoice(t, n.Text)
				if n.Pos.File != file {
					t.Errorf("notice %q names the file %q", n.Text, n.Pos.File)
				}
			}
			compare(t, got, readWanted(t, string(data)))
		})
	}
}

// bannedWords are never said to a person at a bench.
var bannedWords = regexp.MustCompile(`(?i)\b(netlist|vertex|edge|matrix|invalid|illegal|parse|token|safe)\b`)

// checkVoice: lower case (or a word of the file), no full stop, the words of the bench.
func checkVoice(t *testing.T, text string) {
	t.Helper()
	first, _, _ := strings.Cut(text, " ")
	if unicode.IsUpper([]rune(text)[0]) && strings.ToUpper(first) != first && !netlist.IsPartName(first) {
		t.Errorf("%q begins with a capital", text)
	}
	if strings.HasSuffix(text, ".") {
		t.Errorf("%q ends with a full stop", text)
	}
	if word := bannedWords.FindString(text); word != "" {
		t.Errorf("%q says %q", text, word)
	}
	if strings.ContainsFunc(text, func(r rune) bool { return r != '\n' && words.Invisible(r) }) {
		t.Errorf("%q has something invisible in it", text)
	}
}

func utf16Text(s string, bigEndian bool, mark bool) string {
	var b bytes.Buffer
	units := utf16.Encode([]rune(s))
	if mark {
		units = append([]uint16{0xFEFF}, units...)
	}
	for _, u := range units {
		if bigEndian {
			b.Write([]byte{byte(u >> 8), byte(u)})
		} else {
			b.Write([]byte{byte(u), byte(u >> 8)})
		}
	}
	return b.String()
}

// Files that cannot hold a remark.
func TestTextThatIsNone(t *testing.T) {
	const text = "[set]\nname = \"bench\"\n"
	tests := []struct {
		name, data string
		want       string
	}{
		{"empty", "", "f:1:1: the file is empty"},
		{"blanks", " \n\t\n", "f:1:1: the file is empty"},
		{"mark-alone", tomltext.ByteOrderMark, "f:1:1: the file is empty"},
		{"utf16-little", utf16Text(text, false, true), "f:1:1: the file is saved as UTF-16"},
		{"utf16-big", utf16Text(text, true, true), "f:1:1: the file is saved as UTF-16"},
		{"utf16-little-unmarked", utf16Text(text, false, false), "f:1:1: the file is saved as UTF-16"},
		{"utf16-big-unmarked", utf16Text(text, true, false), "f:1:1: the file is saved as UTF-16"},
		{"old-encoding", "[set]\nname = \"b\xb5\"\n", "f:2:10: the byte 0xb5 is not UTF-8"},
		{"old-encoding-after-letters", "[set]\nname = \"µµ\xb5\"\n", "f:2:11: the byte 0xb5 is not UTF-8"},
		{"carriage-returns", "[set]\rname = \"b\"\r", "f:1:6: the lines end as on old computers"},
		{"zero-byte", "[set]\nname = \"bench, long enough\"\x00\n", "f:2:28: a control character (U+0000)"},
		{"a-stray-carriage-return", "[set]\nname = \"b\"\r\r\n", "f:2:11: a control character (U+000D)"},
		{"brackets", "a = " + strings.Repeat("[", 100000), "f:1:37: too many brackets"},
		{"braces", strings.Repeat("a={", 100000), "f:1:99: too many brackets"},
		{"dots", strings.Repeat("a.", 100000) + "a = 1", "f:1:34: too many dots"},
		{"dots-in-header", "[" + strings.Repeat("a.", 100000) + "a]", "f:1:35: too many dots"},
		{"json", `{"set": {"name": "bench"}}`, "f:1:1: this is not a set file but something else"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			set, err := Load("f", strings.NewReader(tt.data))
			problems := problemsOf(t, set, err)
			if len(problems) != 1 || !strings.HasPrefix(problems.Error(), tt.want) {
				t.Errorf("got %v, want %s", problems, tt.want)
			}
		})
	}
}

func TestBracketsInTextsDoNotCount(t *testing.T) {
	text := strings.Repeat("[{", 50)
	doc := filetest.BenchHead + `W9 = { kind = "wire", ends = ["line 1", "line 2"], note = "` + text + `" } # ` + text + "\n"
	if _, err := Load("f", strings.NewReader(doc)); err != nil {
		t.Error(err)
	}
}

func TestBounds(t *testing.T) {
	wires := func(n int) string {
		var b strings.Builder
		b.WriteString(filetest.BenchHead)
		for i := range n - 2 {
			fmt.Fprintf(&b, "X%d = { kind = \"wire\", ends = [\"line 1\", \"line 2\"] }\n", i)
		}
		return b.String()
	}
	switches := func(n int) string {
		var b strings.Builder
		b.WriteString(filetest.BenchHead)
		for i := range n {
			fmt.Fprintf(&b, "S%d = { kind = \"switch\", ends = [\"line 1\", \"line 2\"] }\n", i)
		}
		return b.String()
	}
	poles := func(n int) string {
		return filetest.BenchHead + "S1 = { kind = \"switch\", poles = [" + strings.Repeat(`["line 1", "line 2"], `, n) + "] }\n"
	}
	selector := func(n int) string {
		var throws []string
		for i := range n {
			throws = append(throws, fmt.Sprintf("%q", fmt.Sprintf("t%d", i)))
		}
		return switches(9) + "SW = { kind = \"selector\", common = \"line 1\", throws = [" + strings.Join(throws, ", ") + "] }\n"
	}
	tests := []struct {
		name, text string
		want       string
	}{
		{"parts-20000", wires(netlist.MaxParts), ""},
		{"parts-20001", wires(netlist.MaxParts + 1), "f:20006:1: 20001 parts are more than the 20000"},
		{"switches-10", switches(10), ""},
		{"switches-11", switches(11), `f:18:1: up to "S10" the switches and selectors have more than 1024 combinations`},
		{"poles-64", poles(netlist.MaxPoles), ""},
		{"poles-65", poles(netlist.MaxPoles + 1), "f:8:33: S1 has 65 poles, more than the 64"},
		{"selector-2", selector(2), ""},
		{"selector-3", selector(3), `f:17:1: up to "SW" the switches and selectors have more than 1024 combinations`},
		{"bytes", filetest.BenchHead + strings.Repeat("#", MaxFileBytes-len(filetest.BenchHead)), ""},
		{"bytes-and-one", filetest.BenchHead + strings.Repeat("#", MaxFileBytes-len(filetest.BenchHead)+1), "f: is larger than 4 MiB"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			set, err := Load("f", strings.NewReader(tt.text))
			if tt.want == "" {
				if err != nil {
					t.Error(err)
				}
				return
			}
			problems := problemsOf(t, set, err)
			if len(problems) != 1 || !strings.HasPrefix(problems.Error(), tt.want) {
				t.Errorf("got %v, want %s", problems, tt.want)
			}
		})
	}
}

func TestLoadFile(t *testing.T) {
	dir := t.TempDir()
	good := filepath.Join(dir, "good.toml")
	if err := os.WriteFile(good, []byte(filetest.BenchHead), 0o644); err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		name, path, stdin, want string
	}{
		{"file", good, "", ""},
		{"standard-input", "-", filetest.BenchHead, ""},
		{"standard-input-wrong", "-", "x = 1\n", "-:1:1: "},
		{"folder", dir, "", dir + ": is a directory"},
		{"missing", filepath.Join(dir, "none.toml"), "", filepath.Join(dir, "none.toml") + ": no such file"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			set, err := LoadFile(tt.path, strings.NewReader(tt.stdin))
			if tt.want == "" {
				if err != nil {
					t.Fatal(err)
				}
				if set.File != tt.path {
					t.Errorf("the set's file is %q, want %q", set.File, tt.path)
				}
				return
			}
			if problems := problemsOf(t, set, err); !strings.HasPrefix(problems.Error(), tt.want) {
				t.Errorf("got %v, want %s", problems, tt.want)
			}
		})
	}
}

type brokenReader struct{}

func (brokenReader) Read([]byte) (int, error) { return 0, errors.New("the cable fell out") }

func TestLoadTellsOfABrokenReader(t *testing.T) {
	set, err := Load("f", brokenReader{})
	if problems := problemsOf(t, set, err); problems.Error() != "f: cannot be read: the cable fell out" {
		t.Errorf("got %v", problems)
	}
}

// A file name can hold what a terminal would act upon.
func TestFileNamesAreShownPlainly(t *testing.T) {
	set, err := Load("a\x1b[31m.toml", strings.NewReader("x = 1\n"))
	if problems := problemsOf(t, set, err); !strings.HasPrefix(problems.Error(), `a\u001b[31m.toml:1:1: `) {
		t.Errorf("got %q", problems.Error())
	}
}

func TestProblemsComeSorted(t *testing.T) {
	set, err := Load("f", strings.NewReader("[parts]\nR1 = { kind = \"resistor\", value = -1, ends = [\"a\", \"a\"] }\n[set]\nnam = 1\n"))
	problems := problemsOf(t, set, err)
	for i := 1; i < len(problems); i++ {
		if problems[i-1].Pos.Compare(problems[i].Pos) > 0 {
			t.Errorf("%v stands before %v", problems[i-1], problems[i])
		}
	}
}

// A line that cannot be read hides what it says, and nothing follows from that alone.
func TestUnreadableLinesCauseNoOtherComplaint(t *testing.T) {
	lines := strings.Split(strings.TrimSuffix(filetest.BenchHead, "\n"), "\n")
	for i, line := range lines {
		if strings.HasPrefix(line, "[") {
			continue
		}
		broken := append([]string(nil), lines...)
		broken[i] = line + " oops"
		set, err := Load("f", strings.NewReader(strings.Join(broken, "\n")+"\n"))
		problems := problemsOf(t, set, err)
		if len(problems) != 1 || problems[0].Pos.Line != i+1 {
			t.Errorf("line %d broken (%s): got %v, want one problem there", i+1, broken[i], problems)
		}
	}
}
