package jsonout

import (
	"bytes"

	"coldcheck/rules/rework/propose"
)

// Proposals are the plans that the search found.
type Proposals struct {
	Format    int        `json:"format"`
	Set       Set        `json:"set"`
	Proposals []Proposal `json:"proposals"`
	// NotCured are the findings that no edit of the list cures.
	NotCured []Finding `json:"not_cured"`
	// Partial tells that the one plan leaves a WARNING or more, and the least of all that were examined.
	Partial bool `json:"partial"`
	// Examined is how many altered sets were examined. Complete is false where a bound ended the search
	// for one kind of plan; FirstIsSmallest where it ended that for the first.
	Examined        int  `json:"examined"`
	Complete        bool `json:"complete"`
	FirstIsSmallest bool `json:"first_is_smallest"`
}

// Proposal is one plan: its steps, the plan file as text, and what it does.
type Proposal struct {
	Kind        string          `json:"kind"`
	Edits       int             `json:"edits"`
	Plan        *Plan           `json:"plan"`
	Text        string          `json:"text"`
	Cured       []ReworkFinding `json:"cured"`
	Left        []ReworkFinding `json:"left"`
	New         []ReworkFinding `json:"new"`
	Searched    int             `json:"searched"` // at once, of the set as it will be
	TouchPoints []PointChange   `json:"touch_points"`
}

// OfProposals puts proposals into the shape of their JSON.
func OfProposals(all *propose.Proposals) *Proposals {
	circuit := all.Report.Case.Circuit
	out := &Proposals{Format: Format, Set: setOf(circuit, ""), Proposals: []Proposal{}, NotCured: []Finding{},
		Partial: all.Partial, Examined: all.Checked, Complete: !all.Stopped, FirstIsSmallest: !all.Unproved && !all.Partial && len(all.Plans) > 0}
	for i := range all.Plans {
		p := &all.Plans[i]
		r := OfRework(p.Comparison)
		var file bytes.Buffer
		if err := p.Plan.Write(&file); err != nil {
			continue // its values come from a set file, which has none that cannot be written
		}
		out.Proposals = append(out.Proposals, Proposal{p.Kind, p.Remedies, r.Plan, file.String(), r.Cured, r.Left, r.New, r.Searched, r.TouchPoints})
	}
	for i := range all.Beyond {
		out.NotCured = append(out.NotCured, findingOf(circuit, &all.Beyond[i]))
	}
	return out
}
