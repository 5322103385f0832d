package web_test

import (
	"net/http"
	"testing"
)

// Every page of every invented athlete is served, and none is empty.
func TestPages(t *testing.T) {
	w := filled(t)
	b := w.owner()
	b.settled("/").wants(t, http.StatusOK, "Roster", "Read at 09:00", "<svg")
	for i := range demo().Seasons {
		a := &demo().Seasons[i].Athlete
		base := "/athletes/" + a.ID
		b.get(base).wants(t, http.StatusOK, a.Name)
		b.get(base+"/review").wants(t, http.StatusOK, "This week’s evidence")
		if i > 2 { // the rest is made of the same stuff for everybody
			continue
		}
		b.get(base+"/message").wants(t, http.StatusOK, "Hello ")
		b.get(base+"/season").wants(t, http.StatusOK, "What if?")
		b.get(base+"/profile").wants(t, http.StatusOK, "Screening and clearances")
		b.get(base+"/prescriptions").wants(t, http.StatusOK)
		b.get(base+"/import").wants(t, http.StatusOK, "What it is")
		b.get(base+"/erase").wants(t, http.StatusOK, "for good")
		b.get(base+"/days").wants(t, http.StatusOK, `"days"`)
		b.get(base+"/report").wants(t, http.StatusOK, "<!DOCTYPE html>")
		b.get(base+"/export").wants(t, http.StatusOK, a.ID)
	}
	b.get("/athletes/new").wants(t, http.StatusOK, "Add an athlete")
	b.get("/help").wants(t, http.StatusOK, "What it never does")
}
