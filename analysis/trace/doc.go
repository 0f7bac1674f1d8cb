// Package trace sets the paths to a node beside what the solution says of it: the paths say how current may
// come, the figures how much.
//
// trace.go lists all paths of a state from where one asks, fewest safeguards first, and says where they and the
// figures do not agree; fewest.go takes the one with the fewest safeguards of any state. share.go gives each of
// several paths its share of the current into a body, and foremost.go chooses by it the one that a finding
// tells: the path that carries the most, by a part or past all safeguards, and what carries some of it beside.
package trace
