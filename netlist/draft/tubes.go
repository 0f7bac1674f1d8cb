package draft

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
	"coldcheck/netlist/setfile"
)

// tube is a tube of the answer, or a heater alone.
type tube struct {
	text        string            // as it is written
	known       *netlist.TubeType // nil of a heater alone
	volts, amps float64           // of the heater, 0 without one
}

// heaterWord begins a tube that is written by its heater.
const heaterWord = "heater"

// tubes are those of an answer that was judged, nil where there are none or they are not known.
func (s answers) tubes() []tube {
	text, ok := s.known("tubes")
	if !ok || text == none {
		return nil
	}
	list, err := tubesOf(text)
	if err != nil {
		return nil
	}
	return list
}

// tubesOf reads a list of tubes.
func tubesOf(text string) ([]tube, error) {
	names := items(text)
	if len(names) == 1 && !strings.HasPrefix(strings.ToLower(names[0]), heaterWord) {
		if _, err := tubeOf(names[0]); err != nil {
			names = strings.Fields(names[0])
		}
	}
	var list []tube
	for _, name := range names {
		t, err := tubeOf(name)
		if err != nil {
			return nil, err
		}
		list = append(list, t)
	}
	if len(list) > maxTubes {
		return nil, fmt.Errorf("these are %d tubes, and %d are as many as are taken", len(list), maxTubes)
	}
	return list, nil
}

const maxTubes = 40

func tubeOf(name string) (tube, error) {
	if first, rest, _ := strings.Cut(name, " "); strings.EqualFold(first, heaterWord) {
		keys, err := fields(netlist.KindLamp, rest)
		if err != nil || !keys.Has("volts") || !keys.Has("amps") {
			return tube{}, fmt.Errorf("%s has no volts and amperes; write it like \"heater 25 V 150 mA\"", words.Quote(name))
		}
		volts, _ := netlist.ParseValue(textOf(keys, "volts"), netlist.Volt)
		amps, _ := netlist.ParseValue(textOf(keys, "amps"), netlist.Ampere)
		return tube{text: name, volts: volts, amps: amps}, nil
	}
	known, several := setfile.FindTubeType(name)
	switch {
	case len(several) > 1:
		return tube{}, fmt.Errorf("several tube types fit %s; write which one it is: %s", words.Quote(name), words.QuoteAll(several))
	case known == nil:
		return tube{}, fmt.Errorf("the tube type %s is not known; %s", words.Quote(name),
			words.Meant(setfile.NearestTubeType(name), "look at the spelling, or write its heater: \"heater 25 V 150 mA\""))
	}
	t := tube{text: strings.ToUpper(name), known: known}
	if known.Heater != nil {
		t.volts, t.amps = known.Heater.Volts, known.Heater.Amps
	}
	return t, nil
}

func textOf(t *netlist.Table, key string) string {
	e, _ := t.Get(key)
	text, _ := e.Value.Data.(string)
	return text
}

func checkTubes(s answers, text string) (string, error) {
	inString := s.is("entry", byString)
	if isNone(text) {
		if inString {
			return "", fmt.Errorf("a string has a tube at least; of a set without, go back to how the mains come in")
		}
		return none, nil
	}
	list, err := tubesOf(text)
	if err != nil {
		return "", err
	}
	names := make([]string, len(list))
	for i, t := range list {
		names[i] = t.text
		if inString && t.volts == 0 {
			return "", fmt.Errorf("%s has no heater, and stands in no string", words.Quote(t.text))
		}
	}
	if len(names) == 0 {
		return "", fmt.Errorf("no tube is said; write their types, like %s", find("tubes").Examples[0])
	}
	return strings.Join(names, ", "), nil
}

// How near the sum of the heaters comes to the mains where it is the mains: tube manuals allow 10 % either way.
const heaterLimit = 0.10

// sum is what the heaters add up to, and the current of the string, which is the most that one of them takes.
func sum(list []tube) (volts, amps float64) {
	for _, t := range list {
		volts += t.volts
		amps = max(amps, t.amps)
	}
	return volts, amps
}

func (s answers) mainsVolts() float64 {
	volts, _, err := netlist.ParseMains(s.or("mains", defaultMains))
	if err != nil {
		return 0
	}
	return volts
}

// leftOver is what the heaters of a string leave of the mains, in volts, and the ohms that take it; 0 where that is
// within what a heater bears.
func (s answers) leftOver() (volts, ohms float64) {
	rated, amps := sum(s.tubes())
	volts = s.mainsVolts() - rated
	if amps == 0 || volts <= heaterLimit*s.mainsVolts() {
		return 0, 0
	}
	return volts, roundOhms(volts / amps)
}

// roundOhms rounds to two digits, as a guess deserves.
func roundOhms(ohms float64) float64 {
	step := math.Pow(10, math.Floor(math.Log10(ohms))-1)
	return math.Round(ohms/step) * step
}

