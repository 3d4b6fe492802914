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
	for range Tuned.MostReplays {
		b, found := Of(of, refused)
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
