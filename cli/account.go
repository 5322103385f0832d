package cli

import (
	"context"
	"fmt"
	"io"
	"strings"

	"charm.land/huh/v2"
	"github.com/spf13/cobra"

	"glidepath/access"
	"glidepath/account"
	"glidepath/fault"
)

func newAccount(s *session) *cobra.Command {
	return subcommands("account", "Let others in: owners, coaches, assistants, athletes",
		`Make and look after the accounts of those who use the pages or the JSON interface.
An owner sees everybody and manages the desk; a coach has their own athletes; an
assistant reads and drafts for the athletes they help with; an athlete logs and sees
what concerns them. The command line itself needs no account: who has the data file
can read it.`,
		newAccountAdd(s), newAccountList(s), newAccountDisable(s, true), newAccountDisable(s, false),
		newAccountPassword(s), newAccountRole(s), newAccountAthletes(s))
}

// deskAt opens the data file with its accounts; fresh makes one where there is none.
func (s *session) deskAt(ctx context.Context, fresh bool) (*account.Desk, *account.Visitor, error) {
	open := s.open
	if fresh {
		open = s.openOrMake
	}
	if _, err := open(ctx); err != nil {
		return nil, nil, err
	}
	desk, me := s.desk()
	return desk, me, nil
}

type accountOptions struct {
	login, name, role, athlete string
	athletes                   []string
	stdin                      bool
}

func newAccountAdd(s *session) *cobra.Command {
	var o accountOptions
	c := &cobra.Command{
		Use:   "add",
		Short: "Make an account",
		Long: `Make an account. The password is asked for, or is the first line of the standard
input with --password-stdin. The first account should be an owner's.`,
		Example: `  glidepath account add --role owner --login imogen@example.org --name Imogen
  glidepath account add --role coach --login wren@example.org --name Wren --athletes priya,aroha
  glidepath account add --role athlete --login priya@example.org --name Priya --athlete priya --password-stdin < secret.txt`,
		Args: exactly(0, "%s takes no arguments, only flags."),
		RunE: func(cmd *cobra.Command, _ []string) error { return s.runAccountAdd(cmd.Context(), o) },
	}
	f := c.Flags()
	f.StringVar(&o.login, "login", "", "what they sign in with, an e-mail `address` or a name")
	f.StringVar(&o.name, "name", "", "their `name`, for the record of who did what")
	f.StringVar(&o.role, "role", "", "`role`: owner, coach, assistant or athlete")
	f.StringSliceVar(&o.athletes, "athletes", nil, "a coach's or an assistant's `athletes`, with commas")
	f.StringVar(&o.athlete, "athlete", "", "the `athlete` whose own account it is")
	f.BoolVar(&o.stdin, "password-stdin", false, "read the password from the standard input")
	return c
}

func (s *session) runAccountAdd(ctx context.Context, o accountOptions) error {
	if o.login == "" || o.name == "" || o.role == "" {
		return usage("An account needs --role, --login and --name.")
	}
	desk, me, err := s.deskAt(ctx, true)
	if err != nil {
		return err
	}
	a := account.Account{Login: o.login, Name: o.name, Role: access.Role(o.role)}
	if a.Athletes, err = s.athleteIDs(ctx, o.athletes); err != nil {
		return err
	}
	if o.athlete != "" {
		ids, err := s.athleteIDs(ctx, []string{o.athlete})
		if err != nil {
			return err
		}
		a.AthleteID = ids[0]
	}
	password, err := s.password(o.stdin)
	if err != nil {
		return err
	}
	made, err := desk.Add(ctx, me, a, password)
	if err != nil {
		return err
	}
	if s.json {
		return s.emit(made)
	}
	p := s.page()
	p.line("%s can sign in as %s.", made.Name, made.Login)
	return p.flush()
}

// athleteIDs resolves what a person typed for some athletes.
func (s *session) athleteIDs(ctx context.Context, names []string) ([]string, error) {
	a, err := s.appAt()
	if err != nil {
		return nil, err
	}
	var ids []string
	for _, name := range names {
		one, err := find(ctx, a, strings.TrimSpace(name))
		if err != nil {
			return nil, err
		}
		ids = append(ids, one.ID)
	}
	return ids, nil
}

// password asks for a new password, or reads it.
func (s *session) password(stdin bool) (string, error) {
	if stdin {
		const most = 4096
		text, err := io.ReadAll(io.LimitReader(s.stdin, most))
		if err != nil {
			return "", err
		}
		first, _, _ := strings.Cut(string(text), "\n")
		return strings.TrimSuffix(first, "\r"), nil
	}
	if !s.asks() {
		return "", usage("Nobody can be asked for the password here: give it with --password-stdin.")
	}
	var once, twice string
	err := s.form(huh.NewGroup(
		huh.NewInput().Title("Password").Description("At least 12 characters; a few words that do not belong together.").EchoMode(huh.EchoModePassword).Value(&once),
		huh.NewInput().Title("And once more").EchoMode(huh.EchoModePassword).Value(&twice)))
	if err == nil && once != twice {
		err = fault.New(fault.Invalid, "the two passwords differ; nothing was changed.")
	}
	return once, err
}

