package jsonout

import (
	"reflect"
	"strings"
	"testing"
)

// TestNullableIsSaid: what may be null is so by its schema. A tag says it, and one that is left out
// would let the schema refuse what the command prints.
func TestNullableIsSaid(t *testing.T) {
	seen := map[reflect.Type]bool{}
	pointers := 0
	var check func(of reflect.Type, where string)
	check = func(of reflect.Type, where string) {
		switch of.Kind() {
		case reflect.Pointer:
			check(of.Elem(), where)
		case reflect.Slice, reflect.Array, reflect.Map:
			if of.Elem().Kind() == reflect.Pointer && ownSchema(of) == nil {
				t.Errorf("%s: a list of what may be null", where)
			}
			check(of.Elem(), where)
		case reflect.Struct:
			if seen[of] {
				return
			}
			seen[of] = true
			for i := range of.NumField() {
				f := of.Field(i)
				name := of.Name() + "." + f.Name
				said := strings.Contains(f.Tag.Get("jsonschema"), "nullable")
				if is := f.Type.Kind() == reflect.Pointer; is != said {
					t.Errorf("%s: may be null %v, and its tag says %v", name, is, said)
				} else if is {
					pointers++
				}
				check(f.Type, name)
			}
		}
	}
	for _, root := range []reflect.Type{reflect.TypeFor[Inspect](), reflect.TypeFor[statesTable](), reflect.TypeFor[Traces](),
		reflect.TypeFor[Rework](), reflect.TypeFor[Proposals](), reflect.TypeFor[Checklist](), reflect.TypeFor[Record]()} {
		check(root, root.Name())
	}
	if pointers < 20 {
		t.Errorf("only %d keys that may be null", pointers)
	}
}
