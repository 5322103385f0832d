package cli

import (
	"context"
	"time"

	"github.com/spf13/cobra"

	"glidepath/account"
	"glidepath/civil"
)

type tokenOptions struct {
	name   string
	scopes []string
	days   int
}

func newToken(s *session) *cobra.Command {
	return subcommands("token", "Let programs in, within scopes",
		`Make tokens for programs that use the JSON interface. A token acts for an account,
within its scopes: read, log, draft, decide, manage. It is shown once; only its hash
is kept.`,
		newTokenAdd(s), newTokenList(s), newTokenRevoke(s))
}

func newTokenAdd(s *session) *cobra.Command {
	var o tokenOptions
	c := &cobra.Command{
		Use: "add LOGIN", Short: "Make a token for an account, and show it this once",
		Example: `  glidepath token add wren@example.org --name "bathroom scale" --scopes log
  glidepath token add wren@example.org --name spreadsheet --scopes read,log,draft,decide --days 30`,
		Args: exactly(1, "Name one login, as in %s wren@example.org."),
		RunE: func(cmd *cobra.Command, args []string) error { return s.runTokenAdd(cmd.Context(), args[0], o) },
	}
	c.Flags().StringVar(&o.name, "name", "", "a `name` that says what it is for")
	c.Flags().StringSliceVar(&o.scopes, "scopes", nil, "`scopes`, with commas: read, log, draft, decide, manage")
	c.Flags().IntVar(&o.days, "days", int(account.TokenLife.Hours()/24), "how many `days` it lives")
	return c
}

func (s *session) runTokenAdd(ctx context.Context, login string, o tokenOptions) error {
	if o.name == "" || len(o.scopes) == 0 || o.days < 1 {
		return usage("A token needs --name, --scopes and at least a day.")
	}
	scopes, err := account.ParseScopes(o.scopes)
	if err != nil {
		return err
	}
	desk, me, err := s.deskAt(ctx, false)
	if err != nil {
		return err
	}
	a, err := desk.Account(ctx, me, login)
	if err != nil {
		return err
	}
	text, t, err := desk.AddToken(ctx, me, a.ID, o.name, scopes, time.Duration(min(o.days, 1000))*24*time.Hour)
	if err != nil {
		return err
	}
	if s.json {
		return s.emit(struct {
			*account.Token
			Text string `json:"token"`
		}{t, text})
	}
	p := s.page()
	p.raw(text)
	p.line("This is the only time it is shown. It acts for %s until %s.", a.Name, longDate(civil.FromTime(t.ExpiresAt)))
	return p.flush()
}

func newTokenList(s *session) *cobra.Command {
	return &cobra.Command{
		Use: "list", Short: "List the tokens",
		Example: "  glidepath token list\n  glidepath token list --json",
		Args:    exactly(0, "%s takes no arguments."),
		RunE: func(cmd *cobra.Command, _ []string) error {
			ctx := cmd.Context()
			desk, me, err := s.deskAt(ctx, false)
			if err != nil {
				return err
			}
			all, err := desk.Tokens(ctx, me, "")
			if err != nil {
				return err
			}
			if s.json {
				return s.emit(append([]account.Token{}, all...))
			}
			accounts, err := desk.Accounts(ctx, me)
			if err != nil {
				return err
			}
			return s.tellTokens(all, accounts)
		},
	}
}

func (s *session) tellTokens(all []account.Token, accounts []account.Account) error {
	logins := map[string]string{}
	for i := range accounts {
		logins[accounts[i].ID] = accounts[i].Login
	}
	p := s.page()
	if len(all) == 0 {
		p.line("There is no token.")
		return p.flush()
	}
	rows := make([][]string, 0, len(all))
	for i := range all {
		t := &all[i]
		state := "until " + date(civil.FromTime(t.ExpiresAt))
		switch {
		case !t.RevokedAt.IsZero():
			state = "revoked"
		case !s.now().Before(t.ExpiresAt):
			state = "out of date"
		}
		rows = append(rows, []string{t.ID, logins[t.AccountID], t.Name, t.Scopes.String(), state})
	}
	p.line("%s.", count(len(all), "token", "tokens"))
	p.gap()
	p.table([]column{{head: "ID", left: true}, {head: "Account", left: true}, {head: "For", flex: true}, {head: "Scopes", left: true}, {head: "", left: true}}, rows)
	return p.flush()
}

func newTokenRevoke(s *session) *cobra.Command {
	return &cobra.Command{
		Use: "revoke ID", Short: "End a token for good",
		Example: "  glidepath token revoke abcdefghij\n  glidepath token list",
		Args:    exactly(1, "Name one token by its ID, as glidepath token list shows it."),
		RunE: func(cmd *cobra.Command, args []string) error {
			desk, me, err := s.deskAt(cmd.Context(), false)
			if err != nil {
				return err
			}
			if err := desk.RevokeToken(cmd.Context(), me, args[0]); err != nil {
				return err
			}
			if s.json {
				return s.emit(map[string]string{"revoked": args[0]})
			}
			p := s.page()
			p.line("The token %s is good for nothing from now on.", args[0])
			return p.flush()
		},
	}
}
