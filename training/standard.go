package training

import "glidepath/athlete"

type (
	muscles []athlete.Muscle
	regions []athlete.Region
)

// kind is a pattern with the equipment and how still it holds the lifter.
type kind struct {
	pattern   athlete.Pattern
	equipment athlete.Equipment
	stability athlete.Stability
}

func (k kind) entry(name string, direct, indirect muscles, loads regions, also ...string) athlete.Exercise {
	e := athlete.Exercise{
		Name: name, Aliases: also, Pattern: k.pattern, Equipment: k.equipment, Stability: k.stability, Loads: loads,
	}
	for _, m := range direct {
		e.Muscles = append(e.Muscles, athlete.Share{Muscle: m, Share: Direct})
	}
	for _, m := range indirect {
		e.Muscles = append(e.Muscles, athlete.Share{Muscle: m, Share: Indirect})
	}
	return e
}

func big(e athlete.Exercise) athlete.Exercise {
	e.Big = true
	return e
}

func body(e athlete.Exercise) athlete.Exercise {
	e.BodyLoad = true
	return e
}

var (
	none  muscles
	quads = muscles{athlete.Quadriceps}
	hams  = muscles{athlete.Hamstrings}
	glute = muscles{athlete.Glutes}
	back  = muscles{athlete.Back}
	chest = muscles{athlete.Chest}
	delts = muscles{athlete.Shoulders}
	bis   = muscles{athlete.Biceps}
	tris  = muscles{athlete.Triceps}
	calf  = muscles{athlete.Calves}
	abs   = muscles{athlete.Abdominals}

	quadGlute  = muscles{athlete.Quadriceps, athlete.Glutes}
	hamGlute   = muscles{athlete.Hamstrings, athlete.Glutes}
	hamBack    = muscles{athlete.Hamstrings, athlete.Back}
	deltTri    = muscles{athlete.Shoulders, athlete.Triceps}
	chestTri   = muscles{athlete.Chest, athlete.Triceps}
	bicepsDelt = muscles{athlete.Biceps, athlete.Shoulders}
	pull       = muscles{athlete.Back, athlete.Biceps}
	whole      = muscles{athlete.Hamstrings, athlete.Glutes, athlete.Back}
)

// What an injury there would keep from a lift: common practice, no source. What a
// clinician says of an athlete goes before it.
var (
	legs       = regions{athlete.Knee, athlete.Hip}
	squatting  = regions{athlete.Knee, athlete.Hip, athlete.LowerBack, athlete.Ankle}
	hanging    = regions{athlete.LowerBack, athlete.Hip, athlete.Wrist}
	hips       = regions{athlete.Hip}
	hipBack    = regions{athlete.Hip, athlete.LowerBack}
	knees      = regions{athlete.Knee}
	standing   = regions{athlete.Knee, athlete.Hip, athlete.Ankle}
	pressing   = regions{athlete.Shoulder, athlete.Elbow, athlete.Wrist}
	overhead   = regions{athlete.Shoulder, athlete.Elbow, athlete.Wrist, athlete.Neck, athlete.LowerBack}
	seatedOver = regions{athlete.Shoulder, athlete.Elbow, athlete.Neck}
	bentOver   = regions{athlete.LowerBack, athlete.UpperBack, athlete.Shoulder, athlete.Elbow}
	rowing     = regions{athlete.UpperBack, athlete.Shoulder, athlete.Elbow}
	shoulder   = regions{athlete.Shoulder}
	elbows     = regions{athlete.Elbow, athlete.Wrist}
	overElbow  = regions{athlete.Elbow, athlete.Shoulder}
	feet       = regions{athlete.Ankle, athlete.Foot}
	trunk      = regions{athlete.LowerBack}
	hung       = regions{athlete.Shoulder, athlete.Elbow, athlete.LowerBack}
	shrugging  = regions{athlete.Neck, athlete.UpperBack}
)

