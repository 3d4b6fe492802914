package law_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/planner/job"
	"sugarwright/planner/law"
)

// Published limits in confectionery (Regulation (EC) 1333/2008, category 05.2: E 104 30, E 110 35, E 124 20, annatto bixin 30 and norbixin 25 mg/kg; Regulation (EU)
// 2022/63 takes E 171 out; 21 CFR 73.575: titanium dioxide at most 1 % by weight; 21 CFR 74.303, Red 3, revoked by 90 FR 4628), and how writers differ.
func TestLimits(t *testing.T) {
	for _, c := range []struct {
		market, additive string
		rule             law.Rule
		mg               float64
	}{
		{job.EU, "E 104", law.Most, 30}, {job.EU, "e110", law.Most, 35}, {job.GB, "E  124 (ponceau)", law.Most, 20}, {job.EU, "E 160b(i)", law.Most, 30}, {job.EU, "E160b(ii)", law.Most, 25},
		{job.EU, "E 171", law.Forbidden, 0}, {job.GB, "E 171", law.AsNeeded, 0}, {job.US, "titanium dioxide", law.Most, 10_000}, {job.US, "FD&C Red No. 3", law.Forbidden, 0},
		{job.US, "FD & C Yellow 5", law.AsNeeded, 0}, {job.US, "Red 40 Lake", law.AsNeeded, 0}, {job.EU, "FD&C Red 40", law.Group, 0}, {job.EU, "E 150a", law.AsNeeded, 0},
		{job.EU, "E-104", law.Most, 30}, {job.EU, "INS 104", law.Most, 30}, {job.EU, "Quinoline Yellow", law.Most, 30}, {job.EU, "E 160b (i)", law.Most, 30}, {job.US, "Red No 3", law.Forbidden, 0},
		{job.US, "FD&C Red #3", law.Forbidden, 0}, {job.US, "erythrosine", law.Forbidden, 0}, {job.US, "FD&C Red No. 40 Aluminium Lake (E 129)", law.AsNeeded, 0}, {job.EU, "E 160b", law.Unlisted, 0},
		{job.EU, "moon dust", law.Unlisted, 0}, {job.EU, "", law.Unlisted, 0}, {job.EU, "E", law.Unlisted, 0}, {job.Other, "E 104", law.NoMarket, 0}, {"", "E 104", law.NoMarket, 0},
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
	most := law.Of(job.EU, "E 104")
	assert.False(t, most.Over(30, 0))
	assert.True(t, most.Over(30.1, 0))
	group := law.Of(job.EU, "E 120")
	assert.False(t, group.Over(250, 300))
	assert.True(t, group.Over(250, 301))
	both := law.Of(job.EU, "E 122")
	assert.True(t, both.Over(51, 51))
	assert.True(t, both.Over(10, 301))
	assert.True(t, law.Of(job.EU, "E 171").Over(0.1, 0))
	assert.False(t, law.Of(job.Other, "E 171").Over(1000, 1000))
	assert.Equal(t, law.Most, law.OfAcid(job.US, "Malic  acid").Rule)
	assert.Equal(t, law.Unlisted, law.OfAcid(job.EU, "tartaric acid").Rule, "its limit was not seen")
	assert.Equal(t, law.NoMarket, law.OfAcid("", "citric acid").Rule)
	assert.Equal(t, law.OfAcid(job.EU, "fumaric acid"), law.OfAcid(job.EU, "E 297"))
}

// The six colours with a warning: Regulation (EC) 1333/2008, annex V.
func TestWarns(t *testing.T) {
	for _, e := range []string{"E 102", "E 104", "E 110", "E 122", "E 124", "E 129"} {
		assert.True(t, law.Warns(job.EU, e))
		assert.True(t, law.Warns(job.GB, e))
		assert.False(t, law.Warns(job.US, e))
	}
	assert.False(t, law.Warns(job.EU, "E 120"))
	assert.True(t, law.Warns(job.EU, "Allura Red E129") || law.Warns(job.EU, "Red 40"))
}
