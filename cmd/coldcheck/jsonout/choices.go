package jsonout

// Keys that take one of some words have a type of their own, by which their schema finds the words.
type (
	version         int
	plugPolarity    string
	plugOrOut       string
	quantity        string
	signalWord      string
	shortWord       string
	touchKind       string
	guardKind       string
	lineSide        string
	disagreement    string
	valueUnit       string
	faultKind       string
	explanationKind string
	caseWord        string
)

// figures are what a meter shows at each of several readings, null where that is open.
type figures []*float64

// unplugged is how the plug stands while ohms are read.
const unplugged = "out"
