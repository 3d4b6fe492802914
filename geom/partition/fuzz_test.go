package partition_test

import (
	"errors"
	"math"
	"testing"

	"sugarwright/geom/partition"
)

// FuzzPartition nodes polygons whose corners crowd on few places: every byte pair is a corner, its high bits one of
// sixteen anchors, its low bits a step of a few units from there. All proofs of the arrangement hold, and no area is
// lost or made.
func FuzzPartition(f *testing.F) {
	f.Add([]byte{0, 0, 16, 1, 33, 2, 0, 255, 17, 0, 48, 5, 80, 9}, uint16(7))
	f.Add([]byte("near-coincident corners of polygons, one byte pair each"), uint16(3))
	f.Add(
		[]byte{
			1,
			2,
			3,
			4,
			5,
			6,
			7,
			8,
			9,
			10,
			11,
			12,
			13,
			14,
			15,
			16,
			17,
			18,
			19,
			20,
			21,
			22,
			23,
			24,
			25,
			26,
			27,
			28,
			29,
			30,
		},
		uint16(5),
	)
	f.Fuzz(func(t *testing.T, data []byte, spread uint16) {
		if len(data) > 600 {
			data = data[:600]
		}
		step := int64(spread%64) + 1
		b := partition.NewBuilder()
		var ring []partition.Point
		want, length, rings := 0.0, 0.0, 0
		flush := func() {
			if len(ring) > 2 {
				b.Ring(rings, ring)
				rings++
				for i, p := range ring {
					q := ring[(i+1)%len(ring)]
					want += float64(p.X*q.Y - p.Y*q.X)
					length += math.Hypot(float64(q.X-p.X), float64(q.Y-p.Y))
				}
			}
			ring = nil
		}
		for i := 0; i+1 < len(data); i += 2 {
			u, v := int64(data[i]), int64(data[i+1])
			ring = append(ring, partition.Point{X: (u>>4)*97*step + u&15, Y: (v>>4)*89*step + v&15})
			if u%11 == 0 || len(ring) == 24 {
				flush()
			}
		}
		flush()
		a, err := b.Build()
		if err != nil {
			if much := (*partition.TooMuch)(nil); errors.As(err, &much) {
				return
			}
			t.Fatal(err)
		}
		if err := a.Check(); err != nil {
			t.Fatal(err)
		}
		got := 0.0
		a.Windings(func(face int, wind, round []int32) {
			for _, o := range round {
				got += float64(wind[o]) * float64(a.Faces[face].Area2)
			}
		})
		// Every line moves by a few units at most, so the area winding by winding changes by a few times the length.
		if math.Abs(got-want) > 40*length+1000 {
			t.Fatalf("area %g became %g, length %g", want, got, length)
		}
	})
}
