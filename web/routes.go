package web

import (
	"slices"

	"glidepath/access"
)

// route is one line of the list: what is asked of the actor, and what is done.
type route struct {
	pattern string
	open    bool // to anybody, signed in or not
	// needs is asked about the athlete of the address, or about the desk where it names none.
	needs access.Action
	// own is asked about the reader, who must be an athlete: these are their own pages.
	own access.Action
	// staff is open to owner, coach and assistant; adders to owner and coach; the
	// rest, where nothing is set, to whoever is signed in.
	staff, adders bool
	// words are what the record says of it, with no name in them; "" is not recorded.
	words string
	// dated words are followed by the date of the address; one line stands for all of
	// that day within half an hour.
	dated bool
	do    func(*request) error
}

// routes is every route but the assets, which are open.
func (s *Server) routes() []route {
	return slices.Concat(ownRoutes(), []route{
		{pattern: "GET /sign-in", open: true, do: showSignIn},
		{pattern: "POST /sign-in", open: true, do: signIn},
		{pattern: "GET /first-owner", open: true, do: showFirstOwner},
		{pattern: "POST /first-owner", open: true, do: firstOwner},
		{pattern: "POST /sign-in/passkey/ask", open: true, do: asking(askSignIn)},
		{pattern: "POST /sign-in/passkey", open: true, do: answering(signInByPasskey)},
		{pattern: "POST /sign-out", do: signOut},
		{pattern: "GET /account", do: showYourself}, // what is done here the accounts record themselves
		{pattern: "POST /account/password", do: changeOwnPassword},
		{pattern: "POST /account/proof/ask", do: asking(askProof)},
		{pattern: "POST /account/passkeys/ask", do: asking(askPasskey)},
		{pattern: "POST /account/passkeys", do: answering(keepPasskey)},
		{pattern: "POST /account/passkeys/rename", do: renamePasskey},
		{pattern: "POST /account/passkeys/remove", do: removePasskey},
		{pattern: "POST /account/sessions/end", do: signOutElsewhere},
		{pattern: "GET /help", open: true, do: showHelp},

		{pattern: "GET /{$}", staff: true, do: showRoster},
		{pattern: "POST /as-of", staff: true, do: setAsOf},
		{pattern: "POST /demo", staff: true, do: enterDemo},
		{pattern: "POST /demo/leave", staff: true, do: leaveDemo},
		{pattern: "GET /accounts", needs: access.Manage, do: showAccounts},
		{pattern: "POST /accounts", needs: access.Manage, do: addAccount},
		{pattern: "GET /accounts/{account}", needs: access.Manage, do: showAccount},
		{pattern: "POST /accounts/{account}/athletes", needs: access.Manage, do: setAthletes},
		{pattern: "POST /accounts/{account}/password", needs: access.Manage, do: setPassword},
		{pattern: "POST /accounts/{account}/role", needs: access.Manage, do: setRole},
		{pattern: "POST /accounts/{account}/passkeys/remove", needs: access.Manage, do: removeTheirPasskey},
		{pattern: "POST /accounts/{account}/state", needs: access.Manage, do: setState},
		{pattern: "POST /accounts/{account}/tokens", needs: access.Manage, do: addToken},
		{pattern: "POST /accounts/{account}/tokens/revoke", needs: access.Manage, do: revokeToken},
		{pattern: "GET /record", needs: access.Manage, words: "read the record", do: showRecord},
		{pattern: "GET /record.csv", needs: access.Manage, words: "exported the record", do: exportRecord},

		{pattern: "GET /exercises", staff: true, do: showExercises},
		{pattern: "GET /exercises/edit", adders: true, do: showExercise},
		{pattern: "POST /exercises", adders: true, do: keepExercise},
		{pattern: "POST /exercises/remove", adders: true, do: removeExercise},
		{pattern: "POST /exercises/names", adders: true, do: settleName},
		{pattern: "GET /cardio-costs", staff: true, do: showCosts},
		{pattern: "POST /cardio-costs", adders: true, do: keepCosts},

		{pattern: "GET /athletes/new", adders: true, do: showAdd},
		{pattern: "POST /athletes", adders: true, do: add},

		{pattern: "GET /athletes/{id}", needs: access.See, words: "read the overview", do: showAthlete},
		{pattern: "GET /athletes/{id}/days", needs: access.See, do: showDays},
		{pattern: "POST /athletes/{id}/notes", needs: access.Draft, words: "wrote a note", do: addNote},
		{pattern: "POST /athletes/{id}/notes/remove", needs: access.Decide, words: "removed a note", do: removeNote},
		{pattern: "GET /athletes/{id}/report", needs: access.See, words: "took out the report", do: showReport},

		{pattern: "GET /athletes/{id}/review", needs: access.See, words: "read the review", do: showReview},
		{pattern: "GET /athletes/{id}/review/effect", needs: access.See, do: showEffect},
		{pattern: "POST /athletes/{id}/review", needs: access.Decide, words: "decided on a review", do: decide},
		{pattern: "POST /athletes/{id}/weights", needs: access.Log, words: "answered about a weight", do: answerWeight},
		{pattern: "GET /athletes/{id}/message", needs: access.Draft, words: "read the draft of a message", do: showMessage},
		{pattern: "POST /athletes/{id}/message", needs: access.Draft, words: "kept a message", do: keepMessage},
		{pattern: "POST /athletes/{id}/message/send", needs: access.Decide, do: sendMessage}, // records it itself: only what was sent

		{pattern: "GET /athletes/{id}/season", needs: access.See, words: "read the season map", do: showSeason},
		{pattern: "GET /athletes/{id}/season/compared", needs: access.See, do: showCompared},
		{pattern: "POST /athletes/{id}/season", needs: access.Decide, words: "changed the season", do: acceptSeason},

		{pattern: "GET /athletes/{id}/training", needs: access.See, words: "read the training", do: showTraining},
		{pattern: "GET /athletes/{id}/cardio", needs: access.See, words: "read the cardio", do: showCardio},
		{pattern: "GET /athletes/{id}/programme", needs: access.See, words: "read the programme", do: showProgramme},
		{pattern: "POST /athletes/{id}/programme", needs: access.Decide, words: "wrote a programme", do: keepProgramme},
		{pattern: "GET /athletes/{id}/programme/file", needs: access.See, words: "took out a programme", do: takeProgrammeOut},
		{pattern: "GET /athletes/{id}/programme/text", needs: access.Decide, do: showText},
		{pattern: "POST /athletes/{id}/programme/text", needs: access.Decide, do: readText}, // keeps nothing
		{pattern: "GET /athletes/{id}/programme/write", needs: access.Decide, do: showWrite},
		{pattern: "POST /athletes/{id}/programme/write", needs: access.Decide, do: editProgramme}, // keeps nothing

		{pattern: "GET /athletes/{id}/profile", needs: access.See, words: "read the profile", do: showProfile},
		{pattern: "POST /athletes/{id}/profile", needs: access.Decide, words: "changed the profile", do: changeProfile},
		{pattern: "POST /athletes/{id}/shows", needs: access.Decide, words: "changed a show", do: putShow},
		{pattern: "POST /athletes/{id}/shows/remove", needs: access.Decide, words: "removed a show", do: removeShow},
		{pattern: "POST /athletes/{id}/events", needs: access.Decide, words: "added an event", do: addEvent},
		{pattern: "POST /athletes/{id}/events/remove", needs: access.Decide, words: "removed an event", do: removeEvent},
		{pattern: "POST /athletes/{id}/limits", needs: access.Decide, words: "changed a limit", do: changeLimit},
		{pattern: "POST /athletes/{id}/limits/leave", needs: access.Decide, words: "allowed low energy availability", do: allowLow},
		{pattern: "POST /athletes/{id}/screening", needs: access.Decide, words: "changed the screening", do: screen},
		{pattern: "POST /athletes/{id}/clearances", needs: access.Decide, words: "added a clearance", do: addClearance},
		{pattern: "POST /athletes/{id}/injuries", needs: access.Log, words: "noted an injury", do: addInjury},
		{pattern: "POST /athletes/{id}/injuries/end", needs: access.Decide, words: "recorded that an injury is over", do: endInjury},
		{pattern: "POST /athletes/{id}/measurements", needs: access.Log, words: "added a measurement", do: addMeasurement},
		{pattern: "GET /athletes/{id}/prescriptions", needs: access.See, words: "read the prescriptions", do: showPrescriptions},

		{pattern: "GET /athletes/{id}/import", needs: access.Log, do: showImport},
		{pattern: "POST /athletes/{id}/import", needs: access.Log, do: upload},
		{pattern: "POST /athletes/{id}/import/read", needs: access.Log, do: readAgain},
		{pattern: "POST /athletes/{id}/import/take", needs: access.Log, words: "imported a table", do: takeIn},
		{pattern: "GET /athletes/{id}/export", needs: access.See, words: "exported the data", do: export},
		{pattern: "GET /athletes/{id}/erase", needs: access.Remove, do: showErase},
		{pattern: "POST /athletes/{id}/erase", needs: access.Remove, do: erase},
	})
}

// check is nil where the reader may take the route.
func (t route) check(r *request) error {
	switch {
	case t.open:
		return nil
	case t.own != "":
		if !r.isOwn() {
			return notForStaff()
		}
		return r.visitor.Check(t.own, r.id())
	case t.needs != "":
		if err := r.visitor.Check(t.needs, r.id()); err != nil {
			return err
		}
	case t.adders:
		return r.visitor.CheckAdd()
	case !t.staff:
		return nil
	}
	if !r.staff() { // an athlete may log for themselves, but not on a coach's page
		return notForRole()
	}
	return nil
}
