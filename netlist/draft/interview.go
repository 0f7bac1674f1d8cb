package draft

import (
	"io"
	"slices"

	"coldcheck/netlist"
	"coldcheck/netlist/setfile"
)

// Interview is what was answered so far. It may be given up at any point, and loses nothing.
type Interview struct {
	given   map[string]string // the last answer to each question, also where it is asked no more
	settled answers           // those that hold; nil once one was given since
	open    []*Question
	held    answers // those that held when they were judged last
}

// New begins an interview.
func New() *Interview { return &Interview{given: map[string]string{}} }

// settle returns the answers that hold, and the questions that are open, both in order. An answer that does not
// fit those before it any more is open again.
func (i *Interview) settle() (answers, []*Question) {
	if i.settled == nil {
		i.settled, i.open = i.judged()
	}
	return i.settled, i.open
}

// judged goes through the questions and judges each answer after those before it. What held before holds as
// long as all before it is as it was.
func (i *Interview) judged() (answers, []*Question) {
	settled := answers{}
	var open []*Question
	asBefore := true
	for _, q := range questions() {
		if !q.applies(settled) {
			continue
		}
		text, given := i.given[q.Key]
		old, held := i.held[q.Key]
		switch asBefore = asBefore && held == given && old == text; {
		case asBefore && held:
			settled[q.Key] = old
			continue
		case given:
			if kept, err := q.read(settled, text); err == nil {
				settled[q.Key] = kept
				continue
			}
		}
		open = append(open, q)
	}
	i.held = settled
	return settled, open
}

// Next is the question that is to be asked, nil where all are answered.
func (i *Interview) Next() *Question {
	if _, open := i.settle(); len(open) > 0 {
		return open[0]
	}
	return nil
}

// Open are the keys of the questions that are not answered.
func (i *Interview) Open() []string {
	_, open := i.settle()
	keys := make([]string, len(open))
	for k, q := range open {
		keys[k] = q.Key
	}
	return keys
}

// Before is the question that was asked before one, nil where it is the first.
func (i *Interview) Before(q *Question) *Question {
	settled, _ := i.settle()
	var before *Question
	for _, other := range questions() {
		switch {
		case other.Key == q.Key:
			return before
		case other.applies(settled):
			before = other
		}
	}
	return before
}

// upTo are the answers that hold to the questions before one.
func (i *Interview) upTo(q *Question) answers {
	settled, _ := i.settle()
	before := answers{}
	for _, other := range questions() {
		if other.Key == q.Key {
			break
		}
		if text, ok := settled[other.Key]; ok {
			before[other.Key] = text
		}
	}
	return before
}

// Usual is the answer that stands where nothing is written: the one given before, else what is usual.
func (i *Interview) Usual(q *Question) string {
	s := i.upTo(q)
	if text, ok := i.given[q.Key]; ok {
		if kept, err := q.read(s, text); err == nil {
			return kept
		}
	}
	return q.usual(s)
}

// Shown is what is told before a question is asked, "" for nothing.
func (i *Interview) Shown(q *Question) string {
	if q.shown == nil {
		return ""
	}
	return q.shown(i.upTo(q))
}

// Words are those that an answer may be, or is made of, none where it is free.
func (i *Interview) Words(q *Question) []Word {
	if q.offered == nil {
		return q.Words
	}
	return q.offered(i.upTo(q))
}

// Examples are answers that fit those before.
func (i *Interview) Examples(q *Question) []string {
	s := i.upTo(q)
	return slices.DeleteFunc(slices.Clone(q.Examples), func(text string) bool {
		_, err := q.read(s, text)
		return err != nil
	})
}

// Answer takes an answer, and returns it as it is kept with what is to be told of it. Or it says what is wrong
// with it.
func (i *Interview) Answer(q *Question, text string) (kept, remark string, err error) {
	s := i.upTo(q)
	if text == "" {
		text = i.Usual(q)
	}
	if kept, err = q.read(s, text); err != nil {
		return "", "", err
	}
	i.given[q.Key], i.settled = kept, nil
	if q.remark != nil {
		remark = q.remark(s.with(q.Key, kept))
	}
	return kept, remark, nil
}

// Document is the set as far as it is known. Everything in it reads without a problem and without a notice.
func (i *Interview) Document() *netlist.Document {
	settled, open := i.settle()
	return build(settled).finished(open)
}

// Unknown are the keys of the questions whose answer is that a thing is not known.
func (i *Interview) Unknown() []string {
	settled, _ := i.settle()
	var unknown []string
	for _, q := range questions() {
		if settled[q.Key] == DontKnow {
			unknown = append(unknown, q.Key)
		}
	}
	return unknown
}

// Write writes the set file.
func (i *Interview) Write(w io.Writer) error { return setfile.Write(w, i.Document()) }
