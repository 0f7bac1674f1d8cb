package jsonout

import (
	"bytes"
	"errors"
	"io"
	"math"
	"strconv"

	"coldcheck/analysis"
)

// States writes the table of states row by row: what it holds does not grow with their number.
type States struct {
	w      io.Writer
	points []statesPoint
	line   []byte
	began  bool
	bad    bool // a figure is no number
	faults map[*analysis.Fault][]byte
	words  map[string][]byte // as JSON: names and positions come in every row
}

type statesPoint struct {
	index int // in Row.Readings
	head  []byte
}

// NewStates begins the table. points are those to write, by their index in Circuit.Points.
func NewStates(w io.Writer, c *analysis.Circuit, supply string, points []int) (*States, error) {
	s := &States{w: w, faults: map[*analysis.Fault][]byte{}, words: map[string][]byte{}}
	for _, k := range points {
		head := append([]byte(`      {"node": `), quote(c.Points[k].Name)...)
		s.points = append(s.points, statesPoint{k, head})
	}
	set, err := encode(setOf(c, supply), "  ")
	if err != nil {
		return nil, err
	}
	set = bytes.ReplaceAll(bytes.TrimRight(set, "\n"), []byte("\n"), []byte("\n  "))
	head := []byte("{\n  \"format\": ")
	head = strconv.AppendInt(head, Format, 10)
	head = append(head, ",\n  \"set\": "...)
	head = append(head, set...)
	head = append(head, ",\n  \"states\": ["...)
	_, err = w.Write(head)
	return s, err
}

// Row writes one row.
func (s *States) Row(row analysis.Row) error {
	b := s.line[:0]
	if s.began {
		b = append(b, ',')
	}
	s.began = true
	b = append(b, "\n    {\"plug\": "...)
	b = append(b, s.word(string(row.State.Plug))...)
	b = append(b, `, "switches": {`...)
	b = append(s.settings(b, row.State.Settings), '}')
	if len(row.State.Controls) > 0 {
		b = append(b, `, "controls": {`...)
		b = append(s.settings(b, row.State.Controls), '}')
	}
	b = append(b, `, "rectifier": `...)
	b = append(b, s.word(row.State.Rectifier)...)
	b = append(b, `, "faults": [`...)
	for i, f := range row.State.Faults {
		b = comma(b, i)
		b = append(b, s.fault(f)...)
	}
	b = append(b, `], "cleared": `...)
	b = strconv.AppendBool(b, row.Cleared)
	b = append(b, `, "points": [`...)
	for i, p := range s.points {
		if i > 0 {
			b = append(b, ',')
		}
		r := row.Readings[p.index]
		b = append(b, '\n')
		b = append(b, p.head...)
		b = s.figure(b, "volts_open", r.VoltsOpen)
		b = s.figure(b, "volts_meter", r.VoltsMeter)
		b = s.figure(b, "milliamps", r.Milliamps)
		b = s.figure(b, "volts_dc", r.VoltsDC)
		b = s.figure(b, "milliamps_dc", r.MilliampsDC)
		b = append(b, '}')
	}
	b = append(b, "]}"...)
	s.line = b
	if s.bad {
		return errNoNumber
	}
	_, err := s.w.Write(b)
	return err
}

// settings writes where switches or controls stand.
func (s *States) settings(b []byte, all []analysis.Setting) []byte {
	for i, x := range all {
		b = comma(b, i)
		b = append(b, s.word(x.Name)...)
		b = append(b, ": "...)
		b = append(b, s.word(x.At)...)
	}
	return b
}

// errNoNumber is an answer that cannot be written, and must not be taken for 0.
var errNoNumber = errors.New("a figure came out as no number")

// Close ends the table.
func (s *States) Close() error {
	end := "\n  ]\n}\n"
	if !s.began {
		end = "]\n}\n"
	}
	_, err := io.WriteString(s.w, end)
	return err
}

func comma(b []byte, i int) []byte {
	if i > 0 {
		return append(b, ", "...)
	}
	return b
}

func (s *States) figure(b []byte, name string, x float64) []byte {
	b = append(b, `, "`...)
	b = append(b, name...)
	b = append(b, `": `...)
	s.bad = s.bad || math.IsNaN(x) || math.IsInf(x, 0)
	if math.Abs(x) < nothing {
		return append(b, '0')
	}
	return strconv.AppendFloat(b, round(x), 'f', -1, 64)
}

// word is the JSON of a word of the states.
func (s *States) word(word string) []byte {
	text, ok := s.words[word]
	if !ok {
		text = quote(word)
		s.words[word] = text
	}
	return text
}

// fault is a fault's JSON on one line. There are few faults, and each comes often.
func (s *States) fault(f *analysis.Fault) []byte {
	if text, ok := s.faults[f]; ok {
		return text
	}
	text := append([]byte(`{"part": `), quote(f.Part)...)
	text = append(text, `, "fault": `...)
	text = append(text, quote(string(f.Kind))...)
	if f.Between != nil {
		text = append(text, `, "between": [`...)
		for i, node := range f.Between {
			text = append(comma(text, i), quote(node)...)
		}
		text = append(text, ']')
	}
	text = append(text, '}')
	s.faults[f] = text
	return text
}
