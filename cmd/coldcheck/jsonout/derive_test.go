package jsonout

import (
	"flag"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/invopop/jsonschema"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

var update = flag.Bool("update", false, "write the schemas anew, from the types that are written")

// TestSchemasAreOfTheTypes: the schemas that the program prints are those of the types that it writes.
func TestSchemasAreOfTheTypes(t *testing.T) {
	for _, command := range SchemaCommands {
		want, err := encode(derived(command), "  ")
		if err != nil {
			t.Fatal(err)
		}
		if *update {
			if err := os.WriteFile(filepath.Join("schemas", command+".json"), want, 0o666); err != nil {
				t.Fatal(err)
			}
			continue
		}
		if diff := cmp.Diff(string(want), string(SchemaOf(command))); diff != "" {
			t.Errorf("%s (-types +printed; go test ./cmd/coldcheck/jsonout -update writes it anew):\n%s", command, diff)
		}
	}
}

// Schema is a JSON Schema, or a part of one.
type Schema = jsonschema.Schema

// derived is the schema of what a command prints, from the types that are written; nil of a command that prints none.
func derived(command string) *Schema {
	d := derivation{defs: jsonschema.Definitions{}}
	var root *Schema
	switch command {
	case "inspect": // one set, or a list of several
		one := d.of(reflect.TypeFor[Inspect]())
		root = &Schema{AnyOf: []*Schema{one, {Type: "array", Items: one}}}
	case "states":
		root = d.of(reflect.TypeFor[statesTable]())
	case "trace":
		root = d.of(reflect.TypeFor[Traces]())
	case "rework": // with a plan or two sets, or with --propose
		root = &Schema{AnyOf: []*Schema{d.of(reflect.TypeFor[Rework]()), d.of(reflect.TypeFor[Proposals]())}}
	case "record":
		root = d.of(reflect.TypeFor[Record]())
	case "checklist":
		root = d.of(reflect.TypeFor[Checklist]())
		d.of(reflect.TypeFor[WorkingNode]()) // which ownSchema refers to
	default:
		return nil
	}
	root.Version, root.Title, root.Definitions = jsonschema.Version, "what coldcheck "+command+" --format json prints", d.defs
	return root
}

// The table of states is written row by row; these are the shapes of what is written.
type (
	statesTable struct {
		Format version     `json:"format" jsonschema_description:"the version of this JSON"`
		Set    Set         `json:"set" jsonschema_description:"the set that was looked at, and the bench"`
		States []statesRow `json:"states" jsonschema_description:"every state"`
	}
	statesRow struct {
		Plug      plugPolarity      `json:"plug" jsonschema_description:"how the plug stands in the outlet"`
		Switches  map[string]string `json:"switches" jsonschema_description:"each switch and selector, and how it stands"`
		Controls  map[string]string `json:"controls,omitempty" jsonschema_description:"each potentiometer, and where it is turned to"`
		Rectifier string            `json:"rectifier" jsonschema_description:"the rectifier taken as conducting, empty where all block"`
		Faults    []Fault           `json:"faults" jsonschema_description:"what had gone wrong"`
		Cleared   bool              `json:"cleared" jsonschema_description:"a breaker opens: the figures are those before"`
		Points    []statesReading   `json:"points" jsonschema_description:"each touch point"`
	}
	statesReading struct {
		Node        string  `json:"node" jsonschema_description:"the node's name"`
		VoltsOpen   float64 `json:"volts_open" jsonschema_description:"V AC rms with nothing connected"`
		VoltsMeter  float64 `json:"volts_meter" jsonschema_description:"V AC on a meter of 10 MΩ"`
		Milliamps   float64 `json:"milliamps" jsonschema_description:"mA AC through the body network of IEC 60990"`
		VoltsDC     float64 `json:"volts_dc" jsonschema_description:"V DC with nothing connected"`
		MilliampsDC float64 `json:"milliamps_dc" jsonschema_description:"mA DC through 2000 Ω"`
	}
)

// derivation makes schemas of the types that are written, so that the two cannot differ.
type derivation struct{ defs jsonschema.Definitions }

// of is a reference to the schema of a type, whose definition goes among the others.
func (d derivation) of(t reflect.Type) *Schema {
	r := jsonschema.Reflector{Anonymous: true, AllowAdditionalProperties: true, Mapper: ownSchema, Namer: definitionName}
	s := r.ReflectFromType(t)
	for name, def := range s.Definitions {
		describeNullable(def)
		d.defs[name] = def
	}
	return &Schema{Ref: s.Ref}
}

// definitionName is a type's name as keys are written.
func definitionName(t reflect.Type) string {
	if t.Kind() != reflect.Struct {
		return ""
	}
	return strings.ToLower(t.Name()[:1]) + t.Name()[1:]
}

// ownSchema is the schema of a type that says more than its Go type does, nil of any other.
func ownSchema(t reflect.Type) *Schema {
	switch t {
	case reflect.TypeFor[version]():
		return &Schema{Const: Format}
	case reflect.TypeFor[figures](): // a tag speaks of the list, not of what is in it
		return &Schema{Type: "array", Items: &Schema{OneOf: []*Schema{{Type: "number"}, {Type: "null"}}}}
	}
	if t == reflect.TypeFor[workingNodes]() {
		node := &Schema{Ref: "#/$defs/" + definitionName(reflect.TypeFor[WorkingNode]())}
		return &Schema{Type: "object", AdditionalProperties: &Schema{OneOf: []*Schema{node, {Type: "null"}}}}
	}
	words, is := choices[t]
	if !is {
		return nil
	}
	s := &Schema{}
	for _, word := range words {
		s.Enum = append(s.Enum, word)
	}
	return s
}

// describeNullable puts what is said of a key that may be null at the key itself, where editors look
// for it: jsonschema puts it at the alternative that is not null.
func describeNullable(def *Schema) {
	if def.Properties == nil {
		return
	}
	for pair := def.Properties.Oldest(); pair != nil; pair = pair.Next() {
		if p := pair.Value; len(p.OneOf) > 0 {
			p.Description, p.OneOf[0].Description = p.OneOf[0].Description, ""
		}
	}
}

// choices are the words of the keys that take one of some.
var choices = map[reflect.Type][]string{
	reflect.TypeFor[caseWord]():     {diagnose.CaseSound, diagnose.CaseReservoirShorted, diagnose.CaseStringOpen},
	reflect.TypeFor[plugPolarity](): {string(analysis.AsMarked), string(analysis.Reversed)},
	reflect.TypeFor[plugOrOut]():    {string(analysis.AsMarked), string(analysis.Reversed), unplugged},
	reflect.TypeFor[quantity]():     {string(diagnose.VoltsRead), string(diagnose.VoltsDCRead), string(diagnose.OhmsRead), string(diagnose.MilliampsRead)},
	reflect.TypeFor[signalWord]():   {"DANGER", "WARNING", "CAUTION", "NOTICE"},
	reflect.TypeFor[shortWord]():    {"DANGER", "WARNING", "CAUTION", "NOTICE", phrase.Band(analysis.UnderLimit)},
	reflect.TypeFor[touchKind]():    netlist.TouchKinds,
	reflect.TypeFor[guardKind]():    append([]string{""}, netlist.GuardKinds...),
	reflect.TypeFor[lineSide]():     {"hot", "neutral", ""},
	reflect.TypeFor[disagreement](): {"", "cannot-carry", "carries-yet", "no-path"},
	reflect.TypeFor[valueUnit]():    {"", string(netlist.Ohm), string(netlist.Farad)},
	reflect.TypeFor[faultKind](): {string(analysis.Shorted), string(analysis.InsulationOut), string(analysis.HeaterCathode), string(analysis.Open), string(analysis.Pulled),
		string(analysis.Stuck), string(analysis.NeutralLost), string(analysis.EarthLost), string(analysis.GuardOff)},
	reflect.TypeFor[explanationKind](): {string(diagnose.AsDescribed), string(diagnose.FaultsInSet), string(diagnose.PlugReversed), string(diagnose.SwitchMoved),
		string(diagnose.EndsSwapped), string(diagnose.ConnectionOff), string(diagnose.StatedAbsent), string(diagnose.OtherValue), string(diagnose.Leaks), string(diagnose.DriedOut), string(diagnose.WeakTube), string(diagnose.WrongType)},
}
