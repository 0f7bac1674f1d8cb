// Package draft makes a set file of what a person says who has traced the line side alone. It asks no one and
// knows no hazard: it has the questions, judges the answers, and writes.
//
// The story runs in this order. questions.go has the questions in the order of the cord, each with its examples, what is
// usual, why it is asked and what a thing that is not known is taken as; question.go is what a question is. An Interview
// (interview.go) keeps what was answered: it says what is to be asked next, judges each answer at once against
// those before it, and goes back. answers.go judges answers that take more than a word (chains of the cord, tubes, metal,
// other parts), values.go parts a line such as "0.1 uF 400 V paper" into a part's keys. file.go reads and writes answers
// as a file.
//
// build.go makes the document of a set from answers, piece by piece: build_line.go the cord, switch and fuse,
// build_heaters.go the string, build_supply.go transformer, rectifier and reservoirs, build_metal.go what a hand can
// reach. An answer is taken only if the set file that it gives reads without a problem and without a notice.
//
// What is not known never hides anything: each question says what is assumed then, which is the wiring by which
// metal is at the line more readily, and the file marks it with a remark and the part as suspect.
package draft
