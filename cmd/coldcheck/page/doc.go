// Package page shows a set in a browser: one file with nothing outside it, that stands between a
// report and a person who would rather look than read. Which states it holds, which path carries the
// current in each, and which of them teach this very set is a survey's matter (coldcheck/analysis/survey).
//
// A page is made in this order:
//
//  1. sheet.go makes the survey of a set, and a scene of each piece of metal that a hand can reach;
//     branch.go tells what stands in the paths to it.
//  2. layout.go and columns.go place the symbols, and drawing.go turns that into a picture, with
//     labels.go keeping names off the lines.
//  3. controls.go makes the controls, data.go the table behind them, figures.go the words of a state.
//  4. lesson.go tells the steps of the walk, lesson_sum.go what they come to.
//  5. set.go gathers the rest of the report, checklist.go what to measure, and page.go writes it all
//     through the template.
//
// The browser computes nothing: script.js looks up rows of the table and shows them.
package page
