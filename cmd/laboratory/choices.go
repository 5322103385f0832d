package main

import (
	"fmt"
	"slices"
	"strings"

	"glidepath/lab"
)

// choice is a word on the command line and what it stands for.
type choice[T any] struct {
	word string
	is   T
}

var measurings = []choice[lab.Measuring]{{"scan", lab.ScanGrade}, {"calipers", lab.Calipers}, {"eye", lab.EyeOnly}}

var policies = []choice[lab.PolicyName]{
	{"product", lab.Product},
	{"informed", lab.Informed},
	{"clairvoyant", lab.Clairvoyant},
	{"thumb", lab.Thumb},
	{"formula", lab.Formula},
}

// factors on the truth's loss of lean and on its adaptation.
type factors struct{ lean, adapt float64 }

var truths = []choice[factors]{
	{"as-is", factors{}},
	{"lean-half", factors{lean: 0.5}},
	{"lean-more", factors{lean: 1.5}},
	{"adapt-half", factors{adapt: 0.5}},
	{"adapt-more", factors{adapt: 1.5}},
}

func keys[T any](all []choice[T]) []string {
	out := make([]string, len(all))
	for i := range all {
		out[i] = all[i].word
	}
	return out
}

func pick[T any](what string, all []choice[T], word string) (T, error) {
	i := slices.IndexFunc(all, func(c choice[T]) bool { return c.word == word })
	if i < 0 {
		var none T
		return none, fmt.Errorf("there is no %s %q; choose %s", what, word, strings.Join(keys(all), ", "))
	}
	return all[i].is, nil
}

func (o *runOptions) cohort() (*lab.Cohort, []lab.PolicyName, error) {
	if o.athletes < 1 {
		return nil, nil, fmt.Errorf("--athletes %d: at least one is needed", o.athletes)
	}
	m, err := pick("way of measuring", measurings, o.measuring)
	if err != nil {
		return nil, nil, err
	}
	truth, err := pick("truth", truths, o.truth)
	if err != nil {
		return nil, nil, err
	}
	names := lab.Policies()
	if o.policies != "all" {
		names = nil
		for word := range strings.SplitSeq(o.policies, ",") {
			p, err := pick("policy", policies, strings.TrimSpace(word))
			if err != nil {
				return nil, nil, err
			}
			names = append(names, p)
		}
	}
	return &lab.Cohort{
		Seed: o.seed, Athletes: o.athletes, Measuring: m, NoIntake: o.noIntake,
		Lean: truth.lean, Adapt: truth.adapt, CheckIntervals: !o.noIntervals, Workers: o.workers,
	}, names, nil
}
