package cli

import (
	"context"
	"fmt"
	"os/user"
	"strings"

	"glidepath/access"
	"glidepath/account"
)

// deed is what a command leaves in the record.
type deed struct {
	do    access.Action
	words string // with no name in them
	once  bool   // that one line stands for all within a while
}

// deeds are those of the commands that see or change what is kept of athletes, by
// their paths.
var deeds = map[string]deed{
	"appraise":            {do: access.See, words: "read the appraisal"},
	"athlete add":         {do: access.Decide, words: "took in the athlete"},
	"athlete edit":        {do: access.Decide, words: "changed the profile"},
	"athlete list":        {do: access.SeeOwn, words: "listed the athletes"},
	"athlete view":        {do: access.See, words: "read the profile"},
	"audit":               {do: access.Manage, words: "read the record"},
	"backup":              {do: access.Manage, words: "made a backup"},
	"cardio":              {do: access.See, words: "read the equivalents of cardio"},
	"clear":               {do: access.Decide, words: "recorded a clearance"},
	"contest add":         {do: access.Decide, words: "set a show"},
	"contest list":        {do: access.See, words: "read the shows"},
	"corrections":         {do: access.See, words: "read the corrections"},
	"decide accept":       {do: access.Decide, words: "decided on a review"},
	"decide decline":      {do: access.Decide, words: "decided on a review"},
	"decide edit":         {do: access.Decide, words: "decided on a review"},
	"erase":               {do: access.Remove, words: "erased an athlete"},
	"event add":           {do: access.Decide, words: "added an event"},
	"exercise names":      {do: access.See, words: "read the names of the exercises"},
	"export":              {do: access.See, words: "exported everything"},
	"forecast":            {do: access.See, words: "read the forecast"},
	"gym":                 {do: access.See, words: "read a day of training"},
	"import days":         {do: access.Log, words: "imported a table"},
	"import measurements": {do: access.Log, words: "imported a table"},
	"import sets":         {do: access.Log, words: "imported a table"},
	"injury add":          {do: access.Decide, words: "noted an injury"},
	"injury end":          {do: access.Decide, words: "ended an injury"},
	"injury list":         {do: access.See, words: "read the injuries"},
	"limit change":        {do: access.Decide, words: "changed a limit"},
	"limit leave":         {do: access.Decide, words: "allowed low energy availability"},
	"limit list":          {do: access.See, words: "read the limits"},
	"log":                 {do: access.See, words: "read the log"},
	"map":                 {do: access.See, words: "read the season map"},
	"measure":             {do: access.Log, words: "added a measurement"},
	"note":                {do: access.See, words: "read the notes"},
	"prescription":        {do: access.See, words: "read the prescriptions"},
	"programme add":       {do: access.Decide, words: "wrote a programme"},
	"programme copy":      {do: access.Decide, words: "copied a programme"},
	"programme export":    {do: access.See, words: "took out a programme"},
	"programme list":      {do: access.See, words: "read the programmes"},
	"programme show":      {do: access.See, words: "read the programmes"},
	"read":                {do: access.See, words: "read the reading"},
	"report":              {do: access.See, words: "took out the report"},
	"restore":             {do: access.Manage, words: "restored an athlete"},
	"review":              {do: access.Draft, words: "made a review"},
	"roster":              {do: access.See, words: "saw on the roster"},
	"screen":              {do: access.Decide, words: "changed the screening"},
	"set add":             {do: access.Log, words: "recorded sets"},
	"set drop":            {do: access.Log, words: "took a set out"},
	"set list":            {do: access.See, words: "read the sets"},
	"settle":              {do: access.Log, words: "answered about a weight"},
	"strength":            {do: access.See, words: "read the training"},
}

// about notes whom a command is about, for the record; with nobody it is about the
// desk as a whole.
func (s *session) about(ids ...string) {
	s.concerns = append(s.concerns, ids...)
	if len(ids) == 0 {
		s.concerns = append(s.concerns, "")
	}
}

// keepRecord leaves a line for each athlete that the command was about: of what it
// did, or of what it tried where it ended with an error. It must go before close.
func (s *session) keepRecord(ctx context.Context, failed bool) error {
	if len(s.concerns) == 0 || s.store == nil {
		return nil
	}
	path := strings.TrimPrefix(s.path, "glidepath ")
	d, ok := deeds[path]
	if s.deed != nil {
		d, ok = *s.deed, true
	}
	if !ok {
		d = deed{do: access.See, words: "used " + path} // better than no line
	}
	if failed {
		d.words = "tried in vain: " + d.words
	}
	desk, me := s.desk()
	ctx = context.WithoutCancel(ctx) // what was done is recorded
	keep := func() error { return desk.RecordEach(ctx, me, d.do, s.concerns, d.words) }
	if d.once {
		keep = func() error { return desk.RecordOnce(ctx, me, d.do, s.concerns[0], d.words) }
	}
	if err := keep(); err != nil {
		return fmt.Errorf("the record was not kept: %w", err)
	}
	return nil
}

// desk has the accounts of the data file that is open, and who asks.
func (s *session) desk() (*account.Desk, *account.Visitor) {
	return &account.Desk{Store: s.store.Accounts(), Now: s.now}, account.Console(s.called())
}

// called is who acts, as the record has it: the name that was given, which anybody
// can type, with the one that the operating system knows in brackets; or the latter
// alone.
func (s *session) called() string {
	name, _ := s.person() // the record takes a command without a name too
	system := ""
	if u, err := user.Current(); err == nil {
		system = u.Username
	}
	switch {
	case name == "" || name == system:
		return system
	case system == "":
		return name
	}
	return name + " (" + system + ")"
}
