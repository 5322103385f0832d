.PHONY: run test lint fmt bench fuzz check

run:
	go run ./cmd/glidepath demo
