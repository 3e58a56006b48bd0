# Two commands for people: `make serve` and `make test`. Both set up everything they need.
# Tools live in target/ and node_modules/; nothing is installed outside but a browser: one
# where there is none, and its quicker form without windows where apt-get can.

FUZZ_VERSION := 0.13.2
DENY_VERSION := 0.20.2
MUTANTS_VERSION := 27.1.0

# How long each fuzz target is run, and how many designs, pairs of rings and gearboxes `make soak` tries.
FUZZ_SECONDS := 600
SOAK_DESIGNS := 10000
SOAK_PAIRS := 200
SOAK_BOXES := 300
FUZZ_TARGETS := link file number

TOOLS := $(CURDIR)/target/tools
VENV := $(CURDIR)/target/venv
STAMPS := target/stamps
EMPTY := target/empty/index.html
BUILD := target/tool/crenel-build
export PATH := $(CURDIR)/node_modules/.bin:$(TOOLS)/bin:$(PATH)

# Tools are built unoptimised: that is quicker than any work they do here.
INSTALL := CARGO_PROFILE_DEV_DEBUG=0 CARGO_TARGET_DIR=target/tool-build cargo install --locked --debug --no-default-features --root $(TOOLS)
WASM := --target wasm32-unknown-unknown -p crenel-app

.PHONY: help serve test fresh canary bench soak fuzz fuzz-keep browsers deny mutants build check native budget cross browser lighthouse setup-rust setup-node setup-python setup-browser setup-app setup-test clean

help:
	@echo "make serve   build the app and open it on localhost"
	@echo "make test    run every test, the browser's included"
	@echo "make fresh   try make serve as on a machine that has nothing yet"
	@echo "make bench   measure speed and size"
	@echo "make soak    thousands of designs through every drawing and file; smallest cuts against cuts at random"
	@echo "make fuzz    made-up bytes as links, files and typed numbers"
	@echo "make browsers one walk through the page in Firefox and WebKit"
	@echo "make deny    licences, sources and known faults of all dependencies"
	@echo "make mutants faults put into the core, which the tests must find"

# ---- what people call ----

serve: build
	node tools/serve.mjs

# A clone of HEAD, out of reach of all that was installed or fetched here before.
fresh:
	node tools/fresh.mjs

# `make fresh` must fail where a step of the set-up is missing.
canary:
	node tools/fresh.mjs --canary

# The phases below, side by side where they can be, and what each took.
test:
	@node tools/test.mjs

bench: setup-test build $(EMPTY)
	cargo bench --bench recompute
	$(VENV)/bin/python benches/against.py
	node tests/browser/bench.mjs
	node tests/browser/lighthouse.mjs --speed

soak: $(STAMPS)/rust $(STAMPS)/python
	CRENEL_DESIGNS=$(SOAK_DESIGNS) cargo test --quiet --test properties -- thousands_of_designs every_number_is_taken
	CRENEL_PARTS=10000 CRENEL_JOBS=50 cargo test --quiet --test tolerance -- printed_limits
	cargo build --quiet --examples
	CRENEL_PAIRS=0..$(SOAK_PAIRS) $(VENV)/bin/python -m pytest -q -n 2 tests/cross/test_smallest.py
	CRENEL_RELEASES=0..200 $(VENV)/bin/python -m pytest -q tests/cross/test_release.py
	CRENEL_DRIVELINES=0..200 $(VENV)/bin/python -m pytest -q tests/cross/test_driveline.py
	CRENEL_BOXES=$(SOAK_BOXES) $(VENV)/bin/python -m pytest -q tests/cross/test_faulty_boxes.py

# What is found lies in target/fuzz/found, what breaks in fuzz/artifacts.
fuzz: $(STAMPS)/nightly $(TOOLS)/bin/cargo-fuzz
	for target in $(FUZZ_TARGETS); do \
		mkdir -p target/fuzz/found/$$target && \
		CARGO_TARGET_DIR=$(CURDIR)/target/fuzz cargo +nightly fuzz run --fuzz-dir fuzz $$target \
			target/fuzz/found/$$target fuzz/corpus/$$target -- \
			-max_total_time=$(FUZZ_SECONDS) -max_len=4000 -timeout=60 || exit 1; \
	done

# Puts the least of it that covers the same into the corpus that `make native` replays.
fuzz-keep: $(STAMPS)/nightly $(TOOLS)/bin/cargo-fuzz
	for target in $(FUZZ_TARGETS); do \
		CARGO_TARGET_DIR=$(CURDIR)/target/fuzz sh fuzz/keep.sh $$target $(CURDIR)/target/fuzz/found/$$target || exit 1; \
	done

