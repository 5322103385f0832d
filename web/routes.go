package web

import "glidepath/access"

// route is one line of the list: what is asked of the actor, and what is done.
type route struct {
	pattern string
	open    bool // to anybody, signed in or not
	// needs is asked about the athlete of the address, where it names one.
	needs access.Action
	// staff is open to owner, coach and assistant; adders to owner and coach; the
	// rest, where nothing is set, to whoever is signed in.
	staff, adders bool
	do            func(*request) error
}

// routes is every route but the assets, which are open.
func (s *Server) routes() []route {
	return []route{
		{pattern: "GET /sign-in", open: true, do: showSignIn},
		{pattern: "POST /sign-in", open: true, do: signIn},
		{pattern: "GET /first-owner", open: true, do: showFirstOwner},
		{pattern: "POST /first-owner", open: true, do: firstOwner},
		{pattern: "POST /sign-out", do: signOut},
		{pattern: "GET /help", open: true, do: showHelp},

		{pattern: "GET /{$}", staff: true, do: showRoster},
		{pattern: "POST /as-of", staff: true, do: setAsOf},
		{pattern: "POST /demo", staff: true, do: enterDemo},
		{pattern: "POST /demo/leave", staff: true, do: leaveDemo},
		{pattern: "GET /athletes/new", adders: true, do: showAdd},
		{pattern: "POST /athletes", adders: true, do: add},

		{pattern: "GET /athletes/{id}", needs: access.See, do: showAthlete},
		{pattern: "GET /athletes/{id}/days", needs: access.See, do: showDays},
		{pattern: "GET /athletes/{id}/report", needs: access.See, do: showReport},

		{pattern: "GET /athletes/{id}/review", needs: access.See, do: showReview},
		{pattern: "GET /athletes/{id}/review/effect", needs: access.See, do: showEffect},
		{pattern: "POST /athletes/{id}/review", needs: access.Decide, do: decide},
		{pattern: "POST /athletes/{id}/weights", needs: access.Log, do: answerWeight},
		{pattern: "GET /athletes/{id}/message", needs: access.Draft, do: showMessage},
		{pattern: "POST /athletes/{id}/message", needs: access.Draft, do: keepMessage},

		{pattern: "GET /athletes/{id}/season", needs: access.See, do: showSeason},
		{pattern: "POST /athletes/{id}/season", needs: access.Decide, do: acceptSeason},

		{pattern: "GET /athletes/{id}/profile", needs: access.See, do: showProfile},
		{pattern: "POST /athletes/{id}/profile", needs: access.Decide, do: changeProfile},
		{pattern: "POST /athletes/{id}/shows", needs: access.Decide, do: putShow},
		{pattern: "POST /athletes/{id}/shows/remove", needs: access.Decide, do: removeShow},
		{pattern: "POST /athletes/{id}/events", needs: access.Decide, do: addEvent},
		{pattern: "POST /athletes/{id}/events/remove", needs: access.Decide, do: removeEvent},
		{pattern: "POST /athletes/{id}/limits", needs: access.Decide, do: changeLimit},
		{pattern: "POST /athletes/{id}/limits/leave", needs: access.Decide, do: allowLow},
		{pattern: "POST /athletes/{id}/screening", needs: access.Decide, do: screen},
		{pattern: "POST /athletes/{id}/clearances", needs: access.Decide, do: addClearance},
		{pattern: "POST /athletes/{id}/measurements", needs: access.Log, do: addMeasurement},
		{pattern: "GET /athletes/{id}/prescriptions", needs: access.See, do: showPrescriptions},

		{pattern: "GET /athletes/{id}/import", needs: access.Log, do: showImport},
		{pattern: "POST /athletes/{id}/import", needs: access.Log, do: upload},
		{pattern: "POST /athletes/{id}/import/read", needs: access.Log, do: readAgain},
		{pattern: "POST /athletes/{id}/import/take", needs: access.Log, do: takeIn},
		{pattern: "GET /athletes/{id}/export", needs: access.See, do: export},
		{pattern: "GET /athletes/{id}/erase", needs: access.Remove, do: showErase},
		{pattern: "POST /athletes/{id}/erase", needs: access.Remove, do: erase},
	}
}

// allowed reports whether the actor may take the route.
func (t route) allowed(r *request) bool {
	role := r.actor.Role
	switch {
	case t.open:
		return true
	case t.needs != "":
		return r.may(t.needs)
	case t.adders:
		return role == access.Owner || role == access.Coach
	case t.staff:
		return r.mayDemo()
	}
	return role != access.Nobody
}
