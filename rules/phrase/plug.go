package phrase

import (
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// PlugOf tells a plug polarity of a circuit: of a plain plug, whose blades are alike, which line is hot.
func PlugOf(c *analysis.Circuit, polarity analysis.Polarity) string {
	if !alikeBlades(c) {
		return Plug(polarity)
	}
	hot, _ := c.Blades(polarity)
	return netlist.Visible(hot) + " hot"
}

// alikeBlades reports whether a polarity is told by the line that is hot: nothing marks the plug, and one
// line alone is hot.
func alikeBlades(c *analysis.Circuit) bool {
	_, plug := c.Set.Plug()
	return plug.Style == "plain" && !c.BothHot() && !c.Floating()
}

// InWordsOf tells a text that says how a plug stands in the words of a circuit's plug.
func InWordsOf(c *analysis.Circuit, text string) string {
	if !alikeBlades(c) {
		return text
	}
	return strings.NewReplacer(Plug(analysis.AsMarked), PlugOf(c, analysis.AsMarked), Plug(analysis.Reversed), PlugOf(c, analysis.Reversed)).Replace(text)
}
