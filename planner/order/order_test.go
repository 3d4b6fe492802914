package order_test

import (
	"math"
	"math/rand"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/planner/job"
	"sugarwright/planner/order"
	"sugarwright/planner/shop"
)

func read(t *testing.T, text string) *job.Job {
	j, err := job.Read([]byte(text), shop.Default(), job.Day{2026, 1, 1})
	require.NoError(t, err, text)
	return j
}

// By hand, pieces of 2.5 g: a pack of 100 g takes 40, one of 101 g takes 41, never less than asked; two of three pieces
// are this drawing's.
func TestPacks(t *testing.T) {
	for text, want := range map[string]int{
		"[[packs]]\nnumber = 30\ngrams = 100": 1200, "[[packs]]\nnumber = 30\ngrams = 101": 1230, "[[packs]]\nnumber = 7\npieces = 12": 84,
		"pieces = 1500": 1500, "grams = 1000": 400, "grams = 1001": 401, "pieces = 90\n[[packs]]\nnumber = 30": 90, "": 0,
		"[[packs]]\nnumber = 10\npieces = 12\n[[packs]]\nnumber = 2\ngrams = 50": 160,
	} {
		packs, n, err := order.Packs(read(t, text), 2.5)
		require.NoError(t, err)
		assert.Equal(t, want, n, text)
		for _, p := range packs {
			assert.Equal(t, 2.5*float64(p.Pieces), p.NetG)
			if p.AskedG > 0 {
				assert.GreaterOrEqual(t, p.NetG, p.AskedG)
				assert.Less(t, p.NetG-p.AskedG, 2.5, "a piece too many")
			}
		}
	}
	j := read(t,
		"[[packs]]\nnumber = 10\npieces = 12\n[[designs]]\nfile = \"a.svg\"\nshare = 2\n[[designs]]\nfile = \"b.svg\"")
	for file, want := range map[string]int{"a.svg": 80, "b.svg": 40} {
		own, err := j.For(file)
		require.NoError(t, err)
		packs, n, err := order.Packs(own, 2.5)
		require.NoError(t, err)
		assert.Equal(t, want, n)
		assert.Equal(t, float64(want)/10, packs[0].Own)
	}
	_, _, err := order.Packs(read(t, "\n[[packs]]\nnumber = 5\ngrams = 2"), 2.5)
	assert.ErrorContains(t, err, "line 4: a pack of 2 g is less than one piece of 2.5 g; allowed is 3 g or more")
}

// Fewest equal logs within the largest; they give what is wanted.
func TestLogs(t *testing.T) {
	rng := rand.New(rand.NewSource(1))
	for range 2000 {
		pieces, gross := 1+rng.Intn(60_000), 1+5*rng.Float64()
		largest := 3000 + 12000*rng.Float64()
		n, each := order.Logs(pieces, gross, largest)
		assert.GreaterOrEqual(t, n*each, pieces)
		assert.Less(t, (n-1)*each, pieces, "a log too many")
		assert.LessOrEqual(t, float64(each)*gross, largest+1e-6)
		assert.GreaterOrEqual(t, float64(n+1)*largest, float64(pieces)*gross)
	}
	n, each := order.Logs(0, 3, 13000)
	assert.Equal(t, []int{1, 0}, []int{n, each})
	n, each = order.Logs(10_000, 3, 13_000) // 30 kg: three logs of 10 kg
	assert.Equal(t, []int{3, 3334}, []int{n, each})
}

// The ledger ends in what is packed, each line is the last less what goes off, and in whole grams it adds up exactly.
func TestLedger(t *testing.T) {
	rng := rand.New(rand.NewSource(2))
	for range 500 {
		c := order.Chain{
			LogG:    3000 + 9000*rng.Float64(),
			TrimG:   500 * rng.Float64(),
			SticksG: 400 * rng.Float64(),
			SpareG:  60 * rng.Float64(),
			EndLoss: 0.3 * rng.Float64(),
			PieceG:  1 + 4*rng.Float64(),
			Logs:    1 + rng.Intn(4),
		}
		c.FinishedG = c.LogG + c.TrimG + c.SticksG + c.SpareG
		c.FoldedG = 0.06 * rng.Float64() * c.FinishedG
		c.SugarG, c.SyrupG, c.WaterG = 0.6*c.FinishedG, 0.45*c.FinishedG, 0.2*c.FinishedG
		c.Count = int((1 - c.EndLoss) * c.LogG / c.PieceG)
		c.Packed = c.Logs*c.Count - rng.Intn(20)
		l := c.Ledger()
		for i, b := range l[1:] {
			assert.InDelta(t, l[i].LeftG-b.OffG, b.LeftG, 1e-9)
			if b.Key == "folded" {
				assert.InDelta(t, -float64(c.Logs)*c.FoldedG, b.OffG, 1e-9)
				continue
			}
			assert.GreaterOrEqual(t, b.OffG, -1e-9, b.Key)
		}
		assert.InDelta(t, float64(c.Packed)*c.PieceG, l[len(l)-1].LeftG, 1e-9)
		whole := order.WholeGrams(l)
		off := 0.0
		for i, b := range whole {
			assert.Equal(t, math.Round(b.LeftG), b.LeftG)
			assert.InDelta(t, l[i].OffG, b.OffG, 1.0, "a line is rounded by less than a gram")
			off += b.OffG
		}
		assert.Equal(t, whole[0].LeftG-off, whole[len(whole)-1].LeftG)
	}
}

