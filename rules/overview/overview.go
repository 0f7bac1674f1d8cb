package overview

import (
	"cmp"
	"slices"

	"coldcheck/analysis"
	"coldcheck/rules"
)

// Overview is a report in the order in which it is read.
type Overview struct {
	Report *rules.Report
	Metals []*Metal // worst first
	// Hands are the findings from one piece of metal to another, and of all metal under one hand.
	Hands []*rules.Finding
	Line  []Idea // the line side: what leads to the set, and the earth
	Parts []Idea // parts, wherever they stand
	Notes []Idea // the file and the bench
	Cares []Care
}

// Idea is what one rule has found: alike findings are told together.
type Idea struct {
	Rule     *rules.Rule
	Findings []*rules.Finding
}

// Signal is the strongest signal word of an idea.
func (i Idea) Signal() rules.Signal { return i.Findings[0].Signal }

// Of puts a report in order.
func Of(r *rules.Report) *Overview {
	o := &Overview{Report: r, Metals: metalsOf(r)}
	for i := range r.Findings {
		f := &r.Findings[i]
		switch m := o.metalOf(f); {
		case together(r, f) || f.Rule.Subject == rules.OfPair:
			o.Hands = append(o.Hands, f)
		case m != nil && aboutMetal(f):
			m.take(f)
			o.share(m, f)
		case f.Rule.Subject == rules.OfPart:
			o.Parts = addTo(o.Parts, f)
		case f.Rule.Subject == rules.OfSet:
			o.Notes = addTo(o.Notes, f)
		default:
			o.Line = addTo(o.Line, f)
		}
	}
	for _, m := range o.Metals {
		m.order(r)
	}
	slices.SortStableFunc(o.Metals, worseFirst)
	o.Cares = caresOf(r)
	return o
}

// together reports whether a finding is of all bare metal under one hand.
func together(r *rules.Report, f *rules.Finding) bool {
	return f.Worst != nil && f.Worst == r.Case.Result.Together
}

// aboutMetal reports whether a finding is told with a piece of metal.
func aboutMetal(f *rules.Finding) bool {
	return f.Rule.Subject == rules.OfMetal || f.Rule.Subject == rules.OfEarth
}

// metalOf is the piece of metal of which a finding speaks first, nil where it speaks of none.
func (o *Overview) metalOf(f *rules.Finding) *Metal {
	for _, m := range o.Metals {
		if slices.Contains(m.Nodes(), f.Node()) {
			return m
		}
	}
	return nil
}

// share puts a finding down at the other metal of which it speaks.
func (o *Overview) share(told *Metal, f *rules.Finding) {
	for _, m := range o.Metals {
		if m != told && m.in(f.Nodes) {
			m.Shared = append(m.Shared, f)
		}
	}
}

// addTo adds a finding to those of its rule. Findings come strongest first, and so do the ideas.
func addTo(ideas []Idea, f *rules.Finding) []Idea {
	for i := range ideas {
		if ideas[i].Rule == f.Rule {
			ideas[i].Findings = append(ideas[i].Findings, f)
			return ideas
		}
	}
	return append(ideas, Idea{f.Rule, []*rules.Finding{f}})
}

// Worst is the worst finding, nil where there is none: of equally strong ones that of metal comes first,
// then from metal to metal, the line side, the parts, the file and the bench.
func (o *Overview) Worst() *rules.Finding {
	var all []*rules.Finding
	for _, m := range o.Metals {
		all = append(all, m.Findings()...)
	}
	all = append(all, o.Hands...)
	for _, ideas := range [][]Idea{o.Line, o.Parts, o.Notes} {
		for _, i := range ideas {
			all = append(all, i.Findings...)
		}
	}
	if len(all) == 0 {
		return nil
	}
	return slices.MaxFunc(all, func(a, b *rules.Finding) int { return cmp.Compare(a.Signal, b.Signal) })
}

// WorstPair is the worst pair of pieces of metal with nothing failed, nil where none passes anything or
// there is but one piece.
func (o *Overview) WorstPair() *analysis.PairResult {
	var most *analysis.PairResult
	for _, p := range o.Report.Case.Result.Between {
		if p.Normal != nil && (most == nil || p.Normal.WorseThan(most.Normal)) {
			most = p
		}
	}
	return most
}
