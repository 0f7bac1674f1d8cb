package live

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"os"
	"path/filepath"
	"strings"

	"coldcheck/cmd/coldcheck/output"
	"coldcheck/cmd/coldcheck/reading"
	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/netlist/setfile"
	"coldcheck/rules/phrase"
)

// The endings of the files that are written beside the set file.
const (
	planEnding     = ".plan.toml"
	readingsEnding = ".readings.toml"
)

// saveAnswer tells what became of a save.
type saveAnswer struct {
	File string `json:"file"`
	// There is what a page answers with that wants the file replaced which is there already; "" where the new one
	// was written. Changed is when that was last changed.
	There   string `json:"there"`
	Changed string `json:"changed"`
	LeftOut string `json:"left_out"` // what is not in the file that was written
}

type savePlanAsked struct {
	Name    string `json:"name"`
	Steps   []step `json:"steps"`
	Replace string `json:"replace"` // what was asked about
}

func (b *Bench) answerSavePlan(e *edition, a savePlanAsked) (*saveAnswer, error) {
	data, err := e.planFile(a)
	if err != nil {
		return nil, err
	}
	return b.files.save(planEnding, a.Replace, data)
}

// planFile is the text of a plan that rework takes for the set.
func (e *edition) planFile(a savePlanAsked) ([]byte, error) {
	p, err := planOf(a.Name, a.Steps)
	switch {
	case err != nil:
		return nil, err
	case len(p.Steps) == 0:
		return nil, refuse(http.StatusUnprocessableEntity, "the plan has no steps yet")
	}
	var data bytes.Buffer
	if err := p.Write(&data); err != nil {
		return nil, refuse(http.StatusUnprocessableEntity, "%s", err.Error())
	}
	again, err := plan.Parse("", data.Bytes())
	if err == nil {
		_, err = again.ApplyAll(e.set)
	}
	if err != nil {
		return nil, refuse(http.StatusUnprocessableEntity, "rework would not take it: %s", misread(err))
	}
	return data.Bytes(), nil
}

type saveReadingsAsked struct {
	Typed   []typedReading `json:"typed"`
	Replace string         `json:"replace"`
}

func (b *Bench) answerSaveReadings(e *edition, a saveReadingsAsked) (*saveAnswer, error) {
	data, left, err := e.readingsFile(a.Typed)
	if err != nil {
		return nil, err
	}
	answer, err := b.files.save(readingsEnding, a.Replace, data)
	if err == nil {
		answer.LeftOut = left
	}
	return answer, err
}

// readingsFile is the text of readings as a set file has them. A reading with both blades tied is none that a set
// file has: it stands there as a remark.
func (e *edition) readingsFile(typed []typedReading) (data []byte, left string, err error) {
	all, says, err := e.take(typed)
	if err != nil {
		return nil, "", err
	}
	doc := e.set.Document()
	var tables []*netlist.Table
	var remarks []string
	for i := range all {
		t := &all[i]
		if t.check.Tied {
			remarks = append(remarks, reading.Remark(t.check.Measurement, t.value))
			continue
		}
		tables = append(tables, reading.Table(t.check.Measurement, t.value))
	}
	if len(all) == 0 {
		return nil, "", refuse(http.StatusUnprocessableEntity, "there is no reading yet that can be written")
	}
	doc.Readings = append(doc.Readings, tables...)
	if _, problems := setfile.Check(doc); len(problems) > 0 {
		return nil, "", refuse(http.StatusUnprocessableEntity, "no set file has such readings: %s", misread(problems))
	}
	body, err := reading.Written(tables)
	if err != nil {
		return nil, "", err
	}
	head := reading.Head(e.set)
	if len(remarks) > 0 {
		head += reading.TiedHead + strings.Join(remarks, "\n") + "\n"
	}
	n := len(typed) - len(says)
	for _, j := range says {
		if j.Verdict == reading.Misread {
			n++
		}
	}
	if n > 0 {
		left = phrase.Counted(n, "reading") + " could not be read, or is of no check of the set as it is now, and is not in it."
	}
	return []byte(head + "\n" + body), left, nil
}

// beside is a file beside the set file, named after it.
func (f *files) beside(ending string) string {
	return strings.TrimSuffix(f.set, filepath.Ext(f.set)) + ending
}

// save writes a file beside the set file: a new one, or in place of the one that a page was asked about.
func (f *files) save(ending, replace string, data []byte) (*saveAnswer, error) {
	f.saving.Lock()
	defer f.saving.Unlock()
	path := f.beside(ending)
	answer := &saveAnswer{File: netlist.Visible(filepath.Base(path))}
	info, err := os.Lstat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		replace = ""
	case err != nil:
		return nil, refuse(http.StatusConflict, "%s cannot be looked at", answer.File)
	case !info.Mode().IsRegular():
		return nil, refuse(http.StatusConflict, "%s is a link, or no plain file, and is left alone; move it out of the way", answer.File)
	case replace != stamp(info):
		answer.There, answer.Changed = stamp(info), info.ModTime().Format("2006-01-02 15:04:05")
		return answer, nil
	}
	err = output.WriteFile(path, replace != "", func(o *output.Output) error {
		_, err := o.Write(data)
		return err
	})
	if err != nil {
		return nil, refuse(http.StatusConflict, "%s", err.Error())
	}
	return answer, nil
}

// stamp tells a file from what it was before, and from another of its name.
func stamp(info fs.FileInfo) string {
	return fmt.Sprintf("%d %d", info.ModTime().UnixNano(), info.Size())
}
