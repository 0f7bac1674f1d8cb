package jsonout

import (
	"coldcheck/analysis/diagnose"
	"coldcheck/rules/record"
	"coldcheck/rules/rework"
)

// Record is a job on a set.
type Record struct {
	Format version `json:"format" jsonschema_description:"the version of this JSON"`
	Set    Set     `json:"set" jsonschema_description:"the set as it was found"`
	After  Set     `json:"after" jsonschema_description:"the set as it is now"`
	Plan   string  `json:"plan" jsonschema_description:"what the plan is for, empty where two sets are compared"`

	AsFound  []InShort       `json:"as_found" jsonschema_description:"the set as found: a row for each piece of metal, worst first"`
	Steps    []RecordStep    `json:"steps" jsonschema_description:"what was done, in its order"`
	Readings []RecordReading `json:"readings" jsonschema_description:"the readings of both files, then the hot check of the set as it is now"`
	Now      []InShort       `json:"now" jsonschema_description:"the set as it is now: a row for each piece of metal, worst first"`
	Left     []Finding       `json:"left" jsonschema_description:"what was found of the set as it is now, strongest first"`
	Owner    []string        `json:"owner" jsonschema_description:"what the owner has to know, the most pressing first"`
	Cautions []string        `json:"cautions" jsonschema_description:"what those who work on it take care of"`
}

// RecordStep is a thing that was done.
type RecordStep struct {
	Step int    `json:"step" jsonschema_description:"the number of the step"`
	Do   string `json:"do" jsonschema_description:"what was done, in the word of a plan"`
	Part string `json:"part" jsonschema_description:"the part, or the node that was marked"`
	Text string `json:"text" jsonschema_description:"in words, with value and class"`
}

// RecordReading is a reading that was taken, or one of the hot check, to be taken.
type RecordReading struct {
	ReadingAt
	AsFound bool     `json:"as_found" jsonschema_description:"it is of the set as found"`
	Expect  *float64 `json:"expect" jsonschema:"nullable" jsonschema_description:"the figure to expect; null where the meter shows open"`
	Low     *float64 `json:"low" jsonschema:"nullable" jsonschema_description:"the least that is still right; null of a reading that was taken"`
	High    *float64 `json:"high" jsonschema:"nullable" jsonschema_description:"the most that is still right; null of a reading that was taken"`
	Taken   bool     `json:"taken" jsonschema_description:"a file has it"`
	Read    *float64 `json:"read" jsonschema:"nullable" jsonschema_description:"what the meter showed; null where open, or not taken"`
	Agrees  *bool    `json:"agrees" jsonschema:"nullable" jsonschema_description:"it is as the wiring described gives it; null where it was not taken"`
	Bar     string   `json:"bar" jsonschema_description:"why it must not be taken, empty where it may"`
}

// OfRecord puts a record into the shape of its JSON.
func OfRecord(r *record.Record) *Record {
	before, after := r.Before.Case.Circuit, r.After.Case.Circuit
	out := &Record{
		Format: Format, Set: setOf(before, ""), After: setOf(after, ""), AsFound: inShortOf(r.AsFound), Now: inShortOf(r.Now),
		Steps: []RecordStep{}, Readings: []RecordReading{}, Left: []Finding{}, Owner: some(r.Owner), Cautions: some(r.Cautions),
	}
	if r.Plan != nil {
		out.Plan = r.Plan.Name
	}
	for _, s := range r.Steps {
		out.Steps = append(out.Steps, RecordStep{s.Number, s.Do, s.Part, s.Text})
	}
	for i := range r.Readings {
		out.Readings = append(out.Readings, recordReading(&r.Readings[i]))
	}
	for i := range r.Left {
		out.Left = append(out.Left, leftOf(r, &r.Left[i]))
	}
	return out
}

// leftOf is a finding that is left: one that a set off the line tells no more is of the set as it was.
func leftOf(r *record.Record, i *rework.Item) Finding {
	if i.Unseen {
		return findingOf(r.Before.Case.Circuit, &i.Finding)
	}
	return findingOf(r.After.Case.Circuit, &i.Finding)
}

func recordReading(x *record.Reading) RecordReading {
	out := RecordReading{ReadingAt: readingAt(x.Measurement), AsFound: x.AsFound, Expect: onMeter(x.Quantity, x.Expect), Taken: x.Taken, Bar: string(x.Bar)}
	if x.Taken {
		agrees := x.Agrees()
		out.Read, out.Agrees = onMeter(x.Quantity, x.Read), &agrees
		return out
	}
	out.Low, out.High = onMeter(diagnose.VoltsRead, x.Low), onMeter(diagnose.VoltsRead, x.High)
	return out
}
