package training

import (
	"slices"
	"strings"
	"sync"

	"glidepath/athlete"
)

// Shares of a set that count for a muscle: 1 where the muscle is trained
// directly, 0.5 where it assists (Pelland et al. 2024, preprint: fractional
// counting fitted best).
const (
	Direct   = 1.0
	Indirect = 0.5
)

// Catalogue is the exercises known to a desk and what its people call them. It is
// never changed once made, and safe for use by many at once. A nil one is Standard.
type Catalogue struct {
	exercises []athlete.Exercise // by name
	index     []known
	names     map[string]string // key of what was typed -> name; "" is a lift of its own
}

// Standard is the catalogue that comes with the program. Which muscles an exercise
// trains directly and which assist is common practice, no source.
var Standard = sync.OnceValue(func() *Catalogue { return NewCatalogue(nil, nil) })

// NewCatalogue is the standard one with a desk's own exercises, each in the place
// of the one with the same name if there is one, and names that were settled.
func NewCatalogue(own []athlete.Exercise, names []athlete.ExerciseName) *Catalogue {
	c := &Catalogue{names: map[string]string{}}
	mine := map[string]bool{}
	for _, e := range own {
		mine[keyOf(e.Name)] = true
		c.exercises = append(c.exercises, e)
	}
	for _, e := range standard {
		if !mine[keyOf(e.Name)] {
			c.exercises = append(c.exercises, e)
		}
	}
	slices.SortFunc(c.exercises, func(a, b athlete.Exercise) int { return strings.Compare(a.Name, b.Name) })
	for i := range c.exercises {
		e := &c.exercises[i]
		for _, name := range append([]string{e.Name}, e.Aliases...) {
			words := wordsOf(name)
			c.index = append(c.index, known{strings.Join(words, " "), words, i})
		}
	}
	for _, n := range names {
		c.names[keyOf(n.Typed)] = n.Exercise
	}
	return c
}

// Exercises is a copy of the entries, by name.
func (c *Catalogue) Exercises() []athlete.Exercise {
	if c == nil {
		c = Standard()
	}
	out := slices.Clone(c.exercises)
	for i := range out {
		out[i].Aliases = slices.Clone(out[i].Aliases)
		out[i].Muscles = slices.Clone(out[i].Muscles)
		out[i].Loads = slices.Clone(out[i].Loads)
	}
	return out
}

type muscles []athlete.Muscle

func entry(p athlete.Pattern, name string, direct, indirect muscles, aliases ...string) athlete.Exercise {
	e := athlete.Exercise{Name: name, Aliases: aliases, Pattern: p}
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
	deltTri    = muscles{athlete.Shoulders, athlete.Triceps}
	chestTri   = muscles{athlete.Chest, athlete.Triceps}
	bicepsDelt = muscles{athlete.Biceps, athlete.Shoulders}
)

