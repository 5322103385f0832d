package web

import "net/http"

func showHelp(r *request) error {
	return r.page(http.StatusOK, "help", page{Title: "Help", Tab: "help"})
}
