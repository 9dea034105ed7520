# Two commands do everything: `make run` and `make test`. Each sets up .venv first if need be.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
READY := $(VENV)/.ready

.PHONY: run test setup browser check lint types bench soak docs pins wheel clean
.DEFAULT_GOAL := run

setup: $(READY)

# `uv` is used where it is found, because it is quicker; plain pip does the same work.
$(READY): requirements.txt pyproject.toml tools/old_python.txt
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || \
	  { cat tools/old_python.txt; exit 1; }
	@test -x $(BIN)/python || $(PYTHON) -m venv $(VENV)
	@if command -v uv >/dev/null 2>&1; then \
	  VIRTUAL_ENV=$(VENV) uv pip install --quiet --require-hashes -r requirements.txt && \
	  VIRTUAL_ENV=$(VENV) uv pip install --quiet --no-deps --no-build-isolation -e .; \
	else \
	  $(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements.txt && \
	  $(BIN)/python -m pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation -e .; \
	fi
	@touch $@

# The example is copied, so that what is tried on it does not change the checkout.
# `check` answers 1 or 3 when something in the build wants attention: that is an answer, not a fault.
run: $(READY)
	@test -d builds/orchard-pickup || $(BIN)/wattwright new builds/orchard-pickup --like orchard-pickup
	@$(BIN)/wattwright check builds/orchard-pickup; code=$$?; \
	case $$code in 2|64|70) exit $$code;; esac
	@$(BIN)/wattwright serve builds

test: lint types browser
	$(BIN)/python -m pytest -n auto --dist loadgroup -m "not soak"

# Some tests look at the pages in a real browser. Where it stands already nothing is asked of apt.
browser:
	@command -v chromium >/dev/null 2>&1 || sh tools/browser.sh

lint: $(READY)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .

types: $(READY)
	$(BIN)/mypy

bench: $(READY)
	$(BIN)/python tools/bench.py

soak: $(READY)
	$(BIN)/python -m pytest -m soak --durations=5

docs: $(READY)
	$(BIN)/python tools/write_docs.py

wheel: $(READY)
	$(BIN)/python -m build --no-isolation --wheel --outdir dist .

# Maintainers only: needs uv. The pins carry hashes and no registry addresses.
pins:
	uv pip compile --quiet --universal --python-version 3.11 --generate-hashes --no-annotate --no-header requirements.in -o requirements.txt

clean:
	rm -rf $(VENV) dist build .mypy_cache .ruff_cache .pytest_cache .hypothesis