// By hand: 40 g of 1.45 g/cm3, 2.2 mm thick, 400 mm long, is 31.3 mm wide; from the least lump on it becomes sweets of
// 15 x 10 mm, 2.56 g each (SOURCES' worked mass).
func TestLeftovers(t *testing.T) {
	c := order.Colour{
		ID:            "c1",
		LeftG:         39.9,
		DensityGCm3:   1.45,
		StripeMM:      2.2,
		MostMM:        118,
		LogLengthMM:   400,
		PieceVolumeMM: math.Pi / 4 * 15 * 15 * 10,
	}
	u := c.Use(40)
	assert.Equal(t, order.Stripe, u.Use)
	assert.InDelta(t, 31.27, u.WidthMM, 0.01)
	c.LeftG = 40
	u = c.Use(40)
	assert.Equal(t, order.Sweets, u.Use)
	assert.Equal(t, 15, u.Sweets, "40 / 2.562362")
	c.Strong = true
	assert.Equal(t, order.Cover, c.Use(40).Use, "not sold by itself")
	c.Strong = false
	assert.Equal(t, order.Cover,
		order.Colour{LeftG: 400, DensityGCm3: 1.45, StripeMM: 2.2, MostMM: 118, LogLengthMM: 400}.Use(500).Use,
		"wider than the jacket has room for")
	c.LeftG = 1
	assert.Equal(t, order.Cover, c.Use(40).Use)
	c.Jacket = true
	assert.Equal(t, order.Jacket, c.Use(40).Use)
}

// By hand: two people for 60 minutes and one for 30 at 30 an hour are 75; 5 kg of sugar at 1 and 4 of syrup at 2 are
// 13; with 2 packs at 0.5 and 10 an order 99; half more is 148.5, give or take a tenth. Without one of the figures the
// price is blank, not less.
func TestPrice(t *testing.T) {
	p := shop.Price{
		Currency:      "EUR",
		Hour:          30,
		SetUpMin:      28,
		PackMin:       1,
		SugarKg:       1,
		SyrupKg:       2,
		ExtrasKg:      0,
		Pack:          0.5,
		Order:         10,
		MarginPercent: 50,
		SpreadPercent: 10,
	}
	w := order.Work{
		Logs:       1,
		Packs:      2,
		Share:      1,
		Crew:       2,
		LogMin:     60,
		SugarKg:    5,
		SyrupKg:    4,
		FinishedKg: 8,
		PartMin:    2,
		ColourMin:  1,
		ColourKg:   0.04,
	}
	got := w.Of(p)
	assert.InDelta(t, 75, got.Lines[0].Amount, 1e-9)
	assert.InDelta(t, 13, got.Lines[1].Amount, 1e-9)
	assert.InDelta(t, 148.5*0.9, got.Low, 1e-9)
	assert.InDelta(t, 148.5*1.1, got.High, 1e-9)
	assert.InDelta(t, 1.5, got.More[2].Amount, 1e-9, "two minutes more, with the margin")
	for _, blank := range []func(*shop.Price){func(p *shop.Price) { p.Hour = shop.Blank }, func(p *shop.Price) { p.Pack = shop.Blank }, func(p *shop.Price) { p.MarginPercent = shop.Blank },
		func(p *shop.Price) { p.SetUpMin = shop.Blank }, func(p *shop.Price) { p.SyrupKg = shop.Blank }, func(p *shop.Price) { p.PackMin = shop.Blank }} {
		q := p
		blank(&q)
		assert.Equal(t, shop.Blank, w.Of(q).Low)
		assert.Equal(t, shop.Blank, w.Of(q).High)
	}
}

func BenchmarkLedger(b *testing.B) {
	c := order.Chain{
		SugarG:    6000,
		SyrupG:    4000,
		WaterG:    2000,
		FinishedG: 10_000,
		LogG:      9000,
		EndLoss:   0.2,
		PieceG:    2.5,
		Count:     2880,
		Logs:      2,
		Packed:    5700,
	}
	for b.Loop() {
		require.Len(b, order.WholeGrams(c.Ledger()), 9)
	}
}
