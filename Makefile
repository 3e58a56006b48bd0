# Two commands for people: `make serve` and `make test`. Both set up everything they need.
# Tools live in target/ and node_modules/; nothing is installed outside but a browser, if there is none.

TRUNK_VERSION := 0.21.14
BINDGEN_VERSION := 0.2.129

TOOLS := $(CURDIR)/target/tools
VENV := $(CURDIR)/target/venv
STAMPS := target/stamps
EMPTY := target/empty/index.html
export PATH := $(CURDIR)/node_modules/.bin:$(TOOLS)/bin:$(PATH)

# Both tools are built once, unoptimised: that is quicker than any work they do here.
INSTALL := CARGO_PROFILE_DEV_DEBUG=0 CARGO_TARGET_DIR=target/tool-build cargo install --locked --debug --no-default-features --root $(TOOLS)
WASM := --target wasm32-unknown-unknown --features app

.PHONY: help serve test bench build check native budget cross browser lighthouse setup-app setup-test clean

help:
	@echo "make serve   build the app and open it on localhost"
	@echo "make test    run every test, the browser's included"
	@echo "make bench   measure speed and size"

# ---- what people call ----

serve: setup-app
	trunk serve --release --offline --open

test: check native build budget cross browser lighthouse
	@echo "all tests passed"

bench: setup-test build $(EMPTY)
	cargo bench --bench recompute
	$(VENV)/bin/python benches/against.py
	node tests/browser/bench.mjs
	node tests/browser/lighthouse.mjs --speed

# ---- the parts of the test ----

check: $(STAMPS)/rust
	cargo fmt --check
	cargo clippy --all-targets -- -D warnings
	cargo clippy $(WASM) --bin crenel-app -- -D warnings
	RUSTDOCFLAGS="-D warnings" cargo doc --no-deps --lib --quiet

native: $(STAMPS)/rust
	cargo test --quiet

build: setup-app
	trunk build --release --offline

# A page with nothing on it, to see what the framework alone costs.
$(EMPTY): $(wildcard benches/empty/*.* benches/empty/src/*) | setup-app
	cd benches/empty && CARGO_TARGET_DIR=$(CURDIR)/target trunk build --release --offline

cross: $(STAMPS)/rust $(STAMPS)/python
	cargo build --quiet --examples
	$(VENV)/bin/python -m pytest -q tests/cross

budget: build
	node tests/browser/budget.mjs

lighthouse: build setup-test
	node tests/browser/lighthouse.mjs

browser: build setup-test
	playwright test --config tests/browser/playwright.config.mjs

# ---- setting up ----

setup-app: $(STAMPS)/rust $(TOOLS)/bin/trunk $(TOOLS)/bin/wasm-bindgen $(STAMPS)/node

setup-test: setup-app $(STAMPS)/python $(STAMPS)/chromium

# Names the toolchain of rust-toolchain.toml so that rustup fetches it and its wasm target.
$(STAMPS)/rust: rust-toolchain.toml
	@mkdir -p $(STAMPS)
	rustup show active-toolchain >/dev/null 2>&1 || rustup toolchain install
	rustup target add wasm32-unknown-unknown
	rustup component add rustfmt clippy
	@touch $@

$(TOOLS)/bin/trunk: | $(STAMPS)/rust
	$(INSTALL) trunk@$(TRUNK_VERSION)

$(TOOLS)/bin/wasm-bindgen: | $(STAMPS)/rust
	$(INSTALL) wasm-bindgen-cli@$(BINDGEN_VERSION)

$(STAMPS)/node: package.json package-lock.json
	@mkdir -p $(STAMPS)
	npm ci --no-audit --no-fund
	@touch $@

$(STAMPS)/python: tests/cross/requirements.txt
	@mkdir -p $(STAMPS)
	python3 -m venv $(VENV)
	$(VENV)/bin/pip install --quiet -r tests/cross/requirements.txt
	@touch $@

$(STAMPS)/chromium: tests/browser/find-chromium.sh | $(STAMPS)/node
	sh tests/browser/find-chromium.sh --install
	@touch $@

clean:
	rm -rf target dist node_modules