# One walk through the page in browsers other than Chromium.
browsers: build
	browsers=$$(sh tests/browsers/find.sh) && node tests/browsers/walk.mjs $$browsers

# What deny.toml allows. The list of known faults comes from GitHub.
deny: $(STAMPS)/rust $(TOOLS)/bin/cargo-deny
	cargo deny --workspace check licenses bans sources
	@if cargo deny fetch db; then cargo deny --workspace check advisories; \
		else echo "NOT CHECKED: known faults of the dependencies; their list could not be fetched."; fi

# Everything is done to copies in target/mutants. What survives has its reason in tools/mutants/survivors.md.
mutants: $(STAMPS)/rust $(TOOLS)/bin/cargo-mutants
	CARGO_TARGET_DIR=$(CURDIR)/target/tool-build cargo run --quiet --locked --manifest-path tools/mutants/Cargo.toml

# ---- the parts of the test ----

# The app is checked as it is released, so that what is compiled for this machine serves the build too.
check: $(STAMPS)/rust
	cargo fmt --all --check
	cargo fmt --check --manifest-path fuzz/Cargo.toml
	cargo clippy --all-targets -- -D warnings
	cargo clippy --profile tool -p crenel-build --all-targets -- -D warnings
	RUSTC_BOOTSTRAP=1 cargo clippy --release $(WASM) -- -D warnings
	RUSTDOCFLAGS="-D warnings" cargo doc --no-deps --lib --quiet

native: $(STAMPS)/rust
	cargo test --quiet --no-fail-fast
	cargo test --quiet --profile tool -p crenel-build

build: setup-app
	$(BUILD)

# A page with nothing on it, to see what the framework alone costs.
$(EMPTY): $(wildcard benches/empty/*.* benches/empty/src/*) | setup-app
	CARGO_TARGET_DIR=target $(BUILD) benches/empty/index.html target/empty

cross: $(STAMPS)/rust $(STAMPS)/python
	cargo build --quiet --examples
	$(VENV)/bin/python -m pytest -q -n 2 tests/cross

budget: build
	node tests/browser/budget.mjs
	node tests/browser/licences.mjs

lighthouse: build setup-test
	node tests/browser/lighthouse.mjs

browser: build setup-test
	playwright test --config tests/browser/playwright.config.mjs

# ---- setting up ----

setup-rust: $(STAMPS)/rust
	cargo fetch --locked --quiet

setup-node: $(STAMPS)/node

setup-python: $(STAMPS)/python

setup-browser: $(STAMPS)/chromium

setup-app: setup-rust setup-node
	cargo build --profile tool --locked -p crenel-build

setup-test: setup-app setup-python setup-browser

# Names the toolchain of rust-toolchain.toml so that rustup fetches it and its wasm target.
$(STAMPS)/rust: rust-toolchain.toml
	@mkdir -p $(STAMPS)
	rustup show active-toolchain >/dev/null 2>&1 || rustup toolchain install
	rustup target add wasm32-unknown-unknown
	rustup component add rustfmt clippy rust-src
	@touch $@

$(TOOLS)/bin/cargo-fuzz: | $(STAMPS)/rust
	$(INSTALL) cargo-fuzz@$(FUZZ_VERSION)

$(TOOLS)/bin/cargo-deny: | $(STAMPS)/rust
	$(INSTALL) cargo-deny@$(DENY_VERSION)

$(TOOLS)/bin/cargo-mutants: | $(STAMPS)/rust
	$(INSTALL) cargo-mutants@$(MUTANTS_VERSION)

# Only the fuzzers need it: libFuzzer wants flags that stable does not take.
$(STAMPS)/nightly: | $(STAMPS)/rust
	rustup run nightly rustc --version >/dev/null 2>&1 || rustup toolchain install nightly --profile minimal
	@touch $@

$(STAMPS)/node: package.json package-lock.json
	@mkdir -p $(STAMPS)
	@node -e 'const { node } = process.versions; if (parseInt(node) < 20) { console.error("Crenel is built with Node 20 or later; here is " + node + "."); process.exit(1); }'
	npm ci --ignore-scripts --no-audit --no-fund
	@touch $@

$(STAMPS)/python: tests/cross/requirements.txt
	@mkdir -p $(STAMPS)
	python3 -m venv $(VENV)
	$(VENV)/bin/pip install --quiet --require-hashes -r tests/cross/requirements.txt
	@touch $@

$(STAMPS)/chromium: tests/browser/find-chromium.sh | $(STAMPS)/node
	sh tests/browser/find-chromium.sh --install
	@touch $@

clean:
	rm -rf target dist node_modules
