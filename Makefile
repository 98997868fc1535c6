# Everything sets itself up. `make run` needs Go and Node only; `make test`
# installs Debian packages (browser, PDF tools, Java), which takes root.

.PHONY: run build test lint bench figures size outside soak score setup tools

run: build
	@echo 'Open the address below in a browser; stop with Ctrl-C.'
	@.build/out/fairlead serve $(SERVE)

build: tools
	@node .build/build.mjs

test: tools
	@node .build/test.mjs

lint: tools
	@node .build/test.mjs setup build lint

# Measures everything and writes testdata/figures.tsv.
bench: setup build
	@node .build/bench.mjs $(ONLY)

# Prints the committed figures, one "name value unit" a line.
figures:
	@node .build/bench.mjs -print

# Prints the brotli bytes that a first visit downloads; fails above the budget.
size: build
	@go run .build/size.go

# Prints how many checks against outside sources there are, by source.
outside: setup build
	@node .build/outside.mjs

# The large counts: tests that draw cases at random take many times more.
soak: setup build
	FAIRLEAD_SOAK=1 go test -count=1 -timeout=0 ./...
	FAIRLEAD_SOAK=1 node --test --test-concurrency=1 testdata/browser/*.test.mjs

# How well dictation is understood: "part precision recall false-claims".
score:
	@go run ./schema/dictation/score

setup: tools
	@.build/setup.sh

tools:
	@.build/tools.sh
