package training

import (
	"slices"

	"glidepath/athlete"
)

// standard is never changed after it is made. Equipment, stability, muscles and
// the regions that are loaded are common practice, no source.
var standard = slices.Concat(legLifts, pushes, pulls, flies, armLifts, trunkLifts)

var legLifts = []athlete.Exercise{
	big(barSquat.entry("back squat", quadGlute, none, squatting, "squat", "barbell squat", "high bar squat", "low bar squat")),
	big(barSquat.entry("front squat", quads, glute, squatting, "barbell front squat")),
	big(guidedSquat.entry("leg press", quads, glute, legs, "45 degree leg press", "machine leg press", "sled leg press")),
	big(guidedSquat.entry("hack squat", quads, glute, legs, "machine hack squat")),
	guidedSquat.entry("seated leg press", quads, glute, legs, "horizontal leg press"),
	dumbSquat.entry("goblet squat", quads, glute, squatting, "dumbbell squat", "kettlebell squat"),
	guidedSquat.entry("pendulum squat", quads, glute, legs),
	guidedSquat.entry("v squat", quadGlute, none, legs, "machine v squat"),
	smithSquat.entry("smith squat", quadGlute, none, squatting, "smith machine squat"),
	guidedSquat.entry("belt squat", quadGlute, none, standing),

	big(barHinge.entry("deadlift", whole, none, hanging, "conventional deadlift", "barbell deadlift")),
	big(barHinge.entry("sumo deadlift", hamGlute, muscles{athlete.Quadriceps, athlete.Back}, hanging)),
	big(barHinge.entry("romanian deadlift", hamGlute, back, hanging, "rdl", "barbell romanian deadlift")),
	dumbHinge.entry("dumbbell romanian deadlift", hamGlute, none, hanging, "dumbbell rdl"),
	smithHinge.entry("smith romanian deadlift", hamGlute, back, hipBack, "smith machine romanian deadlift", "smith rdl"),
	big(barHinge.entry("stiff leg deadlift", hamGlute, back, hanging, "sldl", "stiff legged deadlift", "straight leg deadlift")),
	big(barHinge.entry("trap bar deadlift", quadGlute, hamBack, hanging, "hex bar deadlift")),
	big(benchHinge.entry("hip thrust", glute, hams, hips, "barbell hip thrust")),
	guidedHinge.entry("machine hip thrust", glute, hams, hips, "hip thrust machine"),
	benchHinge.entry("glute bridge", glute, hams, hips, "barbell glute bridge"),
	barHinge.entry("good morning", hams, glute, hipBack, "barbell good morning"),
	body(bodyHinge.entry("back extension", hamGlute, none, hipBack, "hyperextension", "45 degree back extension")),
	heldHinge.entry("reverse hyperextension", hamGlute, none, hipBack, "reverse hyper"),
	cableHinge.entry("cable pull through", glute, hams, hipBack, "pull through"),
	bellHinge.entry("kettlebell swing", hamGlute, back, hanging),

	dumbLunge.entry("lunge", quadGlute, none, standing, "walking lunge", "dumbbell lunge", "reverse lunge", "barbell lunge"),
	dumbLunge.entry("bulgarian split squat", quadGlute, none, standing, "bss", "rear foot elevated split squat", "dumbbell bulgarian split squat"),
	dumbLunge.entry("split squat", quadGlute, none, standing, "dumbbell split squat"),
	smithLunge.entry("smith split squat", quadGlute, none, standing, "smith machine split squat", "smith lunge"),
	dumbLunge.entry("step up", quadGlute, none, standing, "dumbbell step up"),

	guidedSingle.entry("leg extension", quads, none, knees, "quad extension", "knee extension"),
	guidedSingle.entry("lying leg curl", hams, none, knees, "leg curl", "hamstring curl", "prone leg curl"),
	guidedSingle.entry("seated leg curl", hams, none, knees, "seated hamstring curl"),
	guidedSingle.entry("standing leg curl", hams, none, knees, "single leg curl"),
	body(bodySingle.entry("nordic curl", hams, none, knees, "nordic hamstring curl")),
	guidedSingle.entry("hip abduction", glute, none, hips, "abductor machine", "machine hip abduction", "cable hip abduction"),
	cableSingle.entry("glute kickback", glute, none, hips, "cable glute kickback", "cable kickback"),
	guidedSingle.entry("machine glute kickback", glute, none, hips, "glute kickback machine"),
	guidedSingle.entry("standing calf raise", calf, none, feet, "calf raise", "machine calf raise", "standing calf press"),
	guidedSingle.entry("seated calf raise", calf, none, feet),
	smithSingle.entry("smith calf raise", calf, none, feet, "smith machine calf raise"),
	guidedSingle.entry("leg press calf raise", calf, none, feet, "calf press", "leg press calf press"),
}

