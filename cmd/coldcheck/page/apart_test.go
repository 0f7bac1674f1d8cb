package page

import "testing"

// Words from right to left are set apart in text, by isolates where no element can stand, and left alone where scripts
// hand them out again, in attributes and where they stand apart already.
func TestApart(t *testing.T) {
	for _, test := range []struct{ html, want string }{
		{`<p>chassis: 60.4 mA.</p>`, `<p>chassis: 60.4 mA.</p>`},
		{`<p>שלדה: 60.4 mA.</p>`, `<p><bdi>שלדה</bdi>: 60.4 mA.</p>`},
		{`<p>שלדה 2 ישנה and ברג, 1 mA</p>`, `<p><bdi>שלדה 2 ישנה</bdi> and <bdi>ברג</bdi>, 1 mA</p>`},
		{`<p><bdi>شاسيه</bdi> is live, شاسيه</p>`, `<p><bdi>شاسيه</bdi> is live, <bdi>شاسيه</bdi></p>`},
		{`<title>שלדה: 5</title>`, "<title>\u2068שלדה\u2069: 5</title>"},
		{`<option value="שלדה">שלדה 5</option>`, "<option value=\"שלדה\">\u2068שלדה\u2069 5</option>"},
		{`<svg><text x="1">שלדה</text></svg>`, "<svg><text x=\"1\">\u2068שלדה\u2069</text></svg>"},
		{`<script type="application/json" class="table">{"a":"שלדה 5<"}</script><p>ברג</p>`, "<script type=\"application/json\" class=\"table\">{\"a\":\"\u2068שלדה\u2069 5<\"}</script><p><bdi>ברג</bdi></p>"},
		{`<script type="application/json" class="fields">["שלדה"]</script>`, `<script type="application/json" class="fields">["שלדה"]</script>`},
		{`<style>/* שלדה */</style>ברג`, `<style>/* שלדה */</style><bdi>ברג</bdi>`},
		{`שלדה <`, `<bdi>שלדה</bdi> <`},
	} {
		if got := string(Apart([]byte(test.html))); got != test.want {
			t.Errorf("%s\ngives %s\nwant  %s", test.html, got, test.want)
		}
	}
}