// The kinds in use, by pattern.
var (
	barSquat     = kind{athlete.Squat, athlete.Barbell, athlete.FreeStanding}
	dumbSquat    = kind{athlete.Squat, athlete.Dumbbell, athlete.FreeStanding}
	guidedSquat  = kind{athlete.Squat, athlete.Machine, athlete.Guided}
	smithSquat   = kind{athlete.Squat, athlete.SmithMachine, athlete.Guided}
	barHinge     = kind{athlete.Hinge, athlete.Barbell, athlete.FreeStanding}
	dumbHinge    = kind{athlete.Hinge, athlete.Dumbbell, athlete.FreeStanding}
	bellHinge    = kind{athlete.Hinge, athlete.Kettlebell, athlete.FreeStanding}
	benchHinge   = kind{athlete.Hinge, athlete.Barbell, athlete.Supported}
	bodyHinge    = kind{athlete.Hinge, athlete.OwnBody, athlete.Supported}
	cableHinge   = kind{athlete.Hinge, athlete.CableStack, athlete.FreeStanding}
	guidedHinge  = kind{athlete.Hinge, athlete.Machine, athlete.Guided}
	heldHinge    = kind{athlete.Hinge, athlete.Machine, athlete.Supported}
	smithHinge   = kind{athlete.Hinge, athlete.SmithMachine, athlete.Guided}
	dumbLunge    = kind{athlete.Lunge, athlete.Dumbbell, athlete.FreeStanding}
	smithLunge   = kind{athlete.Lunge, athlete.SmithMachine, athlete.Guided}
	barPress     = kind{athlete.HorizontalPush, athlete.Barbell, athlete.Supported}
	dumbPress    = kind{athlete.HorizontalPush, athlete.Dumbbell, athlete.Supported}
	guidedPress  = kind{athlete.HorizontalPush, athlete.Machine, athlete.Guided}
	smithPress   = kind{athlete.HorizontalPush, athlete.SmithMachine, athlete.Guided}
	bodyPress    = kind{athlete.HorizontalPush, athlete.OwnBody, athlete.FreeStanding}
	barOver      = kind{athlete.VerticalPush, athlete.Barbell, athlete.FreeStanding}
	dumbOver     = kind{athlete.VerticalPush, athlete.Dumbbell, athlete.Supported}
	guidedOver   = kind{athlete.VerticalPush, athlete.Machine, athlete.Guided}
	smithOver    = kind{athlete.VerticalPush, athlete.SmithMachine, athlete.Guided}
	barRow       = kind{athlete.HorizontalPull, athlete.Barbell, athlete.FreeStanding}
	dumbRow      = kind{athlete.HorizontalPull, athlete.Dumbbell, athlete.Supported}
	cableRow     = kind{athlete.HorizontalPull, athlete.CableStack, athlete.Supported}
	guidedRow    = kind{athlete.HorizontalPull, athlete.Machine, athlete.Guided}
	cablePull    = kind{athlete.VerticalPull, athlete.CableStack, athlete.Supported}
	cableStand   = kind{athlete.VerticalPull, athlete.CableStack, athlete.FreeStanding}
	bodyPull     = kind{athlete.VerticalPull, athlete.OwnBody, athlete.FreeStanding}
	dumbPull     = kind{athlete.VerticalPull, athlete.Dumbbell, athlete.Supported}
	barPull      = kind{athlete.VerticalPull, athlete.Barbell, athlete.FreeStanding}
	guidedPull   = kind{athlete.VerticalPull, athlete.Machine, athlete.Guided}
	guidedSingle = kind{athlete.SingleJoint, athlete.Machine, athlete.Guided}
	smithSingle  = kind{athlete.SingleJoint, athlete.SmithMachine, athlete.Guided}
	cableSingle  = kind{athlete.SingleJoint, athlete.CableStack, athlete.FreeStanding}
	dumbSingle   = kind{athlete.SingleJoint, athlete.Dumbbell, athlete.FreeStanding}
	heldDumb     = kind{athlete.SingleJoint, athlete.Dumbbell, athlete.Supported}
	barSingle    = kind{athlete.SingleJoint, athlete.Barbell, athlete.FreeStanding}
	heldBar      = kind{athlete.SingleJoint, athlete.Barbell, athlete.Supported}
	bodySingle   = kind{athlete.SingleJoint, athlete.OwnBody, athlete.Supported}
	bodyFree     = kind{athlete.SingleJoint, athlete.OwnBody, athlete.FreeStanding}
)