// standard is never changed after it is made.
var standard = []athlete.Exercise{
	big(entry(athlete.Squat, "back squat", quadGlute, none, "squat", "barbell squat", "high bar squat", "low bar squat")),
	big(entry(athlete.Squat, "front squat", quads, glute, "barbell front squat")),
	big(entry(athlete.Squat, "leg press", quads, glute, "45 degree leg press", "machine leg press", "sled leg press")),
	big(entry(athlete.Squat, "hack squat", quads, glute, "machine hack squat")),
	entry(athlete.Squat, "goblet squat", quads, glute, "dumbbell squat", "kettlebell squat"),
	entry(athlete.Squat, "pendulum squat", quads, glute),
	entry(athlete.Squat, "smith squat", quadGlute, none, "smith machine squat"),
	entry(athlete.Squat, "belt squat", quadGlute, none),

	big(entry(athlete.Hinge, "deadlift", muscles{athlete.Hamstrings, athlete.Glutes, athlete.Back}, none, "conventional deadlift", "barbell deadlift")),
	big(entry(athlete.Hinge, "sumo deadlift", hamGlute, muscles{athlete.Quadriceps, athlete.Back})),
	big(entry(athlete.Hinge, "romanian deadlift", hamGlute, back, "rdl", "barbell romanian deadlift")),
	entry(athlete.Hinge, "dumbbell romanian deadlift", hamGlute, none, "dumbbell rdl"),
	big(entry(athlete.Hinge, "stiff leg deadlift", hamGlute, back, "sldl", "stiff legged deadlift", "straight leg deadlift")),
	big(entry(athlete.Hinge, "trap bar deadlift", muscles{athlete.Quadriceps, athlete.Glutes}, muscles{athlete.Hamstrings, athlete.Back}, "hex bar deadlift")),
	big(entry(athlete.Hinge, "hip thrust", glute, hams, "barbell hip thrust", "machine hip thrust")),
	entry(athlete.Hinge, "glute bridge", glute, hams, "barbell glute bridge"),
	entry(athlete.Hinge, "good morning", hams, glute, "barbell good morning"),
	body(entry(athlete.Hinge, "back extension", hamGlute, none, "hyperextension", "45 degree back extension")),
	entry(athlete.Hinge, "cable pull through", glute, hams, "pull through"),

	entry(athlete.Lunge, "lunge", quadGlute, none, "walking lunge", "dumbbell lunge", "reverse lunge", "barbell lunge"),
	entry(athlete.Lunge, "bulgarian split squat", quadGlute, none, "bss", "rear foot elevated split squat", "dumbbell bulgarian split squat"),
	entry(athlete.Lunge, "split squat", quadGlute, none, "dumbbell split squat"),
	entry(athlete.Lunge, "step up", quadGlute, none, "dumbbell step up"),

	big(entry(athlete.HorizontalPush, "bench press", chest, deltTri, "bench", "barbell bench press", "flat bench press", "flat barbell bench press")),
	big(entry(athlete.HorizontalPush, "incline bench press", chest, deltTri, "incline bench", "incline barbell bench press", "incline barbell press")),
	entry(athlete.HorizontalPush, "decline bench press", chest, deltTri, "decline barbell press"),
	big(entry(athlete.HorizontalPush, "dumbbell bench press", chest, deltTri, "dumbbell press", "flat dumbbell press", "flat dumbbell bench press", "dumbbell chest press")),
	big(entry(athlete.HorizontalPush, "incline dumbbell press", chest, deltTri, "incline dumbbell bench press")),
	entry(athlete.HorizontalPush, "chest press", chest, deltTri, "machine chest press", "seated chest press"),
	entry(athlete.HorizontalPush, "incline chest press", chest, deltTri, "incline machine press", "incline machine chest press"),
	entry(athlete.HorizontalPush, "smith bench press", chest, deltTri, "smith machine bench press"),
	entry(athlete.HorizontalPush, "smith incline press", chest, deltTri, "smith machine incline press", "incline smith machine press", "smith incline bench press"),
	entry(athlete.HorizontalPush, "close grip bench press", tris, chest, "close grip bench", "cgbp"),
	body(entry(athlete.HorizontalPush, "dip", chestTri, delts, "chest dip", "triceps dip", "weighted dip", "parallel bar dip")),
	body(entry(athlete.HorizontalPush, "push up", chest, deltTri, "press up", "pushup")),

	big(entry(athlete.VerticalPush, "overhead press", delts, tris, "ohp", "military press", "barbell shoulder press", "standing press", "barbell overhead press")),
	big(entry(athlete.VerticalPush, "dumbbell shoulder press", delts, tris, "seated dumbbell press", "dumbbell overhead press", "seated dumbbell shoulder press")),
	entry(athlete.VerticalPush, "machine shoulder press", delts, tris, "shoulder press", "seated shoulder press"),
	entry(athlete.VerticalPush, "arnold press", delts, tris, "dumbbell arnold press"),
	entry(athlete.VerticalPush, "smith shoulder press", delts, tris, "smith machine shoulder press"),

	big(entry(athlete.HorizontalPull, "barbell row", back, bicepsDelt, "bent over row", "bent over barbell row", "pendlay row")),
	big(entry(athlete.HorizontalPull, "dumbbell row", back, bicepsDelt, "one arm dumbbell row", "single arm dumbbell row")),
	entry(athlete.HorizontalPull, "cable row", back, bicepsDelt, "seated row", "seated cable row", "low row"),
	entry(athlete.HorizontalPull, "machine row", back, bicepsDelt, "seated machine row"),
	entry(athlete.HorizontalPull, "t bar row", back, bicepsDelt, "tbar row"),
	entry(athlete.HorizontalPull, "chest supported row", back, bicepsDelt, "chest supported dumbbell row", "incline dumbbell row", "seal row"),

	big(entry(athlete.VerticalPull, "lat pulldown", back, bis, "pulldown", "wide grip lat pulldown", "cable pulldown", "neutral grip lat pulldown", "close grip lat pulldown")),
	body(entry(athlete.VerticalPull, "pull up", back, bis, "pullup", "weighted pull up", "assisted pull up")),
	body(entry(athlete.VerticalPull, "chin up", muscles{athlete.Back, athlete.Biceps}, none, "chinup", "weighted chin up")),
	entry(athlete.VerticalPull, "straight arm pulldown", back, none, "cable pullover", "straight arm lat pulldown"),
	entry(athlete.VerticalPull, "pullover", back, chest, "dumbbell pullover", "machine pullover"),

	entry(athlete.SingleJoint, "leg extension", quads, none, "quad extension", "knee extension"),
	entry(athlete.SingleJoint, "lying leg curl", hams, none, "leg curl", "hamstring curl", "prone leg curl"),
	entry(athlete.SingleJoint, "seated leg curl", hams, none, "seated hamstring curl"),
	body(entry(athlete.SingleJoint, "nordic curl", hams, none, "nordic hamstring curl")),
	entry(athlete.SingleJoint, "hip abduction", glute, none, "abductor machine", "machine hip abduction", "cable hip abduction"),
	entry(athlete.SingleJoint, "glute kickback", glute, none, "cable glute kickback", "cable kickback", "machine glute kickback"),
	entry(athlete.SingleJoint, "standing calf raise", calf, none, "calf raise", "machine calf raise", "standing calf press"),
	entry(athlete.SingleJoint, "seated calf raise", calf, none),
	entry(athlete.SingleJoint, "leg press calf raise", calf, none, "calf press", "leg press calf press"),

	entry(athlete.SingleJoint, "pec fly", chest, none, "pec deck", "machine fly", "chest fly", "machine chest fly", "butterfly"),
	entry(athlete.SingleJoint, "cable fly", chest, none, "cable crossover", "low to high cable fly", "high to low cable fly"),
	entry(athlete.SingleJoint, "dumbbell fly", chest, none, "incline dumbbell fly", "flat dumbbell fly"),
	entry(athlete.SingleJoint, "lateral raise", delts, none, "side raise", "dumbbell lateral raise", "side lateral raise", "lateral"),
	entry(athlete.SingleJoint, "cable lateral raise", delts, none),
	entry(athlete.SingleJoint, "machine lateral raise", delts, none),
	entry(athlete.SingleJoint, "front raise", delts, none, "dumbbell front raise", "cable front raise", "plate front raise"),
	entry(athlete.SingleJoint, "rear delt fly", delts, none, "reverse fly", "reverse pec deck", "rear delt raise", "dumbbell rear delt fly", "cable rear delt fly", "rear delt machine"),
	entry(athlete.SingleJoint, "face pull", delts, back, "cable face pull", "rope face pull"),
	entry(athlete.VerticalPull, "upright row", delts, bis, "barbell upright row", "cable upright row"),
	entry(athlete.SingleJoint, "shrug", back, none, "barbell shrug", "dumbbell shrug"),

	entry(athlete.SingleJoint, "barbell curl", bis, none, "curl", "biceps curl", "ez bar curl", "standing barbell curl"),
	entry(athlete.SingleJoint, "dumbbell curl", bis, none, "dumbbell biceps curl", "seated dumbbell curl", "alternating dumbbell curl"),
	entry(athlete.SingleJoint, "incline dumbbell curl", bis, none, "incline curl"),
	entry(athlete.SingleJoint, "hammer curl", bis, none, "dumbbell hammer curl", "rope hammer curl", "cable hammer curl"),
	entry(athlete.SingleJoint, "preacher curl", bis, none, "ez bar preacher curl", "machine preacher curl", "dumbbell preacher curl"),
	entry(athlete.SingleJoint, "cable curl", bis, none, "cable biceps curl", "bayesian curl"),
	entry(athlete.SingleJoint, "triceps pushdown", tris, none, "pushdown", "rope pushdown", "cable pushdown", "triceps rope pushdown", "cable triceps pushdown", "triceps pressdown"),
	entry(athlete.SingleJoint, "overhead triceps extension", tris, none, "overhead cable triceps extension", "cable overhead extension", "dumbbell overhead triceps extension", "overhead rope extension"),
	entry(athlete.SingleJoint, "skull crusher", tris, none, "lying triceps extension", "skullcrusher", "ez bar skull crusher"),
	entry(athlete.SingleJoint, "triceps kickback", tris, none, "dumbbell triceps kickback"),

	entry(athlete.SingleJoint, "cable crunch", abs, none, "kneeling cable crunch", "rope crunch"),
	body(entry(athlete.SingleJoint, "crunch", abs, none, "sit up", "situp", "decline crunch")),
	entry(athlete.SingleJoint, "machine crunch", abs, none, "ab machine", "abdominal machine"),
	body(entry(athlete.SingleJoint, "hanging leg raise", abs, none, "leg raise", "hanging knee raise", "captain chair leg raise")),
	body(entry(athlete.SingleJoint, "ab wheel rollout", abs, none, "ab wheel", "rollout")),
	body(entry(athlete.SingleJoint, "plank", abs, none, "weighted plank")),
}