var pushes = []athlete.Exercise{
	big(barPress.entry("bench press", chest, deltTri, pressing, "bench", "barbell bench press", "flat bench press", "flat barbell bench press")),
	big(barPress.entry("incline bench press", chest, deltTri, pressing, "incline bench", "incline barbell bench press", "incline barbell press")),
	barPress.entry("decline bench press", chest, deltTri, pressing, "decline barbell press"),
	barPress.entry("floor press", chest, tris, elbows, "barbell floor press", "dumbbell floor press"),
	big(dumbPress.entry("dumbbell bench press", chest, deltTri, pressing, "dumbbell press", "flat dumbbell press", "flat dumbbell bench press", "dumbbell chest press")),
	big(dumbPress.entry("incline dumbbell press", chest, deltTri, pressing, "incline dumbbell bench press")),
	guidedPress.entry("chest press", chest, deltTri, pressing, "machine chest press", "seated chest press"),
	guidedPress.entry("incline chest press", chest, deltTri, pressing, "incline machine press", "incline machine chest press"),
	smithPress.entry("smith bench press", chest, deltTri, pressing, "smith machine bench press"),
	smithPress.entry("smith incline press", chest, deltTri, pressing, "smith machine incline press", "incline smith machine press", "smith incline bench press"),
	barPress.entry("close grip bench press", tris, chest, pressing, "close grip bench", "cgbp"),
	body(bodyPress.entry("dip", chestTri, delts, pressing, "chest dip", "triceps dip", "weighted dip", "parallel bar dip")),
	guidedPress.entry("machine dip", chestTri, delts, pressing, "seated dip", "dip machine"),
	body(bodyPress.entry("push up", chest, deltTri, pressing, "press up", "pushup")),

	big(barOver.entry("overhead press", delts, tris, overhead, "ohp", "military press", "barbell shoulder press", "standing press", "barbell overhead press")),
	big(dumbOver.entry("dumbbell shoulder press", delts, tris, seatedOver, "seated dumbbell press", "dumbbell overhead press", "seated dumbbell shoulder press")),
	guidedOver.entry("machine shoulder press", delts, tris, seatedOver, "shoulder press", "seated shoulder press"),
	dumbOver.entry("arnold press", delts, tris, seatedOver, "dumbbell arnold press"),
	smithOver.entry("smith shoulder press", delts, tris, seatedOver, "smith machine shoulder press"),
	barOver.entry("landmine press", delts, chestTri, pressing),
}

var pulls = []athlete.Exercise{
	big(barRow.entry("barbell row", back, bicepsDelt, bentOver, "bent over row", "bent over barbell row", "pendlay row")),
	big(dumbRow.entry("dumbbell row", back, bicepsDelt, rowing, "one arm dumbbell row", "single arm dumbbell row")),
	cableRow.entry("cable row", back, bicepsDelt, rowing, "seated row", "seated cable row", "low row"),
	guidedRow.entry("machine row", back, bicepsDelt, rowing, "seated machine row"),
	barRow.entry("t bar row", back, bicepsDelt, bentOver, "tbar row"),
	dumbRow.entry("chest supported row", back, bicepsDelt, rowing, "chest supported dumbbell row", "incline dumbbell row", "seal row"),

	big(cablePull.entry("lat pulldown", back, bis, overElbow, "pulldown", "wide grip lat pulldown", "cable pulldown", "neutral grip lat pulldown", "close grip lat pulldown")),
	guidedPull.entry("machine pulldown", back, bis, overElbow, "plate loaded pulldown"),
	body(bodyPull.entry("pull up", back, bis, overElbow, "pullup", "weighted pull up")),
	body(guidedPull.entry("assisted pull up", back, bis, overElbow, "machine pull up")),
	body(bodyPull.entry("chin up", pull, none, overElbow, "chinup", "weighted chin up")),
	cableStand.entry("straight arm pulldown", back, none, shoulder, "cable pullover", "straight arm lat pulldown"),
	dumbPull.entry("pullover", back, chest, shoulder, "dumbbell pullover"),
	guidedPull.entry("machine pullover", back, none, shoulder, "pullover machine"),
	barPull.entry("upright row", delts, bis, shoulder, "barbell upright row", "cable upright row"),
	barSingle.entry("shrug", back, none, shrugging, "barbell shrug", "dumbbell shrug"),
}

