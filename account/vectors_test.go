package account_test

import (
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"os"
	"testing"

	"glidepath/access"
	"glidepath/account"
	"glidepath/fault"
)

// vector is a registration and an authentication of the standard, in hexadecimal.
type vector struct {
	Name, Credential string
	Made, Shown      map[string]string
}

// answer is what a browser would send for one half of a vector.
func (v *vector) answer(t *testing.T, half map[string]string) []byte {
	t.Helper()
	response := map[string]string{}
	for name, value := range half {
		if name != "challenge" {
			response[name] = base64url(t, value)
		}
	}
	id := base64url(t, v.Credential)
	out, err := json.Marshal(map[string]any{"id": id, "rawId": id, "type": "public-key", "response": response})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func base64url(t *testing.T, digits string) string {
	t.Helper()
	b, err := hex.DecodeString(digits)
	if err != nil {
		t.Fatal(err)
	}
	return base64.RawURLEncoding.EncodeToString(b)
}

// The test vectors of W3C Web Authentication, Level 3: a passkey of the one whose
// device checked who used it is taken and shows who it is; those without that check,
// or made in a page within a page of another site, are not.
func TestVectorsOfTheStandard(t *testing.T) {
	text, err := os.ReadFile("testdata/webauthn-vectors.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct{ Vectors []vector }
	if err := json.Unmarshal(text, &file); err != nil {
		t.Fatal(err)
	}
	taken := map[string]fault.Kind{"none-es256": fault.Invalid, "none-es256-crossOrigin": fault.Invalid, "packed-es256": ""}
	if len(file.Vectors) != len(taken) {
		t.Fatalf("there are %d vectors", len(file.Vectors))
	}
	site, err := account.SiteOf("https://example.org")
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range file.Vectors {
		t.Run(v.Name, func(t *testing.T) {
			f := open(t)
			f.add(access.Coach, "wren")
			who := f.signed("wren")
			_, err := f.AskPasskey(t.Context(), who, site, account.Proof{})
			wants(t, "asking", err, "")
			f.Rechallenge(base64url(t, v.Made["challenge"]))
			_, err = f.KeepPasskey(t.Context(), who, v.Name, v.answer(t, v.Made))
			wants(t, "making", err, taken[v.Name])
			if err != nil {
				return
			}
			_, err = f.AskProof(t.Context(), who, site)
			wants(t, "asking", err, "")
			f.Rechallenge(base64url(t, v.Shown["challenge"]))
			_, err = f.ChangePassword(t.Context(), who, account.Proof{Passkey: v.answer(t, v.Shown)}, "four other words entirely")
			wants(t, "showing", err, "")
		})
	}
}
