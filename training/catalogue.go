package training

import (
	"slices"

	"glidepath/athlete"
)

// Pattern is the kind of movement.
type Pattern string

// The patterns of movement.
const (
	Squat          Pattern = "squat"
	Hinge          Pattern = "hinge"
	Lunge          Pattern = "lunge"
	HorizontalPush Pattern = "horizontal push"
	VerticalPush   Pattern = "vertical push"
	HorizontalPull Pattern = "horizontal pull"
	VerticalPull   Pattern = "vertical pull"
	SingleJoint    Pattern = "single joint"
)

// Shares of a set that count for a muscle: 1 where the muscle is trained
// directly, 0.5 where it assists (Pelland et al. 2024, preprint: fractional
// counting fitted best).
const (
	Direct   = 1.0
	Indirect = 0.5
)

// Share is what a set of an exercise counts for one muscle.
type Share struct {
	Muscle athlete.Muscle `json:"muscle"`
	Share  float64        `json:"share"`
}

// Exercise is one entry of the catalogue.
type Exercise struct {
	Name    string   `json:"name"`
	Aliases []string `json:"aliases,omitempty"`
	Pattern Pattern  `json:"pattern"`
	Muscles []Share  `json:"muscles"`
	// Big marks lifts of many joints and much load: they stand for strength as a
	// whole.
	Big bool `json:"big"`
	// BodyLoad marks exercises whose load is mostly the body itself; the weight
	// logged is not the load lifted, so they are not tracked for strength.
	BodyLoad bool `json:"body_load"`
}

// Catalogue is a copy of the exercises known, by name. Which muscles an exercise
// trains directly and which assist is common practice, no source.
func Catalogue() []Exercise {
	out := slices.Clone(catalogue)
	for i := range out {
		out[i].Aliases = slices.Clone(out[i].Aliases)
		out[i].Muscles = slices.Clone(out[i].Muscles)
	}
	slices.SortFunc(out, func(a, b Exercise) int {
		if a.Name < b.Name {
			return -1
		}
		return 1
	})
	return out
}

type muscles []athlete.Muscle

func entry(p Pattern, name string, direct, indirect muscles, aliases ...string) Exercise {
	e := Exercise{Name: name, Aliases: aliases, Pattern: p}
	for _, m := range direct {
		e.Muscles = append(e.Muscles, Share{m, Direct})
	}
	for _, m := range indirect {
		e.Muscles = append(e.Muscles, Share{m, Indirect})
	}
	return e
}

func big(e Exercise) Exercise {
	e.Big = true
	return e
}

func body(e Exercise) Exercise {
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
	deltTri    = muscles{athlete.Shoulders, athlete.Triceps}
	chestTri   = muscles{athlete.Chest, athlete.Triceps}
	bicepsDelt = muscles{athlete.Biceps, athlete.Shoulders}
)

