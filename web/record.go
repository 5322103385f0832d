package web

import (
	"net/http"
	"net/url"
	"strings"

	"glidepath/account"
	"glidepath/civil"
	"glidepath/fault"
)

// mostEntries is how many lines of the record a page has; the CSV has all.
const mostEntries = 200

// recordPage is who saw or changed what of whom.
type recordPage struct {
	Form     form
	Athletes []option
	Accounts []option
	Entries  []entryRow
	More     bool
	CSV      string
}

type entryRow struct{ When, Who, Whom, What, Via, Address string }

// recordQuery reads the filter of the address; dates are days in UTC.
func recordQuery(v url.Values) (q account.Query, err error) {
	day := func(name string, after int) (d civil.Date, err error) {
		text := strings.TrimSpace(v.Get(name))
		if text == "" {
			return d, nil
		}
		if d, err = civil.Parse(text); err != nil {
			return d, fault.New(fault.Invalid, "%q is not a date such as 2026-03-02.", text).WithField(name)
		}
		return d.AddDays(after), nil
	}
	from, err := day("from", 0)
	if err != nil {
		return q, err
	}
	to, err := day("to", 1)
	if err != nil {
		return q, err
	}
	if !from.IsZero() {
		q.From = from.Time()
	}
	if !to.IsZero() {
		q.To = to.Time()
	}
	q.AthleteID, q.AccountID = v.Get("athlete"), v.Get("account")
	return q, nil
}

func showRecord(r *request) error {
	v := r.URL.Query()
	body := recordPage{Form: form{Values: v}, Athletes: []option{{"", "Anybody"}}, Accounts: []option{{"", "Anybody"}}}
	all, err := r.everybody()
	if err != nil {
		return err
	}
	names := namesOf(all)
	for i := range all {
		body.Athletes = append(body.Athletes, option{all[i].ID, all[i].Name})
	}
	accounts, err := r.s.o.Accounts.Accounts(r.ctx(), r.visitor)
	if err != nil {
		return err
	}
	for i := range accounts {
		body.Accounts = append(body.Accounts, option{accounts[i].ID, accounts[i].Name + ", " + accounts[i].Login})
	}
	p := page{Title: "The record", Tab: "accounts", Wide: true}
	code := http.StatusOK
	q, err := recordQuery(v)
	if err != nil {
		code = status(err)
		body.Form.Wrong, p.Faults = wrongIn(err, map[string]string{"from": "from", "to": "to"})
		p.Body = body
		return r.page(code, "record", p)
	}
	q.Limit = mostEntries + 1
	entries, err := r.s.o.Accounts.Entries(r.ctx(), r.visitor, q)
	if err != nil {
		return err
	}
	if body.More = len(entries) > mostEntries; body.More {
		entries = entries[1:]
	}
	for i := range entries { // the latest first
		e := &entries[len(entries)-1-i]
		whom := names[e.AthleteID]
		if whom == "" {
			whom = e.AthleteID
		}
		body.Entries = append(body.Entries, entryRow{e.At.UTC().Format("2006-01-02 15:04"), e.Who, whom, e.What, e.Via, account.HostOf(e.Address)})
	}
	body.CSV = "/record.csv?" + url.Values{"from": {v.Get("from")}, "to": {v.Get("to")}, "athlete": {q.AthleteID}, "account": {q.AccountID}}.Encode()
	p.Body = body
	return r.page(code, "record", p)
}

func exportRecord(r *request) error {
	q, err := recordQuery(r.URL.Query())
	if err != nil {
		return err
	}
	entries, err := r.s.o.Accounts.Entries(r.ctx(), r.visitor, q)
	if err != nil {
		return err
	}
	text, err := account.EntriesCSV(entries)
	if err != nil {
		return err
	}
	h := r.w.Header()
	h.Set("Content-Type", "text/csv; charset=utf-8")
	h.Set("Content-Disposition", `attachment; filename="record.csv"`)
	_, _ = r.w.Write(text) // the reader may have gone
	return nil
}
