package mail

import (
	"crypto/tls"
	"time"

	gomail "github.com/wneessen/go-mail"
)

// Hurry lets a test wait less.
func (s *SMTP) Hurry(patience time.Duration) {
	s.options = append(s.options, gomail.WithTimeout(patience))
}

// Trust lets a test have a certificate of its own.
func (s *SMTP) Trust(c *tls.Config) { s.options = append(s.options, gomail.WithTLSConfig(c)) }
