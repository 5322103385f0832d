package training

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"glidepath/athlete"
)

// Match is what the catalogue knows of a name.
type Match struct {
	Exercise athlete.Exercise
	// Exact: the words are those of the name or an alias, in any order. Where not,
	// the exercise is near enough to count its muscles, but it may be a variant
	// (paused, another grip) whose strength is a series of its own.
	Exact bool
}

// nearEnough is the least likeness of two names, 0 to 1, that counts as a match
// (judgement: one lesser word more or fewer beside one main word).
const nearEnough = 0.8

// Lookup finds an exercise by the name a person typed: letter case, order of
// words, plurals, common shorthand (db, bb) and a slip of a letter do not
// matter. What was settled of a name goes first. ok is false where nothing is near,
// where two exercises for different muscles are equally near, and where the name
// was settled to be a lift of its own.
func (c *Catalogue) Lookup(name string) (m Match, ok bool) {
	if c == nil {
		c = Standard()
	}
	words := wordsOf(name)
	if len(words) == 0 {
		return Match{}, false
	}
	key := strings.Join(words, " ")
	if settled, is := c.names[key]; is {
		key = keyOf(settled)
		if key == "" {
			return Match{}, false
		}
		words = wordsOf(settled)
	}
	best, bestScore, torn := -1, 0.0, false
	for _, k := range c.index {
		if k.key == key {
			return Match{c.exercises[k.exercise], true}, true
		}
		score := likeness(words, k.words)
		switch {
		case score > bestScore+1e-9:
			best, bestScore, torn = k.exercise, score, false
		case score > bestScore-1e-9 && best >= 0:
			torn = torn || !slices.Equal(c.exercises[best].Muscles, c.exercises[k.exercise].Muscles)
		}
	}
	if bestScore < nearEnough-1e-9 || torn {
		return Match{}, false
	}
	return Match{c.exercises[best], false}, true
}

// SameName reports whether two spellings are of one name.
func SameName(a, b string) bool { return keyOf(a) == keyOf(b) }

// LiftKey is the same for two names that stand for one series of sets: they are
// spellings of one name, or both are surely the same exercise.
func (c *Catalogue) LiftKey(name string) string { return c.nameOf(name).key }

// SameLift reports whether two names stand for one series of sets.
func (c *Catalogue) SameLift(a, b string) bool { return c.LiftKey(a) == c.LiftKey(b) }

// Has reports whether an exercise of that very name is in the catalogue.
func (c *Catalogue) Has(name string) bool {
	if c == nil {
		c = Standard()
	}
	return slices.ContainsFunc(c.exercises, func(e athlete.Exercise) bool { return e.Name == name })
}

// Suggest lists up to n exercises that a typed name may mean, the nearest first.
func (c *Catalogue) Suggest(typed string, n int) []athlete.Exercise {
	if c == nil {
		c = Standard()
	}
	words := wordsOf(typed)
	if len(words) == 0 {
		return nil
	}
	scores := make([]float64, len(c.exercises))
	for _, k := range c.index {
		scores[k.exercise] = max(scores[k.exercise], likeness(words, k.words))
	}
	order := make([]int, 0, len(scores))
	for i, s := range scores {
		if s > 0 {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(scores[b], scores[a]) })
	var out []athlete.Exercise
	for _, i := range order[:min(n, len(order))] {
		out = append(out, c.exercises[i])
	}
	return out
}

// known is one name or alias of an exercise, ready to compare.
type known struct {
	key      string
	words    []string
	exercise int // in the catalogue
}

var shorthand = map[string]string{
	"db": "dumbbell", "bb": "barbell", "kb": "kettlebell", "incl": "incline", "ext": "extension",
	"flye": "fly", "flie": "fly", "ham": "hamstring", "quadricep": "quad", "tri": "tricep", "bi": "bicep",
	"machines": "machine", "abdominal": "ab", "lats": "lat",
}

var fillers = map[string]bool{"the": true, "with": true, "on": true, "a": true, "of": true, "and": true, "to": true, "in": true}

// lesser words tell the equipment or the manner rather than the movement.
var lesser = map[string]bool{
	"barbell": true, "dumbbell": true, "kettlebell": true, "machine": true, "cable": true, "smith": true,
	"seated": true, "standing": true, "flat": true, "ez": true, "bar": true, "rope": true, "plate": true,
	"grip": true, "wide": true, "close": true, "neutral": true, "paused": true, "pause": true, "tempo": true,
	"single": true, "one": true, "arm": true, "unilateral": true, "weighted": true, "heavy": true, "light": true,
	"45": true, "degree": true, "alternating": true, "loaded": true,
}

// wordsOf is a name's words in one spelling, sorted.
func wordsOf(name string) []string {
	fields := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r)
	})
	var words []string
	for _, w := range fields {
		w = singular(w)
		if full, ok := shorthand[w]; ok {
			w = full
		}
		if !fillers[w] {
			words = append(words, w)
		}
	}
	slices.Sort(words)
	return words
}

func singular(w string) string {
	switch {
	case strings.HasSuffix(w, "sses"):
		return w[:len(w)-2]
	case len(w) > 2 && strings.HasSuffix(w, "s") && !strings.HasSuffix(w, "ss"):
		return w[:len(w)-1]
	}
	return w
}

// likeness is Dice's coefficient over words (Dice 1945, Ecology 26:297), lesser
// words at half weight.
func likeness(a, b []string) float64 {
	var shared, total float64
	used := make([]bool, len(b))
	for _, w := range a {
		total += weight(w)
		for j, v := range b {
			if !used[j] && alike(w, v) {
				used[j] = true
				shared += weight(v)
				break
			}
		}
	}
	for _, v := range b {
		total += weight(v)
	}
	return 2 * shared / total
}

func weight(word string) float64 {
	if lesser[word] {
		return 0.5
	}
	return 1
}

// alike allows one slip in a word of 5 letters and two in one of 8.
func alike(a, b string) bool {
	if a == b {
		return true
	}
	slips := 0
	switch n := min(len(a), len(b)); {
	case n >= 8:
		slips = 2
	case n >= 5:
		slips = 1
	}
	return slips > 0 && distance([]rune(a), []rune(b)) <= slips
}

// distance counts insertions, deletions and substitutions (Levenshtein 1966).
func distance(a, b []rune) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i, x := range a {
		diagonal := row[0]
		row[0] = i + 1
		for j, y := range b {
			cost := diagonal
			if x != y {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
