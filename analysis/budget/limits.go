package budget

// The limits, in state evaluations where nothing else is said. Each says where it is told that it bit.
const (
	// Search bounds the states looked at with a set of failures for safeguard depth and minimal cut
	// sets. Beyond it fewer failures are looked at together; the result's Reduced tells.
	Search Count = 20e6
	// Positions bounds switch positions times parts, each position being assembled and solved whole. A
	// set beyond it is refused, with a word on what to state.
	Positions Count = 100_000
	// Predictions bounds the readings predicted to find what would explain those taken, in predictions
	// of some 1 µs. Beyond it nothing is guessed, which the explanation tells.
	Predictions Count = 2e6
	// Page bounds what is worked out for the states that a page holds, in channels drawn by. The page
	// tells how many cases it leaves out.
	Page Count = 1e6

	// Stages bounds the examination of the sets on the way of a plan, those before the first step and
	// after the last among it, which are examined in any case. The comparison tells from which step on
	// none was looked at.
	Stages Count = 3e6
	// Plans bounds the examination of altered sets in the search for plans, all kinds of plan together;
	// the sets altered by one remedy are examined whatever those of the first kind take. The proposals
	// tell that the search was ended.
	Plans Count = 5e6
	// Trials bounds the examination of copies of a set with one remedy carried out, all findings together.
	// What is not tried keeps its rule's usual remedy, and does not say that it was tried.
	Trials Count = 3e6
	// Candidates bounds the altered sets examined for one kind of plan, in sets. Told as Plans is.
	Candidates Count = 1500
	// Outcome bounds the states looked at with failures to examine a proposal's outcome for two of them
	// together. Beyond it one is looked for; the proposal tells how many were.
	Outcome Count = 1.5e6
)