var flies = []athlete.Exercise{
	guidedSingle.entry("pec fly", chest, none, shoulder, "pec deck", "machine fly", "chest fly", "machine chest fly", "butterfly"),
	cableSingle.entry("cable fly", chest, none, shoulder, "cable crossover", "low to high cable fly", "high to low cable fly"),
	heldDumb.entry("dumbbell fly", chest, none, shoulder, "incline dumbbell fly", "flat dumbbell fly"),
	dumbSingle.entry("lateral raise", delts, none, shoulder, "side raise", "dumbbell lateral raise", "side lateral raise", "lateral"),
	cableSingle.entry("cable lateral raise", delts, none, shoulder),
	guidedSingle.entry("machine lateral raise", delts, none, shoulder),
	dumbSingle.entry("front raise", delts, none, shoulder, "dumbbell front raise", "cable front raise", "plate front raise"),
	dumbSingle.entry("rear delt fly", delts, none, shoulder, "reverse fly", "rear delt raise", "dumbbell rear delt fly", "cable rear delt fly"),
	guidedSingle.entry("reverse pec deck", delts, none, shoulder, "rear delt machine", "machine rear delt fly"),
	heldDumb.entry("chest supported rear delt fly", delts, none, shoulder, "chest supported reverse fly"),
	cableSingle.entry("face pull", delts, back, shoulder, "cable face pull", "rope face pull"),
}

var armLifts = []athlete.Exercise{
	barSingle.entry("barbell curl", bis, none, elbows, "curl", "biceps curl", "ez bar curl", "standing barbell curl"),
	dumbSingle.entry("dumbbell curl", bis, none, elbows, "dumbbell biceps curl", "seated dumbbell curl", "alternating dumbbell curl"),
	heldDumb.entry("incline dumbbell curl", bis, none, overElbow, "incline curl"),
	dumbSingle.entry("hammer curl", bis, none, elbows, "dumbbell hammer curl", "rope hammer curl", "cable hammer curl"),
	heldBar.entry("preacher curl", bis, none, elbows, "ez bar preacher curl", "dumbbell preacher curl"),
	guidedSingle.entry("machine preacher curl", bis, none, elbows, "preacher curl machine"),
	guidedSingle.entry("machine biceps curl", bis, none, elbows, "biceps curl machine"),
	heldDumb.entry("concentration curl", bis, none, elbows, "spider curl"),
	cableSingle.entry("cable curl", bis, none, elbows, "cable biceps curl", "bayesian curl"),
	cableSingle.entry("triceps pushdown", tris, none, elbows, "pushdown", "rope pushdown", "cable pushdown", "triceps rope pushdown", "cable triceps pushdown", "triceps pressdown"),
	cableSingle.entry("overhead triceps extension", tris, none, overElbow, "overhead cable triceps extension", "cable overhead extension", "dumbbell overhead triceps extension", "overhead rope extension"),
	heldBar.entry("skull crusher", tris, none, elbows, "lying triceps extension", "skullcrusher", "ez bar skull crusher"),
	guidedSingle.entry("machine triceps extension", tris, none, elbows, "triceps extension machine"),
	dumbSingle.entry("triceps kickback", tris, none, elbows, "dumbbell triceps kickback"),
}

var trunkLifts = []athlete.Exercise{
	cableSingle.entry("cable crunch", abs, none, trunk, "kneeling cable crunch", "rope crunch"),
	body(bodySingle.entry("crunch", abs, none, trunk, "sit up", "situp", "decline crunch")),
	guidedSingle.entry("machine crunch", abs, none, trunk, "ab machine", "abdominal machine"),
	body(bodyFree.entry("hanging leg raise", abs, none, hung, "leg raise", "hanging knee raise")),
	body(bodySingle.entry("supported leg raise", abs, none, trunk, "captain chair leg raise")),
	body(bodyFree.entry("ab wheel rollout", abs, none, hung, "ab wheel", "rollout")),
	body(bodyFree.entry("plank", abs, none, trunk, "weighted plank")),
}
