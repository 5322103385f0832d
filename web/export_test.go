package web

// Patterns are the routes of a server, but for its assets.
func Patterns(s *Server) []string {
	var out []string
	for _, r := range s.routes() {
		out = append(out, r.pattern)
	}
	return out
}

// Slug is slug.
func Slug(name string) string { return slug(name) }

// Local is local.
func Local(next string) string { return local(next) }
