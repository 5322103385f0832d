/* The daily step of package dynamics in C, operation for operation, as a
 * yardstick for its speed and its arithmetic. tools/cloop.sh compiles and runs
 * it; "step check" prints what testdata/step_c.txt holds, "step time" times it.
 *
 * Compile without contraction (-ffp-contract=off): Go on amd64 rounds after
 * each multiplication, and both should give the same bits. */
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

#define KCAL_PER_MJ (1 / 0.004184)
#define FAT_ENERGY (39.5 * KCAL_PER_MJ)
#define LEAN_ENERGY (7.6 * KCAL_PER_MJ)
#define GLYCOGEN_ENERGY (17.6 * KCAL_PER_MJ)
#define FAT_RESTING (0.013 * KCAL_PER_MJ)
#define LEAN_RESTING (0.092 * KCAL_PER_MJ)
#define FAT_SYNTHESIS_SHARE (0.75 / 39.5)
#define LEAN_SYNTHESIS_SHARE (0.96 / 7.6)
#define GLYCOGEN_WATER 2.7
#define FLUID_RATE (3000.0 / 3220.0)
#define FORBES_ENERGY_KG (10.4 * 7.6 / 39.5)
#define LEANEST_FAT 0.5

typedef struct {
	double rest, activity, yield, intake0, adaptation_gain, thermic;
	double loss_scale, gain_scale, fat_supply;
	double fluid0, glycogen_rate, per_carbohydrate, adaptation_decay, adaptation_mean;
} model;

typedef struct { double fat, lean, glycogen, fluid, adaptation, intake_mean; } state;
typedef struct { double energy, carbohydrate, sodium, activity; } input;

static double fluid_decay, fluid_mean;

static double glycogen_after_day(const model *m, double g, double carbohydrate) {
	double in = fmax(0, carbohydrate) * (1 / GLYCOGEN_ENERGY);
	double w = m->glycogen_rate * in;
	if (w > 4.0) {
		double u = sqrt(w), r = tanh(u) / u;
		return (g + in * r) / (1 + g * m->glycogen_rate * r);
	}
	double p = 34459425 + w * (4729725 + w * (135135 + w * (990 + w)));
	double q = 34459425 + w * (16216200 + w * (945945 + w * (13860 + w * 45)));
	return (g * q + in * p) / (q + g * m->glycogen_rate * p);
}

static void flux(const model *m, double fat, double base, double x, double usual, double *to_fat, double *to_lean) {
	double lean = m->gain_scale * FORBES_ENERGY_KG, deficit = base - usual;
	if (deficit > 0) {
		lean = m->loss_scale * FORBES_ENERGY_KG;
		double supply = m->fat_supply;
		if (supply > 0 && deficit > supply * (lean + fat))
			lean = fmax(lean, fmin(FORBES_ENERGY_KG, deficit / supply - fat));
	}
	double stored = (x - base) / (fat * (1 + FAT_SYNTHESIS_SHARE) + lean * (1 + LEAN_SYNTHESIS_SHARE));
	*to_fat = fat * stored;
	*to_lean = lean * stored;
}

static double step(const model *m, state *s, const input *in) {
	double g0 = s->glycogen, g1 = glycogen_after_day(m, g0, in->carbohydrate);

	double salt = 4000.0 * (1 - in->carbohydrate * m->per_carbohydrate);
	double fluid_end = m->fluid0 + (in->sodium - salt) * (1 / 3000.0);
	double gap = s->fluid - fluid_end;
	double fluid_mean_kg = fluid_end + gap * fluid_mean;

	double change = in->energy - m->intake0;
	double adaptation_end = m->adaptation_gain * change;
	double open = s->adaptation - adaptation_end;
	double adaptation_mean = adaptation_end + open * m->adaptation_mean;

	double x = in->energy - GLYCOGEN_ENERGY * (g1 - g0);
	double activity = m->activity + m->yield * in->activity;
	double water = (1 + GLYCOGEN_WATER) * 0.5 * (g0 + g1) + fluid_mean_kg;
	double constant = m->rest + activity * water + m->thermic * change + adaptation_mean;
	double per_fat = FAT_RESTING + activity, per_lean = LEAN_RESTING + activity;

	double usual = in->energy;
	if (s->intake_mean > 0)
		usual = s->intake_mean + (usual - s->intake_mean) * (1 / 7.0);

	double f = s->fat, l = s->lean, to_fat, to_lean;
	flux(m, f, constant + per_fat * f + per_lean * l, x, usual, &to_fat, &to_lean);
	f += to_fat * (0.5 / FAT_ENERGY);
	l += to_lean * (0.5 / LEAN_ENERGY);
	if (f < LEANEST_FAT)
		f = LEANEST_FAT;
	flux(m, f, constant + per_fat * f + per_lean * l, x, usual, &to_fat, &to_lean);

	f = s->fat + to_fat * (1 / FAT_ENERGY);
	if (f < LEANEST_FAT)
		f = LEANEST_FAT;
	s->fat = f;
	s->lean += to_lean * (1 / LEAN_ENERGY);
	s->glycogen = g1;
	s->fluid = fluid_end + gap * fluid_decay;
	s->adaptation = adaptation_end + open * m->adaptation_decay;
	s->intake_mean = usual;
	return x - to_fat - to_lean;
}

