package web

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"path/filepath"
	"strings"

	"glidepath/athlete"
	"glidepath/fault"
	"glidepath/sheet"
)

// textPage is a programme as plain text, to be written, pasted or sent as a file.
type textPage struct{ Form form }

// showText begins with a version as text, or with nothing where there is none.
func showText(r *request) error {
	p, _, err := r.begun()
	if err != nil {
		return err
	}
	text := ""
	if p != nil {
		text = sheet.WriteProgramme(*p)
	}
	return r.textPage(http.StatusOK, text, nil)
}

func (r *request) textPage(code int, text string, wrong error) error {
	a, err := r.athlete()
	if err != nil {
		return err
	}
	p := page{Title: "Programme of " + a.Name + " as text", Athlete: a, Tab: "programme"}
	body := textPage{Form: form{Values: url.Values{"text": {text}}}}
	if wrong != nil {
		p.Faults = troubles(wrong)
	}
	p.Body = body
	return r.page(code, "programme-text", p)
}

// readText reads what was pasted or sent, and opens it in the form; nothing is kept.
func readText(r *request) error {
	if err := r.ParseMultipartForm(mostFile); err != nil {
		if most, ok := errors.AsType[*http.MaxBytesError](err); ok {
			return most
		}
		return fault.New(fault.Invalid, "The form could not be read.").WithHint("Send it again.")
	}
	text := r.PostFormValue("text")
	name, content := "", []byte(text)
	if file, head, err := r.FormFile("file"); err == nil {
		defer file.Close() //nolint:errcheck // only read from
		if content, err = io.ReadAll(file); err != nil {
			return err
		}
		name = head.Filename
	}
	p, err := r.readProgramme(name, content)
	if err != nil {
		if fault.KindOf(err) == "" {
			return err
		}
		return r.textPage(status(err), text, err)
	}
	all, err := r.programmes()
	if err != nil {
		return err
	}
	d := draftOf(&p)
	if d.Name == "" && len(all) > 0 {
		d.Name = all[len(all)-1].Name
	}
	d.Name = cmp.Or(d.Name, "Programme")
	if p.From.IsZero() {
		d.From = nextMonday(r.asOf).String()
	}
	return r.writePage(http.StatusOK, &d, 0, nil, nil, nil)
}

// readProgramme reads a programme from a file, or from what was typed where it has no
// name: a table or plain text.
func (r *request) readProgramme(name string, content []byte) (athlete.Programme, error) {
	if len(bytes.TrimSpace(content)) == 0 {
		return athlete.Programme{}, fault.New(fault.Invalid, "there is nothing to read.").WithHint("Write it as text, or choose a file.")
	}
	t, err := sheet.ProgrammeTable(cmp.Or(name, "programme.txt"), content, sheet.Options{})
	if err != nil {
		return athlete.Programme{}, err
	}
	if t == nil {
		p, err := sheet.ReadProgramme(string(content))
		for _, f := range fault.All(err) {
			f.File = filepath.Base(name)
			if name == "" {
				f.File = ""
			}
		}
		return p, err
	}
	a, err := r.athlete()
	if err != nil {
		return athlete.Programme{}, err
	}
	m, err := sheet.Guess(t, sheet.Programmes, r.hint(a))
	if err != nil {
		return athlete.Programme{}, err
	}
	if len(m.Questions) > 0 {
		var asked []string
		for _, q := range m.Questions {
			asked = append(asked, q.Text)
		}
		return athlete.Programme{}, fault.New(fault.Unclear, "the headings leave something open: %s", strings.Join(asked, " ")).
			WithHint("Name the columns week, day, session, exercise, sets, reps, RIR, rest and notes.")
	}
	p, _, err := sheet.ReadProgrammeTable(t, m)
	return p, err
}

// programmeFiles are the kinds of file that a programme is taken out as.
var programmeFiles = map[string]struct {
	ending, kind string
	write        func(io.Writer, athlete.Programme) error
}{
	"text": {"txt", "text/plain; charset=utf-8", func(w io.Writer, p athlete.Programme) error {
		_, err := io.WriteString(w, sheet.WriteProgramme(p))
		return err
	}},
	"csv":      {"csv", "text/csv; charset=utf-8", sheet.WriteProgrammeCSV},
	"workbook": {"xlsx", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", sheet.WriteProgrammeWorkbook},
}

// takeProgrammeOut sends a version as a file.
func takeProgrammeOut(r *request) error {
	as := cmp.Or(r.URL.Query().Get("as"), "text")
	file, ok := programmeFiles[as]
	if !ok {
		return fault.New(fault.Invalid, "%q is no kind of file that a programme can be.", as)
	}
	all, err := r.programmes()
	if err != nil {
		return err
	}
	today, err := r.desk.app.GymDay(r.ctx(), r.id(), r.asOf)
	if err != nil {
		return err
	}
	p, err := chosenVersion(all, r.URL.Query().Get("version"), today.Programme)
	if err != nil {
		return err
	}
	if p == nil {
		return fault.New(fault.NotFound, "There is no programme yet.")
	}
	var b bytes.Buffer
	if err := file.write(&b, *p); err != nil {
		return err
	}
	r.w.Header().Set("Content-Type", file.kind)
	r.w.Header().Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q", fmt.Sprintf("%s-programme-%d.%s", r.id(), p.Version, file.ending)))
	_, _ = b.WriteTo(r.w) // the reader may have gone
	return nil
}
