package words

import (
	"fmt"
	"strings"
	"testing"
)

func TestLists(t *testing.T) {
	many := make([]string, 14)
	for i := range many {
		many[i] = fmt.Sprint(i)
	}
	for _, tt := range []struct{ got, want string }{
		{Choices(nil), ""}, {Choices([]string{"a"}), "a"}, {Choices([]string{"a", "b"}), "a or b"}, {And([]string{"a", "b", "c"}), "a, b and c"},
		{Count(1, "point"), "1 point"}, {Count(3, "point"), "3 points"},
		{QuoteAll([]string{"a", "b"}), `"a" or "b"`},
		{QuoteAll(many[:12]), `"0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "10" or "11"`},
		{QuoteAll(many[:13]), `"0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "11" and 1 more`},
		{Some(many[:12]), "0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11"}, {Some(many), "0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11 and 2 more"},
		{Quote("a\u202eb"), `"a\u202eb"`}, {Meant("", "else"), "else"}, {Meant("R1", "else"), `did you mean "R1"?`},
	} {
		if tt.got != tt.want {
			t.Errorf("got %s, want %s", tt.got, tt.want)
		}
	}
}

// TestShorten: a word of 70 characters is repeated whole, one of 71 is cut behind the 70th.
func TestShorten(t *testing.T) {
	whole := strings.Repeat("Ω", 70)
	if got := Shorten(whole); got != whole {
		t.Errorf("got %s", got)
	}
	if got := Shorten(whole + "x"); got != whole+"…" {
		t.Errorf("got %s", got)
	}
}
