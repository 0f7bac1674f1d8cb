package reading

import (
	"bytes"
	"cmp"
	"encoding/json"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/netlist"
	"coldcheck/netlist/setfile"
	"coldcheck/rules/phrase"
)

// ID names a measurement by what is measured: the same whatever else the set's file says.
func ID(m diagnose.Measurement) string {
	id, err := json.Marshal([]any{m.A, m.B, m.Quantity, m.Plug, m.Tied, m.Settings, away(m.Controls), m.MeterOhms})
	if err != nil {
		return phrase.Measurement(m) // not with figures that are numbers
	}
	return string(id)
}

// away are the controls that are not at rest.
func away(controls []analysis.Setting) []analysis.Setting {
	return slices.DeleteFunc(slices.Clone(controls), func(x analysis.Setting) bool { return x.At == analysis.Middle || x.At == analysis.Full })
}

// Table is a reading as a set file has it. One with both blades tied is none that a set file has: Remark tells it.
func Table(m diagnose.Measurement, value float64) *netlist.Table {
	table := where(m)
	table.Set(netlist.Keys(string(m.Quantity), value).Entries[0])
	return table
}

// where is all of a reading's table but what the meter showed.
func where(m diagnose.Measurement) *netlist.Table {
	table := netlist.Keys("at", []string{m.A, m.B}, "plug", cmp.Or(string(m.Plug), "out"))
	set := func(key string, stand []analysis.Setting) {
		if len(stand) == 0 {
			return
		}
		stood := netlist.Keys()
		for _, x := range stand {
			stood.Set(netlist.Keys(x.Name, x.At).Entries[0])
		}
		table.Set(netlist.Entry{Key: key, Value: netlist.Value{Data: stood}})
	}
	set("switches", m.Settings)
	set("controls", away(m.Controls))
	if len(m.Pulled) > 0 {
		table.Set(netlist.Keys("pulled", m.Pulled).Entries[0])
	}
	if m.Quantity == diagnose.VoltsRead || m.Quantity == diagnose.VoltsDCRead {
		table.Set(netlist.Keys("meter", m.MeterOhms).Entries[0])
	}
	return table
}

// Remark tells a reading with both blades tied.
func Remark(m diagnose.Measurement, value float64) string {
	return "# " + phrase.Measurement(m) + ": " + phrase.Meter(m.Quantity, value)
}

// Written is the text of some readings, as they are put at the end of a set file.
func Written(tables []*netlist.Table) (string, error) {
	var out bytes.Buffer
	if err := setfile.Write(&out, &netlist.Document{Readings: tables}); err != nil {
		return "", err
	}
	_, body, _ := strings.Cut(out.String(), "\n") // the version is that of the set file that they go into
	return strings.TrimLeft(body, "\n"), nil
}

// Head begins a file of readings of a set; TiedHead stands before remarks.
func Head(set *netlist.Set) string {
	return "# Readings of " + netlist.Visible(set.Name) + ", to be put at the end of its set file.\n"
}

// TiedHead stands before the remarks of readings with both blades tied.
const TiedHead = "# With both blades tied, which no reading of a set file is:\n"
