package live

import (
	"net/http"

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

// offer is one thing that can be done.
type offer struct {
	Label string `json:"label"`
	Steps []step `json:"steps"`
}

func (b *Bench) answerOffers(r *http.Request) (any, error) {
	var a offersAsked
	if err := read(r, &a); err != nil {
		return nil, err
	}
	e := b.files.now()
	if e.set == nil {
		return nil, e.noSet()
	}
	var offers []offer
	err := b.work.do(r.Context(), answerTime, func() (err error) {
		offers, err = e.offers(a)
		return err
	})
	return offers, err
}

func (e *edition) offers(a offersAsked) ([]offer, error) {
	set := e.set
	if len(a.Steps) > 0 {
		s, err := e.stage(a.Steps)
		if err != nil {
			return nil, err
		}
		set = s.set
	}
	var all []propose.Offer
	switch {
	case a.Part != "" && set.Part(a.Part) == nil:
		return nil, refuse(http.StatusUnprocessableEntity, "the set has no part %q at this step", netlist.Visible(a.Part))
	case a.Part != "":
		all = propose.OffersFor(set, a.Part, a.To)
	case set.Node(a.Node) == nil:
		return nil, refuse(http.StatusUnprocessableEntity, "the set has no point %q at this step", netlist.Visible(a.Node))
	default:
		all = propose.OffersAt(set, a.Node, a.To)
	}
	offers := []offer{}
	for _, o := range all {
		offers = append(offers, offer{capital(o.Words), stepsOf(&plan.Plan{Steps: o.Steps})})
	}
	return offers, nil
}