/* A season's inputs that visit every branch: no carbohydrate, loads, deep
 * deficits, surpluses, salt. step_c_test.go makes the same. */
enum { DAYS = 180 };
static input inputs[DAYS];

static void fill(void) {
	for (int day = 0; day < DAYS; day++) {
		input *in = &inputs[day];
		in->energy = (day < 60 ? 300 : 1500) + 37 * (day * day % 61);
		in->carbohydrate = in->energy * (day % 8) * 0.1;
		if (day % 50 == 49)
			in->energy = 14000, in->carbohydrate = 13000;
		in->sodium = 500 * (day % 5 - 2);
		in->activity = day % 13;
	}
}

/* An invented trained man. */
static void start(model *m, state *s) {
	memset(m, 0, sizeof *m);
	m->rest = 700, m->activity = 3, m->yield = 0.75, m->intake0 = 2900;
	m->adaptation_gain = 0.14, m->thermic = 0.10;
	m->loss_scale = 0.20, m->gain_scale = 0.35, m->fat_supply = 69.3;
	m->fluid0 = 20;
	m->glycogen_rate = 1300 / (0.5 * 0.5) / GLYCOGEN_ENERGY;
	m->per_carbohydrate = 1 / 1300.0;
	m->adaptation_decay = exp(-1 / 14.0);
	m->adaptation_mean = 14.0 * (1 - m->adaptation_decay);
	s->fat = 11, s->lean = 74 - (1 + GLYCOGEN_WATER) * 0.5 - 20;
	s->glycogen = 0.5, s->fluid = 20, s->adaptation = -60, s->intake_mean = 2900;
}

static double seconds(void) {
	struct timespec t;
	clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
	return t.tv_sec + 1e-9 * t.tv_nsec;
}

static void check(void) {
	model m;
	state s;
	start(&m, &s);
	for (int day = 0; day < DAYS; day++) {
		double spent = step(&m, &s, &inputs[day]);
		printf("%d %.17g %.17g %.17g %.17g %.17g %.17g\n", day, s.fat, s.lean, s.glycogen, s.fluid, s.adaptation, spent);
	}
}

/* one: a season again and again, each day waiting for the last, as
 * BenchmarkSeason. */
static void one(void) {
	enum { SEASONS = 200000 };
	model m;
	state first, s;
	double sum = 0, t = seconds();
	start(&m, &first);
	for (int i = 0; i < SEASONS; i++) {
		s = first;
		for (int day = 0; day < DAYS; day++)
			sum += step(&m, &s, &inputs[day]);
	}
	t = seconds() - t;
	printf("one athlete: %.2f ns a step, %.1f million athlete-days a second (%g)\n",
	       1e9 * t / SEASONS / DAYS, SEASONS * (double)DAYS / t / 1e6, sum);
}

/* many: a thousand athletes side by side, day by day, as BenchmarkSideBySide. */
static void many(void) {
	enum { ATHLETES = 1000, SEASONS = 200 };
	static state s[ATHLETES];
	model m;
	state first;
	double sum = 0, t = seconds();
	start(&m, &first);
	for (int i = 0; i < SEASONS; i++) {
		for (int a = 0; a < ATHLETES; a++)
			s[a] = first;
		for (int day = 0; day < DAYS; day++)
			for (int a = 0; a < ATHLETES; a++)
				sum += step(&m, &s[a], &inputs[day]);
	}
	t = seconds() - t;
	printf("a thousand:  %.2f ns a step, %.1f million athlete-days a second (%g)\n",
	       1e9 * t / SEASONS / DAYS / ATHLETES, SEASONS * (double)DAYS * ATHLETES / t / 1e6, sum);
}

int main(int argc, char **argv) {
	fluid_decay = exp(-FLUID_RATE);
	fluid_mean = (1 - fluid_decay) / FLUID_RATE;
	fill();
	if (argc > 1 && strcmp(argv[1], "check") == 0) {
		check();
		return 0;
	}
	one();
	many();
	return 0;
}
