package web

import "glidepath/access"

// ownRoutes are the athlete's own pages, and what the coach's side has of them.
// Those with own name no athlete: they are about whoever is signed in.
func ownRoutes() []route {
	return []route{
		{pattern: "GET /invitation/{secret}", open: true, do: showInvited},
		{pattern: "POST /invitation/{secret}", open: true, do: accept},
		{pattern: "POST /invitation/{secret}/passkey/ask", open: true, do: asking(askAccept)},
		{pattern: "POST /invitation/{secret}/passkey", open: true, do: answering(acceptByPasskey)},
		{pattern: "GET /day-worker.js", open: true, do: worker},
		{pattern: "GET /manifest.webmanifest", open: true, do: manifest},
		{pattern: "GET /icon/{size}", open: true, do: showIcon},

		{pattern: "GET /day", own: access.SeeOwn, do: showToday},
		{pattern: "GET /day/{date}", own: access.SeeOwn, do: showDay},
		{pattern: "POST /day/{date}", own: access.Log, words: "logged a day", dated: true, do: saveDay},
		{pattern: "POST /day/{date}/{field}", own: access.Log, words: "logged a day", dated: true, do: saveField},
		{pattern: "GET /day/{date}/gym", own: access.SeeOwn, do: showGym},
		{pattern: "POST /day/{date}/gym", own: access.Log, words: "logged a session", dated: true, do: saveGym},
		{pattern: "POST /day/{date}/set", own: access.Log, words: "logged a set", dated: true, do: saveSet},
		{pattern: "POST /day/{date}/session", own: access.Log, words: "logged a session", dated: true, do: saveSession},
		{pattern: "POST /effort", own: access.Log, words: "chose the scale of effort", do: chooseEffort},
		{pattern: "POST /units", own: access.Log, words: "chose the units", do: chooseUnits},
		{pattern: "GET /check-in", own: access.SeeOwn, do: showCheckIn},
		{pattern: "POST /check-in", own: access.Log, words: "sent a check-in", do: sendCheckIn},
		{pattern: "GET /progress", own: access.SeeOwn, do: showProgress},
		{pattern: "GET /photos", own: access.SeeOwn, do: showPhotos},
		{pattern: "POST /photos", own: access.Log, words: "added a photo", do: addPhoto},
		{pattern: "POST /photos/remove", own: access.Log, words: "removed a photo", do: removePhoto},
		{pattern: "GET /photos/{date}/{pose}", own: access.SeeOwn, do: showPicture},

		{pattern: "GET /athletes/{id}/check-ins", needs: access.See, words: "read the check-ins", do: showCheckIns},
		{pattern: "GET /athletes/{id}/photos", needs: access.See, words: "saw the photos", do: showPhotos},
		{pattern: "GET /athletes/{id}/photos/{date}/{pose}", needs: access.See, do: showPicture},
		{pattern: "GET /athletes/{id}/invitation", needs: access.Decide, do: showInvitation},
		{pattern: "POST /athletes/{id}/invitation", needs: access.Decide, do: invite},
		{pattern: "POST /athletes/{id}/invitation/revoke", needs: access.Decide, do: revokeInvitation},
	}
}
