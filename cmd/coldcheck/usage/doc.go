// Package usage renders how the program is used, of the texts that its commands hold: the list of
// commands, the help of each, and the manual page.
package usage
