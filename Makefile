# Short names for the commands of everyday work; each is plain go underneath.

FUZZTIME ?= 30s
PICTURES ?= /tmp/labsite-pictures
GO ?= go

.PHONY: help test quick checks tidy browser bench bench-proof fuzz pictures tools

help:
	@echo 'make test      everything: tools, checks, tests, and the demo site in a browser'
	@echo 'make quick     the tests that need nothing but Go'
	@echo 'make checks    what is checked against the outside: source, expected, found, deviation'
	@echo 'make tidy      go vet and gofmt, and vet again as Windows and macOS compile it'
	@echo 'make browser   the demo site and the preview in a browser alone'
	@echo 'make bench     a publish of 2,000 pages beside a bare loop, and pages of formulas beside the'
	@echo '               bare engine (BENCH=name for benchmarks by name, BENCH=. for all)'
	@echo 'make bench-proof  the preview in a browser, on sites of up to 10,000 pages'
	@echo 'make fuzz      each fuzz test for FUZZTIME (30s)'
	@echo 'make pictures  a picture of every page of the demo site, in PICTURES ($(PICTURES))'
	@echo 'make tools     installs what the browser tests use, where it is missing'

test: tools tidy
	$(GO) test -count=1 ./...
	$(GO) test -count=1 -tags browser -run '^TestBrowser' -v ./recipes/script ./cmd/labsite ./render/proof

quick:
	$(GO) test ./...

# Formatting is asked of files that git knows or would take, so that packages
# laid by npm are not read.
tidy:
	$(GO) vet ./...
	$(GO) vet -tags browser ./recipes/script ./cmd/labsite ./render/proof
	GOOS=windows $(GO) vet ./cmd/... ./render/publish ./render/proof
	GOOS=darwin $(GO) vet ./cmd/... ./render/publish ./render/proof
	@unformatted=$$(git ls-files -co --exclude-standard '*.go' | xargs gofmt -l); \
	if [ -n "$$unformatted" ]; then echo "gofmt would change: $$unformatted"; exit 1; fi

browser: tools
	$(GO) test -count=1 -tags browser -run '^TestBrowser' -v ./recipes/script ./cmd/labsite ./render/proof

# Values from standards, handbooks and worked examples, held to the bench formulas.
checks:
	@$(GO) run ./cmd/labsite formula --outside

BENCH ?=
bench:
ifeq ($(BENCH),)
	$(GO) test -run '^$$' -bench '^(BenchmarkPage|BenchmarkFormulas|BenchmarkEngine|BenchmarkCases)$$' ./recipes/formula
	$(GO) test -run '^$$' -bench '^BenchmarkPublish$$' -benchtime 1x ./cmd/labsite
	$(GO) test -run '^$$' -bench '^BenchmarkParity$$' -benchtime 10x ./render/site
	$(GO) test -count=1 -tags browser -run '^TestMeasureChange$$' -v ./cmd/labsite
else
	$(GO) test -run '^$$' -bench '$(BENCH)' -benchmem ./...
endif

# The preview in a browser, on sites of 100, 2,000 and 10,000 pages: its first page, from a
# write to the new number on the screen, and its memory.
bench-proof:
	$(GO) test -tags browser -run '^$$' -bench '^BenchmarkProof$$' -benchtime 1x -timeout 30m ./cmd/labsite

# go test fuzzes one target of one package at a time.
fuzz:
	@set -e; for package in $$($(GO) list ./...); do \
		for target in $$($(GO) test -list '^Fuzz' $$package | grep '^Fuzz' || true); do \
			echo "$$package $$target"; \
			$(GO) test -run '^$$' -fuzz "^$$target\$$" -fuzztime $(FUZZTIME) $$package; \
		done; \
	done

pictures: tools
	PICTURES='$(PICTURES)' $(GO) test -count=1 -tags browser -run '^TestPictures$$' -v ./cmd/labsite

tools:
	@bash cmd/labsite/testdata/tools/install.sh
