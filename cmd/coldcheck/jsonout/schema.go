package jsonout

import (
	"reflect"
	"strings"
)

// Schema is a JSON Schema, or a part of one.
type Schema = map[string]any

// schemaDraft is the version of JSON Schema that the schemas keep to.
const schemaDraft = "https://json-schema.org/draft/2020-12/schema"

// SchemaOf is the JSON Schema (2020-12) of what a command prints as JSON; nil of a command that
// prints none. Every key of this version is required, and keys that it does not name are let
// through: in time some may be added.
func SchemaOf(command string) Schema {
	d := &deriver{defs: Schema{}}
	var root Schema
	title := "what coldcheck " + command + " --format json prints"
	switch command {
	case "inspect": // one set, or a list of several
		one := d.of(reflect.TypeFor[Inspect]())
		root = Schema{"anyOf": []any{one, Schema{"type": "array", "items": one}}}
	case "states":
		root = d.of(reflect.TypeFor[statesTable]())
	case "trace":
		root = d.of(reflect.TypeFor[Traces]())
	case "rework": // with a plan or two sets, or with --propose
		root = Schema{"anyOf": []any{d.of(reflect.TypeFor[Rework]()), d.of(reflect.TypeFor[Proposals]())}}
	case "checklist":
		root = d.of(reflect.TypeFor[Checklist]())
	default:
		return nil
	}
	root["$schema"], root["title"], root["$defs"] = schemaDraft, title, d.defs
	return root
}

// SchemaCommands are the commands that print JSON, in the order of help.
var SchemaCommands = []string{"inspect", "states", "trace", "rework", "checklist"}

// The table of states is written row by row; these are the shapes of what is written.
type (
	statesTable struct {
		Format int         `json:"format"`
		Set    Set         `json:"set"`
		States []statesRow `json:"states"`
	}
	statesRow struct {
		Plug      string            `json:"plug"`
		Switches  map[string]string `json:"switches"`
		Rectifier string            `json:"rectifier"`
		Faults    []Fault           `json:"faults"`
		Cleared   bool              `json:"cleared"`
		Points    []statesReading   `json:"points"`
	}
	statesReading struct {
		Node        string  `json:"node"`
		VoltsOpen   float64 `json:"volts_open"`
		VoltsMeter  float64 `json:"volts_meter"`
		Milliamps   float64 `json:"milliamps"`
		VoltsDC     float64 `json:"volts_dc"`
		MilliampsDC float64 `json:"milliamps_dc"`
	}
)

// deriver makes schemas of the types that are written, so that the two cannot differ.
type deriver struct{ defs Schema }

// of is the schema of a type: of a struct a reference, its definition among the others.
func (d *deriver) of(t reflect.Type) Schema {
	switch t.Kind() {
	case reflect.Pointer:
		return Schema{"anyOf": []any{d.of(t.Elem()), Schema{"type": "null"}}}
	case reflect.Slice:
		return Schema{"type": "array", "items": d.of(t.Elem())}
	case reflect.Array:
		return Schema{"type": "array", "items": d.of(t.Elem()), "minItems": t.Len(), "maxItems": t.Len()}
	case reflect.Map:
		return Schema{"type": "object", "additionalProperties": d.of(t.Elem())}
	case reflect.Struct:
		name := strings.ToLower(t.Name()[:1]) + t.Name()[1:]
		if d.defs[name] == nil {
			s := Schema{"type": "object"}
			d.defs[name] = s
			properties := Schema{}
			var required []string
			d.fields(t, t.Name(), properties, &required)
			s["properties"], s["required"] = properties, required
		}
		return Schema{"$ref": "#/$defs/" + name}
	case reflect.Bool:
		return Schema{"type": "boolean"}
	case reflect.Int:
		return Schema{"type": "integer"}
	case reflect.Float64:
		return Schema{"type": "number"}
	}
	return Schema{"type": "string"}
}

// fields adds the keys of a struct, those of the structs in it that have no name of their own among
// them.
func (d *deriver) fields(t reflect.Type, owner string, properties Schema, required *[]string) {
	for i := range t.NumField() {
		f := t.Field(i)
		if f.Anonymous {
			d.fields(f.Type, f.Type.Name(), properties, required)
			continue
		}
		key, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		s := d.of(f.Type)
		if words := choices[owner+"."+key]; words != nil {
			s = Schema{"enum": words}
		}
		if key == "format" {
			s = Schema{"const": Format}
		}
		s["description"] = meaning(owner, key)
		properties[key] = s
		if options != "omitempty" {
			*required = append(*required, key)
		}
	}
}
