// Package page shows a set in a browser: one file with nothing outside it, that stands between a
// report and a person who would rather look than read.
//
// A page is made in this order:
//
//  1. routes.go finds, for each piece of metal that a hand can reach, the ways from the plug's
//     blades to it, and branches.go what stands in them.
//  2. layout.go and columns.go place their symbols, and drawing.go turns that into a picture, with
//     labels.go keeping names off the lines.
//  3. table.go reads the engine's table of states: for every plug way, switch position and fault
//     what a meter and a body find; look.go tells which of the drawn ways bring it.
//  4. bench.go makes the controls and the data behind them, lesson.go and lesson_end.go the steps that
//     teach this very set.
//  5. view.go gathers the rest of the report, checklist.go what to measure, and page.go writes it all through the template.
//
// The browser computes nothing: script.js looks up rows of the table and shows them.
package page
