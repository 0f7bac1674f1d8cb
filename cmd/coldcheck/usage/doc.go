// Package usage renders how the program is used, of the texts that its commands hold: the list of
// commands, the help of each, the manual page, and the word that a misspelt one was meant to be.
package usage
