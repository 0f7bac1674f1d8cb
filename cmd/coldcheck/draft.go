package main

import (
	"bufio"
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"coldcheck/analysis"
	"coldcheck/cmd/coldcheck/flags"
	"coldcheck/cmd/coldcheck/output"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist"
	"coldcheck/netlist/draft"
	"coldcheck/netlist/setfile"
	"coldcheck/rules"
)

func draftCommand(p *program) *cobra.Command {
	o := &options{}
	c := p.command(o, runDraft, &cobra.Command{
		Use:   "draft [flags] FILE",
		Short: "ask about the line side, one question after another, and write a set file of the answers",
		Long: `For a set of which the line side alone was traced. Asks in the order of the cord, from the plug to the metal that a hand can reach, judges each answer at once, writes the set file and tells in short what it shows, and what to trace next.

Enter alone takes what stands in brackets. ? tells why a thing is asked, back goes back to the question before, stop ends for now. "don't know" is an answer to most: the set file says then what is assumed, which is what hides least, and has the part as suspect.

The answers are kept in a file beside it, mine.answers.toml of mine.toml, each as soon as it is given: nothing is lost when the input ends or the program is interrupted. The same command goes on where it was. To change an answer, change its line there, or take it out to be asked again.

With --answers they are taken from another file, and only what it leaves open is asked, on the standard input, which need be no terminal. coldcheck part draft lists the questions with the keys of that file. What is wrong in it is told with line and column, all at once.

A set file that is there is overwritten only as long as it is as draft wrote it: one that was changed by hand is not, without --force.

Exit status: 0 written, 2 bad use, bad answers in a file, or interrupted.`,
		Example:           "coldcheck draft mine.toml\ncoldcheck part draft",
		Args:              oneDraft,
		ValidArgsFunction: setFiles,
	})
	c.Flags().Var(flags.Word(&o.answers, fileType), "answers", "take the answers that a file has, and ask for the others alone")
	c.Flags().BoolVar(&o.force, forceFlag, false, "overwrite a set file, and answers beside it, that are there")
	o.textFlags(c.Flags())
	return c
}

// answersSuffix ends the name of the file that keeps the answers.
const answersSuffix = ".answers" + setSuffix

const setSuffix = ".toml"

// oneDraft lets draft take the name of one file.
func oneDraft(_ *cobra.Command, args []string) error {
	switch {
	case len(args) == 0:
		return badUse("draft needs the name of the set file that it is to write")
	case len(args) > 1:
		return badUse("draft writes one set file, and here are %d: %s", len(args), netlist.Visible(strings.Join(args, ", ")))
	case args[0] == "-":
		return badUse("draft needs the name of a file; the questions go to standard output")
	case strings.HasSuffix(args[0], answersSuffix):
		return badUse("%s has the answers; name the set file, %s", netlist.Visible(args[0]), netlist.Visible(strings.TrimSuffix(args[0], answersSuffix)+setSuffix))
	}
	return nil
}

// drafting is one interview and its files.
type drafting struct {
	*call
	set, kept string
	interview *draft.Interview
	written   string // the mark of the set file as it was written last, "" where it was not
	status    int    // statusBad once something could not be shown
}

// out shows something of the interview, unless that failed before.
func (d *drafting) out(fill func(*text.Page)) {
	if d.status == statusOK {
		d.status = d.show(fill)
	}
}

// echo writes what a terminal would have from the person.
func (d *drafting) echo(line string) {
	d.out(func(p *text.Page) { p.Line(netlist.Visible(line)) })
}

func runDraft(c *call) int {
	set := c.args[0]
	d := &drafting{call: c, set: set, kept: strings.TrimSuffix(set, setSuffix) + answersSuffix, interview: draft.New()}
	if err := d.begin(); err != nil {
		c.sayProblem(err)
		return statusBad
	}
	interrupted, status := d.ask()
	if status != statusOK {
		return status
	}
	if err := d.finish(); err != nil {
		c.say(err)
		return statusBad
	}
	if interrupted {
		c.sayLine(fmt.Sprintf("interrupted; what was answered is in %s and %s; coldcheck draft %s goes on", netlist.Visible(d.set), netlist.Visible(d.kept), netlist.Visible(d.set)))
		return statusBad
	}
	return d.tell()
}

// begin reads the answers that are there, and tells what keeps the files from being written.
func (d *drafting) begin() error {
	source := d.options.answers
	if source == "" && isFile(d.kept) {
		source = d.kept
	}
	if source != "" {
		data, err := setfile.ReadFile(source, d.stdin)
		if err != nil {
			return err
		}
		if mark := writtenMark().FindSubmatch(data); mark != nil && d.isKept(source) {
			d.written = string(mark[1])
		}
		if d.interview, err = draft.Read(source, data); err != nil {
			return err
		}
	}
	if d.options.force {
		return nil
	}
	if source != "" && !d.isKept(source) {
		if err := output.MustBeFree(d.kept); err != nil {
			return fmt.Errorf("%w, or give --force", err)
		}
	}
	return d.mayOverwrite()
}

// isKept reports whether a file is the one that keeps the answers.
func (d *drafting) isKept(file string) bool { return filepath.Clean(file) == filepath.Clean(d.kept) }

