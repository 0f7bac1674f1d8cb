package page

import (
	"bytes"
	"io"
	"regexp"
	"strings"
	"sync"
)

// rightToLeft finds words in letters that are written from right to left, several in a row as one, and the first such
// letter (Unicode's blocks of bidirectional class R and AL). A page's own words are English: such letters come from names.
var rightToLeft = sync.OnceValue(func() *regexp.Regexp {
	const letters = `\x{0590}-\x{08FF}\x{FB1D}-\x{FDFF}\x{FE70}-\x{FEFC}\x{10800}-\x{10FFF}\x{1E800}-\x{1EFFF}`
	return regexp.MustCompile(`[` + letters + `](?:[` + letters + `\pM0-9 _-]*[` + letters + `\pM])?`)
})

// First strong isolate, and its end (Unicode Standard Annex 9): what bdi is where no element can stand.
const (
	isolate    = "\u2068"
	endIsolate = "\u2069"
)

// execute writes a template. Names that are written from right to left are set apart from the sentences that they stand
// in, which would else have their figures and stops moved to the wrong side of them.
func execute(w io.Writer, name string, data any) error {
	var b bytes.Buffer
	if err := pageTemplate().ExecuteTemplate(&b, name, data); err != nil {
		return err
	}
	_, err := w.Write(Apart(b.Bytes()))
	return err
}

// Apart sets words in letters that are written from right to left apart: in text by bdi, in titles, options, drawings
// and the table of states by isolates. What scripts hand out again, and attributes, stay as they are.
func Apart(html []byte) []byte {
	if !rightToLeft().Match(html) {
		return html
	}
	var out bytes.Buffer
	tag := ""
	for len(html) > 0 {
		end := bytes.IndexByte(html, '<')
		if name, _, _ := strings.Cut(tag, " "); name == "script" || name == "style" {
			end = bytes.Index(html, []byte("</"+name))
		}
		if end < 0 {
			end = len(html)
		}
		out.Write(apartIn(tag, html[:end]))
		html = html[end:]
		if end = bytes.IndexByte(html, '>'); end < 0 {
			end = len(html) - 1
		}
		if len(html) > 0 {
			out.Write(html[:end+1])
			tag = strings.Trim(string(html[:end+1]), "<>")
			html = html[end+1:]
		}
	}
	return out.Bytes()
}

// apartIn is Apart of the text behind a tag.
func apartIn(tag string, text []byte) []byte {
	name, attributes, _ := strings.Cut(tag, " ")
	before, after := "<bdi>", "</bdi>"
	switch name {
	case "bdi", "style", "textarea", "input":
		return text
	case "script":
		if !strings.Contains(attributes, `class="table"`) {
			return text
		}
		before, after = isolate, endIsolate
	case "title", "option", "text":
		before, after = isolate, endIsolate
	}
	return rightToLeft().ReplaceAll(text, []byte(before+"$0"+after))
}
