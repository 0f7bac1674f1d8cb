package draft

import (
	"io"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/tomltext"
	"coldcheck/netlist/internal/words"
)

// Read reads answers from a file of lines KEY = "ANSWER". All that is wrong with it is told in one go; then there
// is no interview.
func Read(file string, data []byte) (*Interview, error) {
	if strings.TrimSpace(strings.TrimPrefix(string(data), tomltext.ByteOrderMark)) == "" {
		return New(), nil
	}
	p := tomltext.Parse(file, data)
	if p.Root == nil {
		return nil, p.Problems.Sorted()
	}
	r := &reader{problems: p.Problems, given: map[string]string{}}
	r.texts(p.Root)
	i := r.interview(p.Root)
	if len(r.problems) > 0 {
		return nil, r.problems.Sorted()
	}
	return i, nil
}

// reader takes answers out of a file and goes on after a problem, so that all are found.
type reader struct {
	problems netlist.Problems
	given    map[string]string
}

func (r *reader) addf(pos netlist.Pos, format string, args ...any) {
	r.problems.Addf(pos, format, args...)
}

// texts takes what each key says.
func (r *reader) texts(root *netlist.Table) {
	for _, e := range root.Entries {
		q := find(e.Key)
		if q == nil {
			r.addf(e.Pos, "%s is none of the questions; %s", words.Quote(e.Key), words.Meant(words.Nearest(e.Key, keys()), "coldcheck part draft lists them"))
			continue
		}
		text, ok := textValue(e.Value)
		if !ok {
			r.addf(e.Value.Pos, "%s is %s; write the answer in quotes, like %s = %s", e.Key, e.Value.Describe(), e.Key, tomltext.Text(q.Examples[0]))
			continue
		}
		r.given[e.Key] = text
	}
}

// textValue is an answer as text: a list of texts is one with commas between.
func textValue(v netlist.Value) (string, bool) {
	switch data := v.Data.(type) {
	case string:
		return data, true
	case []netlist.Value:
		var all []string
		for _, item := range data {
			text, ok := item.Data.(string)
			if !ok {
				return "", false
			}
			all = append(all, text)
		}
		return strings.Join(all, ", "), true
	}
	return "", false
}

// interview judges the answers, each after those before it. Whether a question is asked at all is told only where
// the answers before it hold, for it may hang on them.
func (r *reader) interview(root *netlist.Table) *Interview {
	i := New()
	settled := answers{}
	sound := len(r.problems) == 0
	for _, q := range questions() {
		e, there := root.Get(q.Key)
		text, ok := r.given[q.Key]
		switch {
		case !there || !ok:
			continue
		case !q.applies(settled) && sound:
			r.addf(e.Pos, "%s is not asked after the answers before it; take the line out", q.Key)
			continue
		case !q.applies(settled):
			continue
		}
		kept, err := q.read(settled, text)
		if err != nil {
			r.addf(e.Value.Pos, "%s: %v", q.Key, err)
			sound = false
			continue
		}
		settled[q.Key], i.given[q.Key] = kept, kept
	}
	return i
}

func keys() []string {
	all := make([]string, 0, len(questions()))
	for _, q := range questions() {
		all = append(all, q.Key)
	}
	return all
}

// WriteAnswers writes the answers that hold as a file, in the order of the questions, below some remarks.
func (i *Interview) WriteAnswers(w io.Writer, remarks ...string) error {
	out := tomltext.NewWriter(w)
	for _, remark := range remarks {
		out.Remarks(tomltext.Remark(remark))
	}
	settled, _ := i.settle()
	group := ""
	for _, q := range questions() {
		text, ok := settled[q.Key]
		if !ok {
			continue
		}
		if q.Group != group {
			group = q.Group
			out.Line("")
			out.Remarks([]string{group})
		}
		out.Line(q.Key + " = " + tomltext.Text(text))
	}
	return out.Flush()
}

// Topic is what is said of answers as a file.
func Topic() netlist.Topic {
	var rows [][2]string
	for _, q := range questions() {
		text := q.Ask
		if len(q.Words) > 0 {
			text += " One of " + words.Choices(wordsOf(q.Words)) + "."
		}
		rows = append(rows, [2]string{q.Key, text + " Like " + words.QuoteAll(q.Examples) + "."})
	}
	return netlist.Topic{
		Name: "draft", Words: []string{"answers", "questions", "interview"}, Meaning: "the answers that coldcheck draft takes from a file, and keeps in one",
		Notes: []string{
			`A file of answers has a line KEY = "ANSWER" a question, in any order. What is left out is asked. "don't know" is an answer to most: the set file says what is assumed then.`,
		},
		Tables:  []netlist.TopicTable{{Title: "The questions, in the order in which they are asked", Rows: rows}},
		Example: "plug = \"plain\"\nentry = \"string\"\nblade-1 = \"string\"\nblade-2 = \"switch, B-\"\ntubes = [\"35W4\", \"50C5\", \"12BE6\", \"12BA6\", \"12AV6\"]\nb-minus = \"don't know\"",
	}
}
