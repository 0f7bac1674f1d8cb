// Package tomltext reads and writes TOML as the program's files need it: every key and value with its
// place, and what is wrong in words that a person at a bench can act upon.
//
// The decoder is BurntSushi/toml. It knows too little of places, so that locate.go finds them in the
// text, lines.go turns them into lines and columns, and join.go puts both together. Where the decoder
// gives up, complaint.go reads what it has against the place, slips.go and slips_line.go make of it what
// the slip most likely is, and repeats.go tells of keys that stand twice; a line that is wrong by itself is
// left out and the rest read on (parse.go). What is no text at all is refused before (encoding.go), and so
// is what nests deeper than any file needs (brackets.go). write.go writes.
package tomltext
