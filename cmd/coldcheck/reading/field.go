package reading

import (
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// Field is what a script needs to judge what is typed for one check, and to give it out. The keys are those of the
// page's script.
type Field struct {
	Quantity diagnose.Quantity `json:"q"`
	Low      float64           `json:"l"`
	High     float64           `json:"h"`
	Lower    string            `json:"lo,omitempty"` // what would make it lower, where anything would
	Higher   string            `json:"hi,omitempty"` // what would make it higher, where anything would
	Table    string            `json:"t,omitempty"`  // its table in a set file, but for its head and what the meter showed
	Tied     string            `json:"ti,omitempty"` // it has no table: what is measured, in words
	To       string            `json:"to,omitempty"` // where the other lead goes, where one line stands for several checks
}

// FieldOf is the field of a check of a circuit.
func FieldOf(circuit *analysis.Circuit, c diagnose.Check) (Field, error) {
	f := Field{Quantity: c.Quantity, Low: c.Low, High: c.High, Lower: causes(circuit, c.Lower), Higher: causes(circuit, c.Higher)}
	if c.Tied {
		f.Tied = phrase.Measurement(c.Measurement)
		return f, nil
	}
	text, err := Written([]*netlist.Table{where(c.Measurement)})
	_, f.Table, _ = strings.Cut(text, "\n")
	f.Table = strings.TrimSpace(f.Table)
	return f, err
}

// Spelling is how figures of a quantity are typed, for a script that reads them.
type Spelling struct {
	Unit   string   `json:"unit"`   // as it stands beside a field
	Sample string   `json:"sample"` // how a figure may be written
	Words  []string `json:"words"`  // the unit's own, in lower case
	Scale  float64  `json:"scale"`  // of a figure with a unit, to what a set file has
	Most   float64  `json:"most"`   // what is taken at the most
	Open   []string `json:"open"`   // words for a meter that shows nothing
	Shows  float64  `json:"shows"`  // and how much that is
	Signed bool     `json:"signed"` // it may be negative
}

// SpellingsOf are those of the quantities of some fields.
func SpellingsOf(fields []Field) map[diagnose.Quantity]Spelling {
	all := map[diagnose.Quantity]Spelling{}
	for _, f := range fields {
		q := f.Quantity
		unit := keyOf(q).Unit
		s := Spelling{Unit: UnitOf[q], Sample: sample(q), Words: unit.Words(), Scale: 1, Most: most(q),
			Open: []string{}, Signed: q == diagnose.VoltsDCRead}
		if q == diagnose.MilliampsRead {
			s.Scale = 1e3
		}
		if q == diagnose.OhmsRead {
			s.Open, s.Shows = openWords, diagnose.OhmsRange
		}
		all[q] = s
	}
	return all
}
