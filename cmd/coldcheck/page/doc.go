// Package page shows a set in a browser: one file with nothing outside it, that stands between a
// report and a person who would rather look than read. Which states it holds, by which ways the
// current comes in each, and which of them teach this very set is a survey's matter
// (coldcheck/analysis/survey).
//
// A page is made in this order:
//
//  1. verdict.go tells the answer first: a sentence, what to do, a picture of plug and switch, and
//     each piece of metal at a glance.
//  2. sheet.go makes the survey of a set, and a scene of each piece of metal that a hand can reach;
//     branch.go tells what stands in the ways to it. line.go is the same of the whole line side.
//  3. layout.go and columns.go place the symbols; drawing.go and cell.go turn that into a picture,
//     from left to right or from top to bottom, with labels.go keeping names off the lines, and
//     legend.go tells what it is made of. Ways that bring current in few states share their rows:
//     script.js folds what a state does not show.
//  4. controls.go makes the controls, data.go the table behind them, figures.go the words of a state.
//  5. lesson.go tells the steps of the walk, lesson_sum.go what they come to.
//  6. set.go gathers the rest of the report, checklist.go what to measure, and page.go writes it all
//     through the template. rework.go puts the stages of a plan onto one bench.
//
// apart.go sets names from right to left apart from what stands around them; live.go is what the
// live bench has of all this.
//
// The browser computes nothing: script.js looks up rows of the table and shows them.
package page
