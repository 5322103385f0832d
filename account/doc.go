// Package account has who comes to the desk: accounts with passwords and passkeys,
// signed-in sessions, tokens for programs, invitations for athletes, and the record
// of who saw or changed what. What each role may do is package access; what there is to
// do is package app.
//
// An edge keeps one Desk. It finds out who asks with BySession (the secret from
// SignIn or Accept, which it keeps in a cookie) or ByToken (the bearer token of a
// program), asks Visitor.Check before every use case, and calls Record after it:
//
//	desk := &account.Desk{Store: data.Accounts(), Now: time.Now}
//	secret, err := desk.SignIn(ctx, login, password, address)
//	visitor, err := desk.BySession(ctx, secret, address)
//	if err := visitor.Check(access.See, "ana"); err != nil { ... }
//	err = desk.Record(ctx, visitor, access.See, "ana", "read the log")
//
// With a passkey there are two steps: one gives a question that the browser puts to
// the person's device, and the other takes its answer (AskSignIn and SignInByPasskey,
// AskPasskey and KeepPasskey, AskAccept and AcceptByPasskey, AskProof and Proof).
//
// A nil Visitor is nobody, and may do nothing. Use cases on accounts, tokens and
// invitations check for themselves and keep their own record.
//
// Secrets are 256 random bits, shown once and stored as their SHA-256; passwords
// are stored as argon2id (RFC 9106), passkeys as their public halves. Errors are faults: SignIn for nobody or a
// failed sign-in, always in the same words; Forbidden for what a role or a
// token's scopes do not allow; NotFound for an athlete who is not the visitor's,
// in the words of one who is not there; TooMany where sign-ins fail too often.
package account
