// Package overview puts a report into the order in which a person at a bench needs it: each piece of
// metal with all that is to be said of it, the worst first; then what passes from metal to metal, the line
// side, the parts, and what to take care of. It decides what belongs together and what comes first;
// whoever prints it decides nothing.
package overview