// heaterWords tell what the heaters add up to.
func heaterWords(s answers) string {
	list := s.tubes()
	var names []string
	currents := map[float64]string{}
	for _, t := range list {
		if t.volts > 0 {
			name := t.text // which has the volts, of a heater alone
			if t.known != nil {
				name += " " + netlist.FormatValue(t.volts, netlist.Volt)
			}
			names = append(names, name)
			currents[t.amps] = t.text
		}
	}
	if len(names) == 0 || s.transformed() {
		return ""
	}
	rated, amps := sum(list)
	text := fmt.Sprintf("%s: %s at %s", strings.Join(names, ", "), netlist.FormatValue(rated, netlist.Volt), netlist.FormatValue(amps, netlist.Ampere))
	mains := netlist.FormatValue(s.mainsVolts(), netlist.Volt)
	volts, ohms := s.leftOver()
	switch {
	case rated > (1+heaterLimit)*s.mainsVolts():
		text += fmt.Sprintf(", more than the %s of the mains: look at the types again, or there are two strings", mains)
	case volts > 0:
		text += fmt.Sprintf(", which leaves %s of %s: some %s in series", netlist.FormatValue(volts, netlist.Volt), mains, netlist.FormatValue(ohms, netlist.Ohm))
	default:
		text += fmt.Sprintf(", which is the %s of the mains", mains)
	}
	if len(currents) > 1 {
		text += "; they do not all take the same current: those of less have something beside them, or a type is misread"
	}
	return text
}

func usualDropper(s answers) string {
	if _, ohms := s.leftOver(); ohms > 0 {
		return fmt.Sprintf("%g ohm", ohms)
	}
	return none
}

// cordWord begins a dropper that is the cord.
const cordWord = "cord"

func checkDropper(s answers, text string) (string, error) {
	if isNone(text) {
		return none, nil
	}
	first, rest, _ := strings.Cut(text, " ")
	if !strings.EqualFold(first, cordWord) {
		return resistorAnswer(s, text)
	}
	if _, err := fields(netlist.KindResistor, rest); err != nil {
		return "", err
	}
	return cordWord + " " + strings.TrimSpace(rest), nil
}

// rectifiers are the tubes, by their places, that can be the power rectifier: in a string no tube whose heater is
// its cathode.
func (s answers) rectifiers() []int {
	var at []int
	for i, t := range s.tubes() {
		if t.known == nil || len(t.known.Rectifiers) == 0 {
			continue
		}
		if heater := t.known.Heater; heater != nil && s.is("entry", byString) &&
			slices.ContainsFunc(t.known.Rectifiers, func(x netlist.Section) bool { return heater.HasPin(x.Cathode) || heater.HasPin(x.Anode) }) {
			continue
		}
		at = append(at, i)
	}
	return at
}

// tapped is the place of the first rectifier tube of the string with a tap in its heater, -1 where there is none.
func (s answers) tapped() int {
	if !s.is("entry", byString) {
		return -1
	}
	list := s.tubes()
	for _, i := range s.rectifiers() {
		if list[i].known.Heater != nil && list[i].known.Heater.Tap != nil {
			return i
		}
	}
	return -1
}

// rectifierTap is the tap of the rectifier's heater, nil where it has none or is no tube.
func (s answers) rectifierTap() *netlist.Tap {
	if at := s.tapped(); at >= 0 && s.rectifierKind() == byTube {
		return s.tubes()[at].known.Heater.Tap
	}
	return nil
}

func usualRectifier(s answers) string {
	if len(s.rectifiers()) > 0 {
		return byTube
	}
	return bySelen
}

// rectifierKind is what rectifies: where it is not known what it is taken as.
func (s answers) rectifierKind() string { return s.or("rectifier", usualRectifier(s)) }

func checkRectifier(s answers, text string) (string, error) {
	word, err := oneOf(rectifierWords)(s, text)
	if err == nil && word == byTube && len(s.rectifiers()) == 0 {
		return "", fmt.Errorf("none of the tubes that were said can be the rectifier; say selenium, silicon or none, or go back to the tubes")
	}
	if err == nil && word == none {
		err = rectifiesAfterAll(s)
	}
	return word, err
}

// rectifiesAfterAll tells of a tube that rectifies where it is said that nothing does: the one or the other is a slip, and
// without a rectifier a way from the line to the set is left out.
func rectifiesAfterAll(s answers) error {
	for i, t := range s.tubes() {
		switch {
		case t.known == nil || len(t.known.Rectifiers) == 0:
		case slices.Contains(s.rectifiers(), i):
			return fmt.Errorf("%s among the tubes is a rectifier; say tube, or go back to the tubes: one that rectifies nothing is written by its heater, like \"heater 5 V 2 A\"", t.text)
		default:
			return fmt.Errorf("%s among the tubes is a rectifier whose filament is its cathode, which stands in no string; go back to how the mains come in, or to the tubes: one that rectifies nothing is written by its heater, like \"heater 5 V 2 A\"", t.text)
		}
	}
	return nil
}

