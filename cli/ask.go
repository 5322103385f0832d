package cli

import (
	"errors"
	"strings"

	"charm.land/huh/v2"

	"glidepath/fault"
	"glidepath/sheet"
)

// form shows fields on the terminal; one that the person leaves is a fault.
func (s *session) form(groups ...*huh.Group) error {
	err := huh.NewForm(groups...).WithInput(s.stdin).WithOutput(s.stderr).Run()
	if errors.Is(err, huh.ErrUserAborted) {
		return fault.New(fault.Unclear, "you left the form; nothing was changed.")
	}
	return err
}

// confirm asks for a yes. Where nobody can be asked, it says which flag says it.
func (s *session) confirm(question, flag string) (bool, error) {
	if !s.asks() {
		return false, fault.New(fault.Unclear, "%s", question).WithHint("It cannot be undone; say yes with %s.", flag)
	}
	var yes bool
	err := s.form(huh.NewGroup(huh.NewConfirm().Title(question).Value(&yes)))
	return yes, err
}

// choose puts a question about a file, its likely answer first.
func (s *session) choose(q sheet.Question) (string, error) {
	answer := q.Likely
	if len(q.Choices) == 0 {
		err := s.form(huh.NewGroup(huh.NewInput().Title(q.Text).Value(&answer)))
		return strings.TrimSpace(answer), err
	}
	options := make([]huh.Option[string], 0, len(q.Choices))
	for _, c := range q.Choices {
		options = append(options, huh.NewOption(c.Value+": "+c.Text, c.Value))
	}
	err := s.form(huh.NewGroup(huh.NewSelect[string]().Title(q.Text).Options(options...).Value(&answer)))
	return answer, err
}