func newAccountList(s *session) *cobra.Command {
	return &cobra.Command{
		Use: "list", Short: "List the accounts",
		Example: "  glidepath account list\n  glidepath account list --json",
		Args:    exactly(0, "%s takes no arguments."),
		RunE: func(cmd *cobra.Command, _ []string) error {
			desk, me, err := s.deskAt(cmd.Context(), false)
			if err != nil {
				return err
			}
			all, err := desk.Accounts(cmd.Context(), me)
			if err != nil {
				return err
			}
			if s.json {
				return s.emit(append([]account.Account{}, all...))
			}
			return s.tellAccounts(all)
		},
	}
}

func (s *session) tellAccounts(all []account.Account) error {
	p := s.page()
	if len(all) == 0 {
		p.line("There is no account yet.")
		p.line("Next: glidepath account add --role owner --login NAME --name NAME")
		return p.flush()
	}
	rows := make([][]string, 0, len(all))
	for i := range all {
		a := &all[i]
		whose := strings.Join(a.Athletes, ", ")
		if a.AthleteID != "" {
			whose = a.AthleteID
		}
		if a.Role == access.Owner {
			whose = "everybody"
		}
		state := ""
		if a.Disabled {
			state = "disabled"
		}
		rows = append(rows, []string{a.Login, a.Name, string(a.Role), whose, state})
	}
	p.line("%s.", count(len(all), "account", "accounts"))
	p.gap()
	p.table([]column{{head: "Login", left: true}, {head: "Name", left: true}, {head: "Role", left: true}, {head: "Athletes", flex: true}, {head: "", left: true}}, rows)
	return p.flush()
}

// onAccount makes a command about one account.
func (s *session) onAccount(c *cobra.Command, do func(context.Context, *account.Desk, *account.Visitor, *account.Account) (string, error)) *cobra.Command {
	c.Args = exactly(1, "Name one login, as in %s wren@example.org.")
	c.RunE = func(cmd *cobra.Command, args []string) error {
		ctx := cmd.Context()
		desk, me, err := s.deskAt(ctx, false)
		if err != nil {
			return err
		}
		a, err := desk.Account(ctx, me, args[0])
		if err != nil {
			return err
		}
		said, err := do(ctx, desk, me, a)
		if err != nil {
			return err
		}
		if s.json {
			if a, err = desk.Account(ctx, me, a.ID); err != nil {
				return err
			}
			return s.emit(a)
		}
		p := s.page()
		p.line("%s", said)
		return p.flush()
	}
	return c
}

func newAccountDisable(s *session, disabled bool) *cobra.Command {
	c := &cobra.Command{
		Use: "disable LOGIN", Short: "Shut an account out, with its sessions and tokens",
		Example: "  glidepath account disable wren@example.org\n  glidepath account list",
	}
	said := "%s is shut out from now on."
	if !disabled {
		c.Use, c.Short = "enable LOGIN", "Let an account in again"
		c.Example = "  glidepath account enable wren@example.org\n  glidepath account list"
		said = "%s can sign in again."
	}
	return s.onAccount(c, func(ctx context.Context, desk *account.Desk, me *account.Visitor, a *account.Account) (string, error) {
		return fmt.Sprintf(said, a.Name), desk.Disable(ctx, me, a.ID, disabled)
	})
}

func newAccountPassword(s *session) *cobra.Command {
	var stdin bool
	c := s.onAccount(&cobra.Command{
		Use: "password LOGIN", Short: "Set a new password, and sign out everywhere",
		Example: "  glidepath account password wren@example.org\n  glidepath account password wren@example.org --password-stdin < secret.txt",
	}, func(ctx context.Context, desk *account.Desk, me *account.Visitor, a *account.Account) (string, error) {
		password, err := s.password(stdin)
		if err != nil {
			return "", err
		}
		return a.Name + " has a new password, and is signed out everywhere.", desk.SetPassword(ctx, me, a.ID, password)
	})
	c.Flags().BoolVar(&stdin, "password-stdin", false, "read the password from the standard input")
	return c
}

func newAccountRole(s *session) *cobra.Command {
	var role string
	c := s.onAccount(&cobra.Command{
		Use: "role LOGIN", Short: "Make somebody an owner, a coach or an assistant",
		Example: "  glidepath account role sol@example.org --role coach\n  glidepath account role wren@example.org --role owner",
	}, func(ctx context.Context, desk *account.Desk, me *account.Visitor, a *account.Account) (string, error) {
		return fmt.Sprintf("%s has the role %s.", a.Name, role), desk.SetRole(ctx, me, a.ID, access.Role(role))
	})
	c.Flags().StringVar(&role, "role", "", "`role`: owner, coach or assistant")
	return c
}

func newAccountAthletes(s *session) *cobra.Command {
	var names []string
	c := s.onAccount(&cobra.Command{
		Use: "athletes LOGIN", Short: "Say which athletes are a coach's or an assistant's",
		Example: "  glidepath account athletes wren@example.org --athletes priya,aroha,noor\n  glidepath account athletes sol@example.org --athletes \"\"",
	}, func(ctx context.Context, desk *account.Desk, me *account.Visitor, a *account.Account) (string, error) {
		ids, err := s.athleteIDs(ctx, names)
		if err != nil {
			return "", err
		}
		return fmt.Sprintf("%s has %s.", a.Name, count(len(ids), "athlete", "athletes")), desk.SetAthletes(ctx, me, a.ID, ids)
	})
	c.Flags().StringSliceVar(&names, "athletes", nil, "all their `athletes`, with commas")
	return c
}