// writtenWords stand before the mark of the set file where its answers are kept.
const writtenWords = "The set file as it was written: "

var writtenMark = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile("(?m)^# " + writtenWords + "([0-9a-f]+)\\.$") })

// markOf is a mark by which a set file is known again.
func markOf(set []byte) string {
	sum := sha256.Sum256(set)
	return hex.EncodeToString(sum[:8])
}

// mayOverwrite tells what keeps the set file from being written: one that is there, unless it is as it was written,
// or as the answers give it, so that nothing in it is lost.
func (d *drafting) mayOverwrite() error {
	err := output.MustBeFree(d.set)
	if err == nil {
		return nil
	}
	var b bytes.Buffer
	old, unread := os.ReadFile(d.set)
	if unread == nil && (markOf(old) == d.written || d.interview.Write(&b) == nil && bytes.Equal(old, b.Bytes())) {
		return nil
	}
	if isFile(d.kept) {
		return fmt.Errorf("%s was changed since it was drafted, and would be written anew; draft under another name, or give --force", netlist.Visible(d.set))
	}
	return fmt.Errorf("%w, or give --force", err)
}

// The words that are no answers.
const (
	askWhy = "?"
	goBack = "back"
	goHome = "stop"
)

// ask asks until all is answered, the input ends, or the program is interrupted.
func (d *drafting) ask() (interrupted bool, status int) {
	q := d.interview.Next()
	if q == nil {
		return false, statusOK
	}
	told, release := output.TakeInterrupt()
	defer release()
	enough := make(chan struct{})
	defer close(enough)
	lines := linesOf(d.stdin, enough)
	d.out(func(p *text.Page) { p.DraftHead(d.kept) })
	var asked *draft.Question
	for q != nil {
		d.out(func(p *text.Page) {
			if q != asked { // else only its answer is wanted once more
				p.Question(d.interview, q, asked == nil || q.Group != asked.Group)
			}
			p.Prompt(q, d.interview.Usual(q))
		})
		if d.status != statusOK {
			return false, d.status
		}
		asked = q
		select {
		case <-told:
			d.echo("")
			return true, statusOK
		case line, more := <-lines:
			line = strings.TrimSpace(line)
			if !more || line == goHome {
				d.echo(line)
				return false, d.status
			}
			next, err := d.take(q, line)
			if err != nil {
				d.say(err)
				return false, statusBad
			}
			q = next
		}
	}
	return false, d.status
}

// take takes a line, and returns what is to be asked next.
func (d *drafting) take(q *draft.Question, line string) (*draft.Question, error) {
	if !isTerminal(d.stdin) { // where a terminal would have it the line is shown
		d.echo(cmp.Or(line, d.interview.Usual(q)))
	}
	switch line {
	case askWhy:
		d.out(func(p *text.Page) { p.Why(q) })
		return q, nil
	case goBack:
		if before := d.interview.Before(q); before != nil {
			return before, nil
		}
		d.out(func(p *text.Page) { p.DraftRemark("this is the first question") })
		return q, nil
	}
	_, remark, err := d.interview.Answer(q, line)
	if err != nil {
		d.out(func(p *text.Page) { p.DraftRemark(err.Error()) })
		return q, nil
	}
	if remark != "" {
		d.out(func(p *text.Page) { p.DraftRemark(remark) })
	}
	return d.interview.Next(), d.keep()
}

// keep writes the answers.
func (d *drafting) keep() error {
	remarks := []string{"Answers of coldcheck draft. To change one, change its line, or take it out to be asked again; then coldcheck draft " + filepath.Base(d.set) + "."}
	if d.written != "" {
		remarks = append(remarks, writtenWords+d.written+".")
	}
	return output.WriteFile(d.kept, true, func(o *output.Output) error { return d.interview.WriteAnswers(o, remarks...) })
}

// finish writes both files.
func (d *drafting) finish() error {
	var b bytes.Buffer
	if err := d.interview.Write(&b); err != nil {
		return err
	}
	if err := output.WriteFile(d.set, true, func(o *output.Output) error { _, err := o.Write(b.Bytes()); return err }); err != nil {
		return err
	}
	d.written = markOf(b.Bytes())
	return d.keep()
}

// tell inspects what was drafted, in short, and tells what to trace.
func (d *drafting) tell() int {
	circuit, err := d.circuit(d.set)
	if err != nil {
		d.sayProblem(err)
		return statusBad
	}
	report := rules.Check(circuit, analysis.Options{Faults: analysis.DefaultFaults})
	return d.show(func(p *text.Page) {
		p.Drafted(d.set, d.kept, d.interview.Open(), d.interview.Unknown())
		p.Blank()
		p.Inspect(report, text.InspectOptions{Brief: true})
		p.TraceNext(circuit.Set)
	})
}

// linesOf reads lines until the input ends, or no more are wanted. It may be left waiting for one.
func linesOf(r io.Reader, enough <-chan struct{}) <-chan string {
	lines := make(chan string)
	go func() {
		defer close(lines)
		if r == nil {
			return
		}
		for s := bufio.NewScanner(r); s.Scan(); {
			select {
			case lines <- s.Text():
			case <-enough:
				return
			}
		}
	}()
	return lines
}

func isTerminal(r io.Reader) bool {
	f, ok := r.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}