// catalogue is never changed after it is made.
var catalogue = []Exercise{
	big(entry(Squat, "back squat", quadGlute, none, "squat", "barbell squat", "high bar squat", "low bar squat")),
	big(entry(Squat, "front squat", quads, glute, "barbell front squat")),
	big(entry(Squat, "leg press", quads, glute, "45 degree leg press", "machine leg press", "sled leg press")),
	big(entry(Squat, "hack squat", quads, glute, "machine hack squat")),
	entry(Squat, "goblet squat", quads, glute, "dumbbell squat", "kettlebell squat"),
	entry(Squat, "pendulum squat", quads, glute),
	entry(Squat, "smith squat", quadGlute, none, "smith machine squat"),
	entry(Squat, "belt squat", quadGlute, none),

	big(entry(Hinge, "deadlift", muscles{athlete.Hamstrings, athlete.Glutes, athlete.Back}, none, "conventional deadlift", "barbell deadlift")),
	big(entry(Hinge, "sumo deadlift", hamGlute, muscles{athlete.Quadriceps, athlete.Back})),
	big(entry(Hinge, "romanian deadlift", hamGlute, back, "rdl", "barbell romanian deadlift")),
	entry(Hinge, "dumbbell romanian deadlift", hamGlute, none, "dumbbell rdl"),
	big(entry(Hinge, "stiff leg deadlift", hamGlute, back, "sldl", "stiff legged deadlift", "straight leg deadlift")),
	big(entry(Hinge, "trap bar deadlift", muscles{athlete.Quadriceps, athlete.Glutes}, muscles{athlete.Hamstrings, athlete.Back}, "hex bar deadlift")),
	big(entry(Hinge, "hip thrust", glute, hams, "barbell hip thrust", "machine hip thrust")),
	entry(Hinge, "glute bridge", glute, hams, "barbell glute bridge"),
	entry(Hinge, "good morning", hams, glute, "barbell good morning"),
	body(entry(Hinge, "back extension", hamGlute, none, "hyperextension", "45 degree back extension")),
	entry(Hinge, "cable pull through", glute, hams, "pull through"),

	entry(Lunge, "lunge", quadGlute, none, "walking lunge", "dumbbell lunge", "reverse lunge", "barbell lunge"),
	entry(Lunge, "bulgarian split squat", quadGlute, none, "bss", "rear foot elevated split squat", "dumbbell bulgarian split squat"),
	entry(Lunge, "split squat", quadGlute, none, "dumbbell split squat"),
	entry(Lunge, "step up", quadGlute, none, "dumbbell step up"),

	big(entry(HorizontalPush, "bench press", chest, deltTri, "bench", "barbell bench press", "flat bench press", "flat barbell bench press")),
	big(entry(HorizontalPush, "incline bench press", chest, deltTri, "incline bench", "incline barbell bench press", "incline barbell press")),
	entry(HorizontalPush, "decline bench press", chest, deltTri, "decline barbell press"),
	big(entry(HorizontalPush, "dumbbell bench press", chest, deltTri, "dumbbell press", "flat dumbbell press", "flat dumbbell bench press", "dumbbell chest press")),
	big(entry(HorizontalPush, "incline dumbbell press", chest, deltTri, "incline dumbbell bench press")),
	entry(HorizontalPush, "chest press", chest, deltTri, "machine chest press", "seated chest press"),
	entry(HorizontalPush, "incline chest press", chest, deltTri, "incline machine press", "incline machine chest press"),
	entry(HorizontalPush, "smith bench press", chest, deltTri, "smith machine bench press"),
	entry(HorizontalPush, "smith incline press", chest, deltTri, "smith machine incline press", "incline smith machine press", "smith incline bench press"),
	entry(HorizontalPush, "close grip bench press", tris, chest, "close grip bench", "cgbp"),
	body(entry(HorizontalPush, "dip", chestTri, delts, "chest dip", "triceps dip", "weighted dip", "parallel bar dip")),
	body(entry(HorizontalPush, "push up", chest, deltTri, "press up", "pushup")),

	big(entry(VerticalPush, "overhead press", delts, tris, "ohp", "military press", "barbell shoulder press", "standing press", "barbell overhead press")),
	big(entry(VerticalPush, "dumbbell shoulder press", delts, tris, "seated dumbbell press", "dumbbell overhead press", "seated dumbbell shoulder press")),
	entry(VerticalPush, "machine shoulder press", delts, tris, "shoulder press", "seated shoulder press"),
	entry(VerticalPush, "arnold press", delts, tris, "dumbbell arnold press"),
	entry(VerticalPush, "smith shoulder press", delts, tris, "smith machine shoulder press"),

	big(entry(HorizontalPull, "barbell row", back, bicepsDelt, "bent over row", "bent over barbell row", "pendlay row")),
	big(entry(HorizontalPull, "dumbbell row", back, bicepsDelt, "one arm dumbbell row", "single arm dumbbell row")),
	entry(HorizontalPull, "cable row", back, bicepsDelt, "seated row", "seated cable row", "low row"),
	entry(HorizontalPull, "machine row", back, bicepsDelt, "seated machine row"),
	entry(HorizontalPull, "t bar row", back, bicepsDelt, "tbar row"),
	entry(HorizontalPull, "chest supported row", back, bicepsDelt, "chest supported dumbbell row", "incline dumbbell row", "seal row"),

	big(entry(VerticalPull, "lat pulldown", back, bis, "pulldown", "wide grip lat pulldown", "cable pulldown", "neutral grip lat pulldown", "close grip lat pulldown")),
	body(entry(VerticalPull, "pull up", back, bis, "pullup", "weighted pull up", "assisted pull up")),
	body(entry(VerticalPull, "chin up", muscles{athlete.Back, athlete.Biceps}, none, "chinup", "weighted chin up")),
	entry(VerticalPull, "straight arm pulldown", back, none, "cable pullover", "straight arm lat pulldown"),
	entry(VerticalPull, "pullover", back, chest, "dumbbell pullover", "machine pullover"),

	entry(SingleJoint, "leg extension", quads, none, "quad extension", "knee extension"),
	entry(SingleJoint, "lying leg curl", hams, none, "leg curl", "hamstring curl", "prone leg curl"),
	entry(SingleJoint, "seated leg curl", hams, none, "seated hamstring curl"),
	body(entry(SingleJoint, "nordic curl", hams, none, "nordic hamstring curl")),
	entry(SingleJoint, "hip abduction", glute, none, "abductor machine", "machine hip abduction", "cable hip abduction"),
	entry(SingleJoint, "glute kickback", glute, none, "cable glute kickback", "cable kickback", "machine glute kickback"),
	entry(SingleJoint, "standing calf raise", calf, none, "calf raise", "machine calf raise", "standing calf press"),
	entry(SingleJoint, "seated calf raise", calf, none),
	entry(SingleJoint, "leg press calf raise", calf, none, "calf press", "leg press calf press"),

	entry(SingleJoint, "pec fly", chest, none, "pec deck", "machine fly", "chest fly", "machine chest fly", "butterfly"),
	entry(SingleJoint, "cable fly", chest, none, "cable crossover", "low to high cable fly", "high to low cable fly"),
	entry(SingleJoint, "dumbbell fly", chest, none, "incline dumbbell fly", "flat dumbbell fly"),
	entry(SingleJoint, "lateral raise", delts, none, "side raise", "dumbbell lateral raise", "side lateral raise", "lateral"),
	entry(SingleJoint, "cable lateral raise", delts, none),
	entry(SingleJoint, "machine lateral raise", delts, none),
	entry(SingleJoint, "front raise", delts, none, "dumbbell front raise", "cable front raise", "plate front raise"),
	entry(SingleJoint, "rear delt fly", delts, none, "reverse fly", "reverse pec deck", "rear delt raise", "dumbbell rear delt fly", "cable rear delt fly", "rear delt machine"),
	entry(SingleJoint, "face pull", delts, back, "cable face pull", "rope face pull"),
	entry(VerticalPull, "upright row", delts, bis, "barbell upright row", "cable upright row"),
	entry(SingleJoint, "shrug", back, none, "barbell shrug", "dumbbell shrug"),

	entry(SingleJoint, "barbell curl", bis, none, "curl", "biceps curl", "ez bar curl", "standing barbell curl"),
	entry(SingleJoint, "dumbbell curl", bis, none, "dumbbell biceps curl", "seated dumbbell curl", "alternating dumbbell curl"),
	entry(SingleJoint, "incline dumbbell curl", bis, none, "incline curl"),
	entry(SingleJoint, "hammer curl", bis, none, "dumbbell hammer curl", "rope hammer curl", "cable hammer curl"),
	entry(SingleJoint, "preacher curl", bis, none, "ez bar preacher curl", "machine preacher curl", "dumbbell preacher curl"),
	entry(SingleJoint, "cable curl", bis, none, "cable biceps curl", "bayesian curl"),
	entry(SingleJoint, "triceps pushdown", tris, none, "pushdown", "rope pushdown", "cable pushdown", "triceps rope pushdown", "cable triceps pushdown", "triceps pressdown"),
	entry(SingleJoint, "overhead triceps extension", tris, none, "overhead cable triceps extension", "cable overhead extension", "dumbbell overhead triceps extension", "overhead rope extension"),
	entry(SingleJoint, "skull crusher", tris, none, "lying triceps extension", "skullcrusher", "ez bar skull crusher"),
	entry(SingleJoint, "triceps kickback", tris, none, "dumbbell triceps kickback"),

	entry(SingleJoint, "cable crunch", abs, none, "kneeling cable crunch", "rope crunch"),
	body(entry(SingleJoint, "crunch", abs, none, "sit up", "situp", "decline crunch")),
	entry(SingleJoint, "machine crunch", abs, none, "ab machine", "abdominal machine"),
	body(entry(SingleJoint, "hanging leg raise", abs, none, "leg raise", "hanging knee raise", "captain chair leg raise")),
	body(entry(SingleJoint, "ab wheel rollout", abs, none, "ab wheel", "rollout")),
	body(entry(SingleJoint, "plank", abs, none, "weighted plank")),
}
