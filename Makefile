# Everything a newcomer needs: run, test, lint, fmt, bench, fuzz.

GOLANGCI_LINT_VERSION = v2.15.0
export GOBIN = $(CURDIR)/bin
LINT = $(GOBIN)/golangci-lint

.PHONY: run build test check lint fmt bench fuzz golden laboratory clean

run: ## the main job on the invented demo roster
	go run ./cmd/glidepath demo

build: ## one static binary in bin/
	CGO_ENABLED=0 go build -trimpath -o bin/glidepath ./cmd/glidepath

test: $(LINT) ## install what the tests need, then lint and test everything
	sh tools/browser.sh
	$(MAKE) check

check: ## the same, without installing anything
	$(LINT) fmt --diff
	go vet ./...
	$(LINT) run ./...
	go test -race -timeout 20m ./...

lint: $(LINT)
	$(LINT) run ./...

fmt: $(LINT)
	$(LINT) fmt

$(LINT):
	go install github.com/golangci/golangci-lint/v2/cmd/golangci-lint@$(GOLANGCI_LINT_VERSION)

bench: ## the figures of docs/benchmarks.md
	go test -run '^$$' -bench . -benchmem ./...

FUZZTIME = 30s
fuzz: ## every fuzz target for a while
	sh tools/fuzz.sh $(FUZZTIME)

golden: ## rewrite the golden files; read the difference before you commit it
	go test ./report ./chart ./cli ./validation -update

ATHLETES = 500
SEED = 100
laboratory: ## the tables and figures of docs/laboratory.md: some minutes on all cores
	go build -o bin/laboratory ./cmd/laboratory
	bin/laboratory document --athletes $(ATHLETES) --seed $(SEED) --commit "commit $$(git rev-parse --short HEAD)"

clean:
	rm -rf bin
