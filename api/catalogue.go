package api

import (
	"context"
	"net/http"

	"glidepath/access"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/cardio"
)

// catalogue is what the whole desk shares: exercises, what names mean, and what
// cardio costs in fatigue. Whoever sees an athlete may read it; who may take in
// athletes may change it.
func (s *server) catalogue() {
	add(s, route{
		method: http.MethodGet, path: "/exercises", id: "list-exercises", summary: "List the catalogue of exercises, or the desk's own",
		rule: onList, do: access.SeeOwn, words: "read the exercises",
	}, func(ctx context.Context, _ *visit, in *struct {
		Own bool `query:"own" doc:"Only those that this desk added or changed"`
	},
	) (*told[[]athlete.Exercise], error) {
		if in.Own {
			own, err := s.app.Exercises(ctx)
			return tell(append([]athlete.Exercise{}, own...), err)
		}
		known, err := s.app.Catalogue(ctx)
		if err != nil {
			return nil, err
		}
		return &told[[]athlete.Exercise]{known.Exercises()}, nil
	})
	add(s, route{
		method: http.MethodPut, path: "/exercises/{name}", id: "put-exercise",
		summary: "Keep an exercise of the desk's own, in the place of the one of the address; a name of its own renames it",
		rule:    onAdding, do: access.Decide, words: "changed an exercise",
	}, func(ctx context.Context, _ *visit, in *struct {
		Named
		Body athlete.Exercise
	},
	) (*told[athlete.Exercise], error) {
		return tell(in.Body, s.app.RenameExercise(ctx, in.Name, in.Body))
	})
	add(s, route{
		method: http.MethodDelete, path: "/exercises/{name}", id: "remove-exercise",
		summary: "Remove one of the desk's own exercises; a standard one of the same name comes back", status: http.StatusNoContent,
		rule: onAdding, do: access.Decide, words: "removed an exercise",
	}, func(ctx context.Context, _ *visit, in *Named) (*nothing, error) {
		return &nothing{}, s.app.RemoveExercise(ctx, in.Name)
	})
	s.exerciseNames()
	add(s, route{
		method: http.MethodGet, path: "/cardio-fatigue", id: "get-cardio-fatigue", summary: "What cardio costs in fatigue on this desk",
		rule: onList, do: access.SeeOwn, words: "read the fatigue of cardio",
	}, func(ctx context.Context, _ *visit, _ *struct{}) (*told[cardio.FatigueTable], error) {
		return tell(s.app.FatigueTable(ctx))
	})
	add(s, route{
		method: http.MethodPut, path: "/cardio-fatigue", id: "put-cardio-fatigue", summary: "Set what cardio costs in fatigue, every kind once",
		rule: onAdding, do: access.Decide, words: "set the fatigue of cardio",
	}, func(ctx context.Context, _ *visit, in *struct{ Body cardio.FatigueTable }) (*told[cardio.FatigueTable], error) {
		if err := s.app.PutFatigueTable(ctx, in.Body); err != nil {
			return nil, err
		}
		return tell(s.app.FatigueTable(ctx))
	})
}

// NameSettled is what a name means on this desk.
type NameSettled struct {
	Typed    string `json:"typed" minLength:"1" maxLength:"120" doc:"As people type it; letter case, order of words and plurals do not matter"`
	Exercise string `json:"exercise" maxLength:"80" doc:"Of the catalogue; empty keeps it as a lift of its own"`
}

// Named is the exercise in a path.
type Named struct {
	Name string `path:"name" maxLength:"240" doc:"The exercise's name"`
}

// exerciseNames are what the desk's people call an exercise.
func (s *server) exerciseNames() {
	add(s, route{
		method: http.MethodGet, path: "/exercise-names", id: "list-exercise-names", summary: "List what was settled of names",
		rule: onList, do: access.SeeOwn, words: "read the names of exercises",
	}, func(ctx context.Context, _ *visit, _ *struct{}) (*told[[]athlete.ExerciseName], error) {
		all, err := s.app.ExerciseNames(ctx)
		return tell(append([]athlete.ExerciseName{}, all...), err)
	})
	add(s, route{
		method: http.MethodPut, path: "/exercise-names", id: "settle-exercise-name",
		summary: "Settle what a name means in every log: an exercise, or with none a lift of its own",
		rule:    onAdding, do: access.Decide, words: "settled the name of an exercise",
	}, func(ctx context.Context, _ *visit, in *struct{ Body NameSettled }) (*told[athlete.ExerciseName], error) {
		n := athlete.ExerciseName{Typed: in.Body.Typed, Exercise: in.Body.Exercise}
		return tell(n, s.app.SettleName(ctx, n))
	})
	add(s, route{
		method: http.MethodGet, path: "/athletes/{athlete}/exercise-names", id: "list-names-seen",
		summary: "List the names of exercises in an athlete's log, with what they are taken for and whether that is sure",
		do:      access.SeeOwn, words: "read the names of exercises in the log",
	}, func(ctx context.Context, _ *visit, in *struct {
		OfAthlete
		InSpan
	},
	) (*told[[]app.NameSeen], error) {
		from, to, err := s.dates(in.InSpan)
		if err != nil {
			return nil, err
		}
		sets, err := s.app.Sets(ctx, in.Athlete, from, to)
		if err != nil {
			return nil, err
		}
		seen, err := s.app.NamesSeen(ctx, sets)
		return tell(append([]app.NameSeen{}, seen...), err)
	})
}