// section is a rectifying section of a tube by its place.
type section struct {
	at int
	netlist.Section
}

func (s answers) sections() []section {
	var all []section
	list := s.tubes()
	for _, i := range s.rectifiers() {
		for _, x := range list[i].known.Rectifiers {
			all = append(all, section{i, x})
		}
	}
	return all
}

// apart reports whether two sections share no pin, as a doubler needs them.
func apart(a, b section) bool { return a.at != b.at || a.Anode != b.Anode && a.Cathode != b.Cathode }

func (s answers) canDouble() bool {
	x := s.sections()
	return s.is("entry", byString) && (s.rectifierKind() != byTube || len(x) > 1 && apart(x[0], x[1]))
}

func (s answers) canFullWave() bool {
	return s.is("entry", byTransformer) && (s.rectifierKind() != byTube || len(s.sections()) > 1)
}

func usualCircuit(s answers) string {
	if s.canFullWave() {
		return fullWave
	}
	return halfWave
}

func checkCircuit(s answers, text string) (string, error) {
	word, err := oneOf(circuitWords)(s, text)
	switch {
	case err != nil:
	case word == doubler && !s.is("entry", byString):
		err = fmt.Errorf("a doubler is asked after in a set with a string alone; say half-wave, and change the file")
	case word == doubler && !s.canDouble():
		err = fmt.Errorf("a doubler needs two sections with a plate and a cathode each, and the tubes that were said have not; go back to the tubes")
	case word == fullWave && !s.is("entry", byTransformer):
		err = fmt.Errorf("full-wave needs a transformer's winding with a middle; say half-wave or doubler")
	case word == fullWave && !s.canFullWave():
		err = fmt.Errorf("full-wave needs two sections, and the tubes that were said have one; go back to the tubes")
	}
	return word, err
}

func usualLampPlace(s answers) string {
	switch {
	case s.tapped() >= 0:
		return atTap
	case s.is("entry", byString):
		return inSeries
	}
	return atHeater
}

func checkLampPlace(s answers, text string) (string, error) {
	word, err := oneOf(lampPlaces)(s, text)
	switch {
	case err != nil:
	case word == atTap && s.tapped() < 0:
		err = fmt.Errorf("no rectifier among the tubes has a tap in its heater; say series or line, or go back to the tubes")
	case word == inSeries && !s.is("entry", byString):
		err = fmt.Errorf("there is no string that the lamp could be in series with; say heaters or line")
	case word == atHeater && s.is("entry", byString):
		err = fmt.Errorf("a string has no heater winding; say tap, series or line")
	}
	return word, err
}

// reservoirList are the reservoirs, each as the keys of a capacitor.
func (s answers) reservoirList() []*netlist.Table {
	text, ok := s.known("reservoirs")
	if !ok {
		text = "40 uF"
		if s.is("circuit", doubler) {
			text = "100 uF, 100 uF"
		}
	}
	var list []*netlist.Table
	for _, item := range items(text) {
		if keys, err := fields(netlist.KindCapacitor, withoutKind(netlist.KindCapacitor, item)); err == nil {
			list = append(list, keys)
		}
	}
	return list
}

// filters is how many gaps there are between reservoirs.
func (s answers) filters() int {
	n := len(s.reservoirList()) - 1
	if s.is("circuit", doubler) {
		n--
	}
	return max(n, 0)
}

func checkReservoirs(s answers, text string) (string, error) {
	list := items(text)
	for _, item := range list {
		if _, err := capacitorAnswer(s, item); err != nil {
			return "", err
		}
	}
	switch {
	case len(list) == 0, len(list) > maxReservoirs:
		return "", fmt.Errorf("say one reservoir at least and %d at most, with commas between", maxReservoirs)
	case s.is("circuit", doubler) && len(list) < 2:
		return "", fmt.Errorf("a doubler has two at least, the one on the line and the reservoir; say both, with a comma between")
	}
	return strings.Join(list, ", "), nil
}

const maxReservoirs = 12

func checkFilter(s answers, text string) (string, error) {
	list := items(text)
	for _, item := range list {
		if _, _, err := filterPart(item); err != nil {
			return "", err
		}
	}
	if n := s.filters(); len(list) != n {
		return "", fmt.Errorf("there %s between the reservoirs, and %d %s said", isOrAre(n, "gap"), len(list), isAre(len(list)))
	}
	return strings.Join(list, ", "), nil
}

func isOrAre(n int, what string) string { return isAre(n) + " " + words.Count(n, what) }

func isAre(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

// filterPart is what stands between two reservoirs: a coil where it is called one, else a resistor.
func filterPart(text string) (netlist.Kind, *netlist.Table, error) {
	kind, rest := kindFirst(text)
	if kind != netlist.KindCoil && kind != netlist.KindResistor {
		kind, rest = netlist.KindResistor, text
	}
	keys, err := fields(kind, rest)
	return kind, keys, err
}
