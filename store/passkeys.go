package store

import (
	"database/sql"
	"errors"
	"strings"

	"glidepath/account"
	"glidepath/fault"
)

const selectPasskeys = `
	SELECT p.id, a.id, p.name, p.host, p.credential, p.public_key, p.transports, p.sign_count,
		p.backup_able, p.backup_done, p.made_at, p.used_at, p.doubted_at
	FROM passkeys p JOIN accounts a ON a.key = p.account `

func scanPasskey(rows *sql.Rows, v *account.Passkey) error {
	var transports, made string
	var used, doubted sql.Null[string]
	err := rows.Scan(&v.ID, &v.AccountID, &v.Name, &v.Host, &v.Credential, &v.PublicKey, &transports, &v.SignCount,
		&v.Backup.Able, &v.Backup.Done, &made, &used, &doubted)
	if err != nil {
		return err
	}
	if transports != "" {
		v.Transports = strings.Split(transports, ",")
	}
	return errors.Join(parseMoment(made, &v.MadeAt), parseOptional(used, &v.UsedAt), parseOptional(doubted, &v.DoubtedAt))
}

// Passkeys lists the passkeys of an account by when they were made.
func (t *tx) Passkeys(accountID string) ([]account.Passkey, error) {
	return list(t, selectPasskeys+`WHERE a.id = ? ORDER BY p.made_at, p.id`, []any{accountID}, scanPasskey)
}

// Passkey gives a passkey by its ID.
func (t *tx) Passkey(id string) (*account.Passkey, error) {
	return only(t, "passkey", selectPasskeys+`WHERE p.id = ?`, id, scanPasskey)
}

// PasskeyBy gives a passkey by the ID that its device gave the credential.
func (t *tx) PasskeyBy(credential []byte) (*account.Passkey, error) {
	return only(t, "passkey", selectPasskeys+`WHERE p.credential = ?`, credential, scanPasskey)
}

// PutPasskey stores a new passkey, or what became of one.
func (t *tx) PutPasskey(v *account.Passkey) error {
	if err := v.Validate(); err != nil {
		return err
	}
	key, err := t.accountKey(v.AccountID)
	if err != nil {
		return err
	}
	var others int
	err = t.one(`SELECT count(*) FROM passkeys WHERE credential = ? AND id <> ?`, []any{v.Credential, v.ID}, []any{&others})
	if err != nil {
		return err
	}
	if others > 0 {
		return fault.New(fault.Conflict, "this passkey is known already.").WithHint("Make a new one.")
	}
	return t.exec(`
		INSERT INTO passkeys (id, account, name, host, credential, public_key, transports, sign_count,
			backup_able, backup_done, made_at, used_at, doubted_at)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
		ON CONFLICT (id) DO UPDATE SET name = excluded.name, sign_count = excluded.sign_count,
			backup_able = excluded.backup_able, backup_done = excluded.backup_done,
			used_at = excluded.used_at, doubted_at = excluded.doubted_at`,
		v.ID, key, v.Name, v.Host, v.Credential, v.PublicKey, strings.Join(v.Transports, ","), v.SignCount,
		v.Backup.Able, v.Backup.Done, moment(v.MadeAt), optionalMoment(v.UsedAt), optionalMoment(v.DoubtedAt))
}

// DropPasskey removes a passkey, if it is there.
func (t *tx) DropPasskey(id string) error {
	return t.exec(`DELETE FROM passkeys WHERE id = ?`, id)
}
