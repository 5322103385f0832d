// Package numeric has general numerical methods that know nothing of the domain,
// so that each can be checked against references and identities.
package numeric
