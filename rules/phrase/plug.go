package phrase

import (
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// PlugOf tells a plug polarity of a circuit. Nothing marks a plain plug: of it is told which line is hot, or,
// where neither leg is the one hot one, only which of its two ways it is in.
func PlugOf(c *analysis.Circuit, polarity analysis.Polarity) string {
	switch {
	case marked(c):
		return Plug(polarity)
	case !c.BothHot() && !c.Floating():
		hot, _ := c.Blades(polarity)
		return netlist.Visible(hot) + " hot"
	case polarity == analysis.Reversed:
		return "plug the other way round"
	}
	return "plug one way round"
}

// Stands is PlugOf below a heading that says plug: "as marked", "line 1 hot".
func Stands(c *analysis.Circuit, polarity analysis.Polarity) string {
	return strings.TrimPrefix(PlugOf(c, polarity), "plug ")
}

// marked reports whether a circuit's plug tells its blades apart.
func marked(c *analysis.Circuit) bool {
	_, plug := c.Set.Plug()
	return plug.Style != "plain"
}

// InWordsOf tells a text that says how a plug stands in the words of a circuit's plug. Every report, sheet and
// page has its texts go through here; JSON keeps the one wording for all plugs.
func InWordsOf(c *analysis.Circuit, text string) string {
	if marked(c) {
		return text
	}
	return strings.NewReplacer(Plug(analysis.AsMarked), PlugOf(c, analysis.AsMarked), Plug(analysis.Reversed), PlugOf(c, analysis.Reversed)).Replace(text)
}
