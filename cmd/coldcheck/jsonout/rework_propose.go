package jsonout

import (
	"bytes"

	"coldcheck/rules/rework/propose"
)

// Proposals are the plans that the search found.
type Proposals struct {
	Format    version    `json:"format" jsonschema_description:"the version of this JSON"`
	Set       Set        `json:"set" jsonschema_description:"the set that was looked at, and the bench"`
	Proposals []Proposal `json:"proposals" jsonschema_description:"the plans that were found"`
	// NotCured are the findings that no edit of the list cures.
	NotCured []Finding `json:"not_cured" jsonschema_description:"findings that no edit of the list cures"`
	// Partial tells that the one plan leaves a WARNING or more, and the least of all that were examined.
	Partial bool `json:"partial" jsonschema_description:"the one plan leaves a WARNING or more"`
	// Examined is how many altered sets were examined. Complete is false where a bound ended the search
	// for one kind of plan; FirstIsSmallest where it ended that for the first.
	Examined        int  `json:"examined" jsonschema_description:"how many altered sets were examined"`
	Complete        bool `json:"complete" jsonschema_description:"no bound ended the search"`
	FirstIsSmallest bool `json:"first_is_smallest" jsonschema_description:"no plan of the same kind is smaller than the first"`
}

// Proposal is one plan: its steps, the plan file as text, and what it does.
type Proposal struct {
	Kind        string          `json:"kind" jsonschema_description:"what the plan rests on"`
	Edits       int             `json:"edits" jsonschema_description:"how many edits it is made of"`
	Plan        *Plan           `json:"plan" jsonschema:"nullable" jsonschema_description:"the plan, step by step"`
	Text        string          `json:"text" jsonschema_description:"the plan file"`
	Cured       []ReworkFinding `json:"cured" jsonschema_description:"findings that are gone"`
	Left        []ReworkFinding `json:"left" jsonschema_description:"findings that stay"`
	New         []ReworkFinding `json:"new" jsonschema_description:"findings that come"`
	Searched    int             `json:"searched" jsonschema_description:"up to how many safeguards failing at once the set as it will be was looked at"`
	TouchPoints []PointChange   `json:"touch_points" jsonschema_description:"every touch point before and after"`
}

// OfProposals puts proposals into the shape of their JSON.
func OfProposals(all *propose.Proposals) *Proposals {
	circuit := all.Report.Case.Circuit
	out := &Proposals{Format: Format, Set: setOf(circuit, ""), Proposals: []Proposal{}, NotCured: []Finding{},
		Partial: all.Partial, Examined: all.Checked, Complete: !all.Stopped, FirstIsSmallest: len(all.Plans) > 0 && !all.Partial && !all.Plans[0].OneByOne}
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
