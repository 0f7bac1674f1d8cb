package live

import (
	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/rules/rework/propose"
)

// offersAsked is a part or a point that was picked, on the set as the steps of the plan leave it.
type offersAsked struct {
	Part  string `json:"part"`
	Node  string `json:"node"`
	To    string `json:"to"` // a second point: to move an end to, or to fit something to
	Steps []step `json:"steps"`
}

// offersAnswer is what can be done, or why nothing can.
type offersAnswer struct {
	Offers []offer `json:"offers"`
	Say    string  `json:"say"`
}

// offer is one thing that can be done.
type offer struct {
	Label string `json:"label"`
	Steps []step `json:"steps"`
}

func answerOffers(e *edition, a offersAsked) (*offersAnswer, error) {
	answer := &offersAnswer{}
	answer.Offers, answer.Say = e.offers(a)
	return answer, nil
}

// offers lists what can be done, or says why nothing can.
func (e *edition) offers(a offersAsked) (offers []offer, say string) {
	offers = []offer{}
	set := e.set
	if len(a.Steps) > 0 {
		s, err := e.stage(a.Steps)
		if err != nil {
			return offers, err.Error()
		}
		set = s.set
	}
	var all []propose.Offer
	switch {
	case a.Part != "" && set.Part(a.Part) == nil:
		return offers, netlist.Visible(a.Part) + " is not there any more once the steps are done"
	case a.Part != "":
		all = propose.OffersFor(set, a.Part, a.To)
	case set.Node(a.Node) == nil:
		return offers, "no part is on " + netlist.Visible(a.Node) + " once the steps are done"
	default:
		all = propose.OffersAt(set, a.Node, a.To)
	}
	for _, o := range all {
		offers = append(offers, offer{capital(o.Words), stepsOf(&plan.Plan{Steps: o.Steps})})
	}
	switch {
	case len(all) > 0:
	case a.Node != "" && a.To == "":
		say = "name a second point to fit something between the two"
	default:
		say = "nothing that leaves a set is offered here"
	}
	return offers, say
}
