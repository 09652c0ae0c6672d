# Short names for the commands of everyday work; each is plain go underneath.

FUZZTIME ?= 30s
PICTURES ?= /tmp/labsite-pictures
GO ?= go

# The tests of a package that never end are ended after this long. It is no measure of speed: the
# longest, cmd/labsite in a browser, take some minutes on two quiet processors, and a machine under
# other work may take several times as long. One that waits for what never comes must not take an
# hour to say so. Attacks and the watched tests of make race rightly take longer.
LONGEST ?= 20m
LONGEST_BY_FAR ?= 180m

# How much of what is tested at random or in a slow engine make test takes: all. The tests by
# themselves (make quick) take a part, and say so: whole in recipes/script, FOLLOW_CHANGES in render/build.
ALL = LABSITE_CASES=100000 FOLLOW_CHANGES=25

# The tests in a browser, one package after the other: only so does go say what each test is at.
# Four tests at once on two processors, since a page that settles waits more than it works.
BROWSER = $(GO) test -count=1 -vet=off -p 1 -parallel 4 -timeout $(LONGEST) -tags browser -run '^TestBrowser' -v ./recipes/script ./cmd/labsite ./render/preview

.PHONY: help test quick race checks tidy browser bench bench-proof attack fuzz pictures aims tools records

help:
	@echo 'make test      everything: tools, checks, tests, and the demo site in a browser'
	@echo 'make quick     the tests that need nothing but Go'
	@echo 'make race      the same, watched for two goroutines at one value; takes many times as long'
	@echo 'make checks    what is checked against the outside: source, expected, found, deviation'
	@echo 'make tidy      go vet and gofmt, and the types as Windows and macOS see them'
	@echo 'make browser   the demo site and the preview in a browser alone'
	@echo 'make bench     publishes of up to 10,000 pages beside a bare loop, and pages of formulas beside the'
	@echo '               bare engine (BENCH=name for benchmarks by name, BENCH=. for all)'
	@echo 'make bench-proof  the preview in a browser, on sites of up to 10,000 pages'
	@echo 'make attack    kills, failing disks, hostile inputs, a storm of saves; prints a table'
	@echo 'make fuzz      each fuzz test for FUZZTIME (30s)'
	@echo 'make pictures  a picture of every page of the demo site, in PICTURES ($(PICTURES))'
	@echo 'make aims      where things stand on each page of the demo, beside the aims of its layout'
	@echo 'make records   writes the demo'"'"'s records of what is in force anew, as of RECORDED ($(RECORDED))'
	@echo 'make tools     installs what the browser tests use, where it is missing'

test: tools tidy
	$(ALL) $(GO) test -count=1 -vet=off -timeout $(LONGEST) ./...
	$(BROWSER)

quick:
	$(GO) test -timeout $(LONGEST) ./...

race:
	$(GO) test -race -timeout $(LONGEST_BY_FAR) ./...

# With the tags set no file is left out, so one look sees them all. Only files that git knows or
# would take are formatted: packages laid by npm are not ours.
tidy:
	$(GO) vet -tags attack,browser ./...
	OTHER_SYSTEMS=all $(GO) test -count=1 -vet=off -run '^TestOtherSystems$$' ./cmd/labsite
	@unformatted=$$(git ls-files -co --exclude-standard '*.go' | xargs gofmt -l); \
	if [ -n "$$unformatted" ]; then echo "gofmt would change: $$unformatted"; exit 1; fi

browser: tools
	$(BROWSER)

# The records of the demo's pages, which are invented like the approvals that the pages name: a
# lab never writes its own anew. Those of earlier revisions are the demo's history, and stay. What
# is wrong with a page is said, and the others go on.
RECORDED ?= 2026-11-28
records:
	@bin=$$(mktemp -d) && $(GO) build -o $$bin/labsite ./cmd/labsite && \
	for page in $$(grep -rl --include='*.md' --exclude-dir='.*' '^  status: approved' content | sort); do \
		by=$$(sed -n 's/^  approved_by: //p' $$page | head -1); \
		number=$$(sed -n 's/^  number: //p' $$page | head -1); \
		revision=$$(sed -n 's/^  revision: //p' $$page | head -1); \
		rm -f "content/approved/$$number/$$revision.json"; \
		$$bin/labsite approve $${page#content/} --by "$$by" --on $(RECORDED) --yes | tail -1; \
	done; rm -rf $$bin

# Values from standards, handbooks and worked examples, held to the bench formulas.
checks:
	@$(GO) run ./cmd/labsite formula --outside

BENCH ?=
bench:
ifeq ($(BENCH),)
	$(GO) test -run '^$$' -bench '^(BenchmarkPage|BenchmarkFormulas|BenchmarkEngine|BenchmarkCases)$$' ./recipes/formula
	$(GO) test -run '^$$' -bench '^BenchmarkPublish$$' -benchtime 1x -timeout 60m ./cmd/labsite
	$(GO) test -run '^$$' -bench '^BenchmarkParity$$' -benchtime 10x ./render/build
	$(GO) test -count=1 -tags browser -run '^TestMeasureChange$$' -v ./cmd/labsite
else
	$(GO) test -run '^$$' -bench '$(BENCH)' -benchmem ./...
endif

# The preview in a browser, on sites of 100, 2,000 and 10,000 pages: its first page, from a
# write to the new number on the screen, and its memory.
bench-proof:
	$(GO) test -tags browser -run '^$$' -bench '^BenchmarkProof$$' -benchtime 1x -timeout 30m ./cmd/labsite

# All ways of doing harm that are known to be withstood, with bounds: KILLS=500 REQUESTS=4000
# PAGES=10000 EDITS=1000. It takes minutes, prints a table, and wants a machine of its own.
attack:
	$(GO) test -count=1 -timeout $(LONGEST_BY_FAR) -tags attack -run '^TestAttack$$' -v ./cmd/labsite

# go test fuzzes one target of one package at a time. What is found is made smaller for a while
# only: it may take all the time otherwise.
fuzz:
	@set -e; for package in $$($(GO) list ./...); do \
		for target in $$($(GO) test -list '^Fuzz' $$package | grep '^Fuzz' || true); do \
			echo "$$package $$target"; \
			$(GO) test -run '^$$' -fuzz "^$$target\$$" -fuzztime $(FUZZTIME) -fuzzminimizetime 2s $$package; \
		done; \
	done

pictures: tools
	PICTURES='$(PICTURES)' $(GO) test -count=1 -tags browser -run '^TestPictures$$' -v ./cmd/labsite

aims: tools
	AIMS=all $(GO) test -count=1 -tags browser -run '^TestAims$$' -v ./cmd/labsite

tools:
	@bash cmd/labsite/testdata/tools/install.sh
