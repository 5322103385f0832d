package mail_test

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"glidepath/fault"
	"glidepath/mail"
)

func TestFromFile(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"least":            {"host: smtp.example.org\n" + from, ""},
		"all":              {"host: smtp.example.org\nport: 2525\ntls: tls\nuser: imogen\npassword_file: pw\n" + from, ""},
		"bare sender":      {"host: smtp.example.org\nfrom: imogen@example.org\n", ""},
		"loopback":         {"host: localhost\ntls: none\n" + from, ""},
		"loopback, IPv6":   {"host: '::1'\ntls: none\n" + from, ""},
		"empty":            {"", "the file is empty"},
		"no host":          {from, "host: the name of the mail server is missing"},
		"no sender":        {"host: smtp.example.org\n", "from: the sender is not an e-mail address"},
		"two senders":      {"host: a\nfrom: a@example.org, b@example.org\n", "from: the sender"},
		"header in sender": {"host: a\nfrom: \"A\\r\\nBcc: b@example.org <a@example.org>\"\n", "from: the sender"},
		"clear":            {"host: smtp.example.org\ntls: none\n" + from, "cross the network in the clear"},
		"clear by name":    {"host: localhost.example.org\ntls: none\n" + from, "cross the network in the clear"},
		"way":              {"host: a\ntls: ssl\nport: 1\n" + from, `"ssl" is not starttls, tls or none`},
		"port":             {"host: a\nport: 70000\n" + from, "a port is 1 to 65535"},
		"user alone":       {"host: a\nuser: imogen\n" + from, "a user and a password go together"},
		"password alone":   {"host: a\npassword_file: pw\n" + from, "a user and a password go together"},
		"unknown key":      {"host: a\npassword: a secret\n" + from, "smtp.yaml: row 2: unknown field"},
		"twice":            {"host: a\nhost: b\n" + from, "row 2"},
		"no YAML":          {"host: [a\n", "smtp.yaml"},
		"no password":      {"host: a\nuser: imogen\npassword_file: nothing\n" + from, "nothing: the file cannot be opened"},
		"empty password":   {"host: a\nuser: imogen\npassword_file: empty\n" + from, "empty: the first line"},
		"large":            {"# " + strings.Repeat("x", 70_000), "larger than 64 kB"},
	} {
		t.Run(name, func(t *testing.T) {
			path := file(t, c.text)
			for name, text := range map[string]string{"pw": "a secret\n", "empty": "\nsecond\n"} {
				if err := os.WriteFile(filepath.Join(filepath.Dir(path), name), []byte(text), 0o600); err != nil {
					t.Fatal(err)
				}
			}
			_, err := mail.FromFile(path)
			if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
				t.Errorf("%v, not %q", err, c.want)
			}
			if err != nil && (fault.KindOf(err) == "" || strings.Contains(err.Error(), "a secret")) {
				t.Errorf("the fault %q is internal or tells the password", err)
			}
		})
	}
	if _, err := mail.FromFile(filepath.Join(t.TempDir(), "smtp.yaml")); fault.KindOf(err) != fault.NotFound {
		t.Errorf("without a file: %v", err)
	}
}

// A file that others can read is refused, and so is the password's.
func TestOthersCanRead(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("modes are not there")
	}
	path := file(t, "host: a\nuser: imogen\npassword_file: pw\n"+from)
	password := filepath.Join(filepath.Dir(path), "pw")
	if err := os.WriteFile(password, []byte("a secret"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, one := range []string{path, password} {
		for mode, open := range map[os.FileMode]bool{0o600: false, 0o400: false, 0o640: true, 0o604: true, 0o644: true, 0o620: true} {
			if err := os.Chmod(one, mode); err != nil {
				t.Fatal(err)
			}
			_, err := mail.FromFile(path)
			if refused := fault.KindOf(err) == fault.Forbidden; refused != open {
				t.Errorf("%s of mode %o: %v", filepath.Base(one), mode, err)
			}
		}
		if err := os.Chmod(one, 0o600); err != nil {
			t.Fatal(err)
		}
	}
}
