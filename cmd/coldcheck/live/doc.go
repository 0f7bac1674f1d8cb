// Package live is the live bench: a set file served to a browser on the same machine, with the engine behind it.
// Whatever state is set is worked out when it is asked for; the page follows the file while it is edited.
//
//   - live.go starts and ends a bench; guard.go says who may ask, work.go how much at once, and
//     pickup.go keeps what takes long until it is asked for again;
//   - follow.go watches the files, edition.go is what they hold: the set, or what is wrong with it, and what was
//     worked out of it so far; stream.go tells the open pages when that changes;
//   - state.go answers what a state does to each piece of metal;
//   - plan.go carries out the steps that a person picks, offer.go says what can be done to a part or a point, and
//     proposals.go searches for plans;
//   - readings.go judges what a meter showed; save.go writes the two files that a button names;
//   - page.go is the page, with live.html.tmpl, live.css and live.js.
package live
