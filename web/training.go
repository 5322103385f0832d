package web

import (
	"html/template"
	"net/http"

	"glidepath/report"
)

// trainingPage is what is so of the training: strength, sets, load, recovery.
type trainingPage struct {
	Doc   report.Document
	Parts map[string]template.HTML
}

// trainingParts are the sections of the page.
var trainingParts = []string{"training", "strength", "sets", "load", "recovery"}

func showTraining(r *request) error {
	d, err := r.dossier(nil)
	if err != nil {
		return err
	}
	body := trainingPage{Doc: r.document(d)}
	if body.Parts, err = partsOf(body.Doc, trainingParts); err != nil {
		return err
	}
	return r.page(http.StatusOK, "training", page{Title: "Training of " + d.Athlete.Name, Athlete: &d.Athlete, Tab: "training", Body: body})
}
