package jsonout

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"unicode/utf16"
	"unicode/utf8"

	"coldcheck/netlist"
)

// Write writes a value as indented JSON.
func Write(w io.Writer, v any) error {
	text, err := encode(v, "  ")
	if err != nil {
		return err
	}
	_, err = w.Write(text)
	return err
}

// encode gives the JSON of a value with a line end, on one line where indent is "".
func encode(v any, indent string) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", indent)
	if err := e.Encode(v); err != nil {
		return nil, err
	}
	return showAll(b.Bytes()), nil
}

// showAll spells out what a terminal would act upon or not show. Outside of strings JSON is all
// ASCII, so a \u stands where it may.
func showAll(text []byte) []byte {
	var out []byte
	done := 0
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRune(text[i:])
		if r >= 0x7F && netlist.Visible(string(r)) != string(r) {
			out = append(out, text[done:i]...)
			if high, low := utf16.EncodeRune(r); high != utf8.RuneError {
				out = fmt.Appendf(out, `\u%04x\u%04x`, high, low)
			} else {
				out = fmt.Appendf(out, `\u%04x`, r)
			}
			done = i + size
		}
		i += size
	}
	if done == 0 {
		return text
	}
	return append(out, text[done:]...)
}

// quote is a JSON string.
func quote(s string) []byte {
	text, err := encode(s, "")
	if err != nil {
		return []byte(`""`)
	}
	return bytes.TrimRight(text, "\n")
}
