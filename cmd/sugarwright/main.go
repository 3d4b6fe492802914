package main

import (
	"fmt"
	"os"
	"time"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/partition"
	"sugarwright/planner/element"
	"sugarwright/planner/shop"
)

func main() {
	sh := shop.Default()
	for _, f := range os.Args[1:] {
		t0 := time.Now()
		data, _ := artwork.ReadFile(f)
		art, found, err := artwork.Parse(data)
		if err != nil {
			fmt.Println(f, err)
			continue
		}
		v := art.View
		r := min(v.W, v.H) / 2
		k := 56.2 / r
		fr := partition.Frame{ToTrue: geom.ToTrue{k, 0, 0, -k, -k * (v.X + v.W/2), k * (v.Y + v.H/2)}, LogRadius: 75, JacketRadius: 69, PictureRadius: 56.25,
			Ground: artwork.RGB{255, 255, 255}, Jacket: artwork.RGB{255, 255, 255}, LikeDE2000: 3, SliverMM: 0.02, FlattenMM: 0.01}
		m, fs, err := partition.Of(art, fr)
		if err != nil {
			fmt.Println(f, err)
			continue
		}
		t1 := time.Now()
		set, fs2, err := element.Split(m, sh)
		if err != nil {
			fmt.Println(f, err)
			continue
		}
		fmt.Printf("%s regions %d colours %d | distinct %d laid %d blocks %d nodes %d | %v %v findings %d %d %d\n", f, len(m.Regions), len(m.Colours), set.Distinct(), len(set.Elements), len(set.Blocks), set.Nodes, t1.Sub(t0), time.Since(t1), len(found), len(fs), len(fs2))
		if os.Getenv("V") != "" {
			for _, e := range set.Elements {
				fmt.Printf("   %v %v c%d iou %.3f copy %d area %.0f\n", e.Kind, e.Fit.Form, e.Colour, e.Fit.IoU, e.CopyOf, e.True.Area())
			}
		}
	}
}
