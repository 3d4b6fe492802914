package assemble

import (
	"slices"
	"sort"
	"strings"

	"sugarwright/planner/job"
	"sugarwright/planner/law"
	"sugarwright/planner/plan"
)

// Keys of the warnings of a label.
const (
	warnChildren = "children" // of the six colours
	warnChoking  = "choking"
)

// label is what follows from the recipe: ingredients by weight as they went into the boil, those whose weight nobody
// entered after the rest.
func (s *Stages) label(p *plan.Plan) *plan.Label {
	facts, b := s.Shop.Label, p.Boil
	j := s.Job
	if j == nil {
		j = &job.Job{}
	}
	out := &plan.Label{
		Ingredients: []plan.Ingredient{},
		Allergens:   append([]string{}, facts.Allergens...),
		MayContain:  append([]string{}, facts.MayContain...),
		Warnings:    []plan.Warning{{Key: warnChoking, Of: []string{}}},
		BestBefore:  facts.BestBeforeMonths,
		Weighed:     s.Shop.Tests.Weighed(),
	}
	logs := plan.Num(s.Log.Wanted.Logs)
	add := func(key, name string, grams plan.Num, allergen bool) {
		out.Ingredients = append(out.Ingredients,
			plan.Ingredient{Key: plan.IngredientKey(key), Name: name, Grams: logs * grams, Allergen: allergen})
	}
	add("sugar", "", b.SugarG, false)
	// Wheat must be stressed in the United States (21 U.S.C. 343(w)); glucose syrup of wheat is exempt in the European
	// Union (Regulation (EU) 1169/2011, annex II).
	wheat := facts.SyrupFrom == "wheat" && j.Market != law.EU && j.Market != law.GB
	add("syrup", facts.SyrupFrom, b.SyrupG, wheat)
	if j.Acid != "" || b.AcidG > 0 {
		add("acid", j.Acid, b.AcidG, false)
	}
	if j.Flavour != "" || b.FlavourG > 0 {
		add("flavour", j.Flavour, b.FlavourG, false)
	}
	colours, unnamed := s.additives(p)
	children := plan.Warning{Key: warnChildren, Of: []string{}}
	for _, a := range colours {
		if law.Warns(j.Market, a.name) {
			children.Of = append(children.Of, a.name)
		}
		add("colour", a.name, plan.Num(a.grams), false)
	}
	if unnamed {
		add("colour", "", 0, false)
	}
	if len(children.Of) > 0 {
		out.Warnings = append(out.Warnings, children)
	}
	if facts.Dusting != "" {
		add("dusting", facts.Dusting, 0, false)
	}
	sort.SliceStable(out.Ingredients,
		func(i, k int) bool { return out.Ingredients[i].Grams > out.Ingredients[k].Grams })
	if wheat && !slices.ContainsFunc(out.Allergens, func(a string) bool { return strings.EqualFold(a, "wheat") }) {
		out.Allergens = append(out.Allergens, "wheat")
	}
	return out
}

// additive is one of the colours' additives in a log; grams is 0 where the shop has not entered all of it.
type additive struct {
	name  string
	grams float64
}

// additives of all colours, by the name that the market's law gives them; unnamed tells that there are others without a
// name.
func (s *Stages) additives(p *plan.Plan) (out []additive, unnamed bool) {
	type sum struct {
		mg    float64
		blank bool
	}
	sums := map[string]*sum{}
	var names []string
	unnamed = len(p.Colours) > 1 && len(s.Shop.Stock) == 0
	for i, c := range p.Colours {
		for _, d := range s.Palette.Shades[i].Doses {
			key := law.Canonical(d.Name)
			if key == "" {
				unnamed = true
				continue
			}
			if sums[key] == nil {
				sums[key] = &sum{}
				names = append(names, d.Name)
			}
			sums[key].mg += float64(c.NeedG) * d.GPerKg
			sums[key].blank = sums[key].blank || d.GPerKg == 0
		}
	}
	for _, n := range names {
		a := additive{name: n}
		if x := sums[law.Canonical(n)]; !x.blank { // a part is not all of it
			a.grams = x.mg / 1000
		}
		out = append(out, a)
	}
	return out, unnamed
}
