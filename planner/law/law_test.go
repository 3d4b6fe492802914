package law_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/planner/law"
)

// Published limits in confectionery (Regulation (EC) 1333/2008, category 05.2: E 104 30, E 110 35, E 124 20, annatto
// bixin 30 and norbixin 25 mg/kg; Regulation (EU) 2022/63 takes E 171 out; 21 CFR 73.575: titanium dioxide at most 1 %
// by weight; 21 CFR 74.303, Red 3, revoked by 90 FR 4628), and how writers differ.
func TestLimits(t *testing.T) {
	for _, c := range []struct {
		market, additive string
		rule             law.Rule
		mg               float64
	}{
		{law.EU, "E 104", law.Most, 30}, {law.EU, "e110", law.Most, 35}, {law.GB, "E  124 (ponceau)", law.Most, 20}, {law.EU, "E 160b(i)", law.Most, 30}, {law.EU, "E160b(ii)", law.Most, 25},
		{law.EU, "E 171", law.Forbidden, 0}, {law.GB, "E 171", law.AsNeeded, 0}, {law.US, "titanium dioxide", law.Most, 10_000}, {law.US, "FD&C Red No. 3", law.Forbidden, 0},
		{law.US, "FD & C Yellow 5", law.AsNeeded, 0}, {law.US, "Red 40 Lake", law.AsNeeded, 0}, {law.EU, "FD&C Red 40", law.Group, 0}, {law.EU, "E 150a", law.AsNeeded, 0},
		{law.EU, "E-104", law.Most, 30}, {law.EU, "INS 104", law.Most, 30}, {law.EU, "Quinoline Yellow", law.Most, 30}, {law.EU, "E 160b (i)", law.Most, 30}, {law.US, "Red No 3", law.Forbidden, 0},
		{law.US, "FD&C Red #3", law.Forbidden, 0}, {law.US, "erythrosine", law.Forbidden, 0}, {law.US, "FD&C Red No. 40 Aluminium Lake (E 129)", law.AsNeeded, 0}, {law.EU, "E 160b", law.Unlisted, 0},
		{law.EU, "E 161g", law.Forbidden, 0}, {law.US, "E 161g", law.Most, 66}, {law.EU, "E 1201", law.Unlisted, 0}, {law.EU, "E 160a (ii)", law.AsNeeded, 0}, {law.EU, "E 141(ii)", law.AsNeeded, 0},
		{law.EU, "E 150 d", law.AsNeeded, 0}, {law.EU, "E 100(i)", law.Group, 0}, {law.EU, "moon dust", law.Unlisted, 0}, {law.EU, "", law.Unlisted, 0}, {law.EU, "E", law.Unlisted, 0}, {law.Other, "E 104", law.NoMarket, 0}, {"", "E 104", law.NoMarket, 0},
	} {
		l := law.Of(c.market, c.additive)
		assert.Equal(t, c.rule, l.Rule, "%s in %s", c.additive, c.market)
		assert.Equal(t, c.mg, l.MgPerKg, "%s in %s", c.additive, c.market)
		if c.rule != law.Unlisted && c.rule != law.NoMarket {
			assert.NotEmpty(t, l.Source)
			assert.NotEmpty(t, l.Seen, "the date at which it was seen")
		}
	}
}

func TestOver(t *testing.T) {
	most := law.Of(law.EU, "E 104")
	assert.False(t, most.Over(30, 0))
	assert.True(t, most.Over(30.1, 0))
	group := law.Of(law.EU, "E 120")
	assert.False(t, group.Over(250, 300))
	assert.True(t, group.Over(250, 301))
	assert.True(t, most.Over(25, 305), "E 104 counts in the sum of the group")
	both := law.Of(law.EU, "E 122")
	assert.True(t, both.Over(51, 51))
	assert.True(t, both.Over(10, 301))
	assert.True(t, law.Of(law.EU, "E 171").Over(0.1, 0))
	assert.False(t, law.Of(law.Other, "E 171").Over(1000, 1000))
	assert.Equal(t, law.Most, law.OfAcid(law.US, "Malic  acid").Rule)
	assert.Equal(t, law.Unlisted, law.OfAcid(law.EU, "tartaric acid").Rule, "its limit was not seen")
	assert.Equal(t, law.NoMarket, law.OfAcid("", "citric acid").Rule)
	assert.Equal(t, law.OfAcid(law.EU, "fumaric acid"), law.OfAcid(law.EU, "E 297"))
}

// The six colours with a warning: Regulation (EC) 1333/2008, annex V.
func TestWarns(t *testing.T) {
	for _, e := range []string{"E 102", "E 104", "E 110", "E 122", "E 124", "E 129"} {
		assert.True(t, law.Warns(law.EU, e))
		assert.True(t, law.Warns(law.GB, e))
		assert.False(t, law.Warns(law.US, e))
	}
	assert.False(t, law.Warns(law.EU, "E 120"))
	assert.True(t, law.Warns(law.EU, "Allura Red E129"))
	assert.True(t, law.Warns(law.EU, "Red 40"))
	assert.True(t, law.Several("E 102 + E 133"))
	assert.False(t, law.Several("E 160b(i) annatto"))
}
