package draft

import (
	"fmt"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
	"coldcheck/netlist/setfile"
)

// Question is one thing that is asked.
type Question struct {
	Key      string
	Group    string // what it belongs to, as a heading
	Ask      string
	Words    []Word // where the answer is one of some words, or made of them
	Examples []string
	Why      string
	Unknown  string // what it is taken as where it is not known; "" where that is no answer

	offered func(s answers) []Word                       // which of the words an answer may be after those before it; nil for all
	usual   func(s answers) string                       // the answer that stands where nothing is written
	asked   func(s answers) bool                         // nil for always
	check   func(s answers, text string) (string, error) // gives the answer as it is kept
	shown   func(s answers) string                       // what is told before it is asked; nil for nothing
	remark  func(s answers) string                       // what is told once it is answered; nil for nothing
}

// Word is a word that an answer may be.
type Word struct {
	Word    string
	Meaning string
	also    []string // taken for it
}

// DontKnow is the answer where a thing is not known.
const DontKnow = "don't know"

// isDontKnow reports whether an answer says that a thing is not known.
func isDontKnow(text string) bool {
	switch words.FoldWord(strings.ReplaceAll(text, "’", "'")) {
	case "don'tknow", "dontknow", "donotknow", "unknown", "notknown", "nottraced", "nottracedyet", "dunno":
		return true
	}
	return false
}

// answers are those that hold, by the keys of their questions.
type answers map[string]string

func (s answers) with(key, text string) answers {
	more := make(answers, len(s)+1)
	for k, v := range s {
		more[k] = v
	}
	more[key] = text
	return more
}

// known returns an answer, false where there is none or the thing is not known.
func (s answers) known(key string) (string, bool) {
	text, ok := s[key]
	return text, ok && text != DontKnow
}

// is reports whether an answer is one of some words.
func (s answers) is(key string, oneOf ...string) bool {
	for _, w := range oneOf {
		if s[key] == w {
			return true
		}
	}
	return false
}

// or returns an answer, another text where the thing is not known.
func (s answers) or(key, otherwise string) string {
	if text, ok := s.known(key); ok {
		return text
	}
	return otherwise
}

// applies reports whether a question is asked after some answers.
func (q *Question) applies(s answers) bool { return q.asked == nil || q.asked(s) }

// read judges an answer after those before it. It returns the answer as it is kept; nothing stands for what is
// usual.
func (q *Question) read(s answers, text string) (string, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		text = q.usual(s)
	}
	switch {
	case len(text) > maxAnswer:
		return "", fmt.Errorf("the answer is longer than %d characters; shorten it", maxAnswer)
	case words.HasControl(text):
		return "", fmt.Errorf("the answer has a control character in it; write it on one line, in letters")
	case isDontKnow(text) && q.Unknown == "":
		return "", fmt.Errorf("this has to be said, if only as a guess, like %s; Enter alone takes what stands in brackets, which is %s unless another was given", q.Examples[0], q.usual(s))
	case isDontKnow(text):
		text = DontKnow
	default:
		var err error
		if text, err = q.check(s, text); err != nil {
			return "", err
		}
	}
	return text, s.with(q.Key, text).sound()
}

// maxAnswer is how long an answer may be, in bytes.
const maxAnswer = 1000

// sound tells what is wrong with the set file that some answers give, which is more than a single answer can
// show.
func (s answers) sound() error {
	set, err := setfile.Build(build(s).doc)
	if err != nil {
		first, _, _ := strings.Cut(err.Error(), "\n")
		var problems netlist.Problems
		if p, ok := err.(netlist.Problems); ok {
			problems = p
			first, _, _ = strings.Cut(problems[0].Text, "\n")
		}
		return fmt.Errorf("%s", first)
	}
	if len(set.Notices) > 0 {
		return fmt.Errorf("%s", set.Notices[0].Text)
	}
	return nil
}

// oneOf judges an answer that is one of the question's words.
func oneOf(list []Word) func(answers, string) (string, error) {
	return func(_ answers, text string) (string, error) {
		if w := findWord(list, text); w != "" {
			return w, nil
		}
		return "", noWord(list, text)
	}
}

// findWord finds the word that is meant, "" where none is.
func findWord(list []Word, text string) string {
	folded := words.FoldWord(text)
	for _, w := range list {
		for _, written := range append([]string{w.Word}, w.also...) {
			if words.FoldWord(written) == folded {
				return w.Word
			}
		}
	}
	return ""
}

func noWord(list []Word, text string) error {
	names := wordsOf(list)
	if near := words.Nearest(text, names); near != "" {
		return fmt.Errorf("%s is none of %s; did you mean %s?", words.Quote(text), words.Choices(names), near)
	}
	return fmt.Errorf("%s is none of %s", words.Quote(text), words.Choices(names))
}

func wordsOf(list []Word) []string {
	names := make([]string, len(list))
	for i, w := range list {
		names[i] = w.Word
	}
	return names
}

// always is the usual answer that hangs on no other.
func always(text string) func(answers) string { return func(answers) string { return text } }

// find returns the question of that key, nil where there is none.
func find(key string) *Question {
	for _, q := range questions() {
		if q.Key == key {
			return q
		}
	}
	return nil
}
