package job

import (
	"fmt"

	"starwright/geom/star"
)

// joint reads what holds the segments together, "" where the job leaves it to
// `[slot]` make.
func (s section) joint() star.Joint {
	if s.get("joint") == nil {
		return ""
	}
	return star.Joint(s.choice("joint", "", string(star.Splined), string(star.PlainCut), string(star.Plated)))
}

// settleJoint lets the joint say whether slots are made. `[slot]` make, which says it
// too, must say the same.
func (r *reader) settleJoint(j *Job) {
	want := j.Star.Joint
	if want == "" || !r.sound("star.joint", "slot.make") {
		return
	}
	slots := want == star.Splined
	if t := j.Slot.Make; t != nil && *t != slots {
		says, would := "no slots are made", star.PlainCut
		if *t {
			says, would = "slots are made", star.Splined
		}
		r.broken(j, "star.joint", string(want), fmt.Sprintf("make = %t under [slot] says that %s", *t, says),
			fmt.Sprintf("joint = %q, or leaving out make under [slot]", would))
		return
	}
	j.Slot.Make = &slots
}
