package account

// Rechallenge puts another challenge into the one open ceremony, for answers that
// were recorded elsewhere.
func (d *Desk) Rechallenge(challenge string) {
	d.ceremonies.mu.Lock()
	defer d.ceremonies.mu.Unlock()
	if len(d.ceremonies.open) != 1 {
		panic("account: there is not one open ceremony")
	}
	for old, one := range d.ceremonies.open {
		delete(d.ceremonies.open, old)
		one.data.Challenge = challenge
		d.ceremonies.open[challenge] = one
	}
}
