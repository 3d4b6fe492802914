package layup

import (
	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/planner/build"
	"sugarwright/planner/replay"
	"sugarwright/planner/set"
)

// Proven seeks an order and has it proved by replay (P4); a move that the replay rejects is not tried again. The build
// is nil where a finding says that none was found.
func Proven(of *set.Set) (*build.Build, finding.List, error) {
	refused := Refused{}
	var fault *replay.Fault
	var b *build.Build
	for range Tuned.MostReplays {
		var found finding.List
		if fault == nil {
			b, found = Of(of, refused)
		} else { // only the block in which it is wrong is ordered anew
			var stuck []int
			if b.Blocks[fault.Block], stuck = orderBlock(of, fault.Block, refused); len(stuck) > 0 {
				found.Add(finding.New(finding.OrderGaveUp, finding.Error, len(stuck)).At(of.Elements[stuck[0]].Inside()))
			}
		}
		if len(found) > 0 {
			return nil, found, nil
		}
		if err := b.Check(len(of.Elements)); err != nil {
			return nil, nil, err
		}
		if fault = replay.Prove(b, of.Shape, replay.TrueGive); fault == nil {
			return b, nil, nil
		}
		refused.Add(fault.Part, fault.Direction)
	}
	at := geom.MomentsOf(of.Shape(fault.Part)).Centroid
	return nil, finding.List{finding.New(finding.NotProven, finding.Error, fault.Text).At(at)}, nil
}
