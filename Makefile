# Needs Python 3.11 or newer, make, and the package registries. `make demo` and `make test` set up what they need.
PYTHON ?= python3
BIN := .venv/bin
UV := $(BIN)/uv pip install --quiet --python $(BIN)/python
JOB := examples/landing-linen

.PHONY: demo test check bench docs format lock clean

demo: .venv/.runtime-ready
	$(BIN)/nookwright plan $(JOB)

test: .venv/.dev-ready
	$(BIN)/python -m pytest -n 2

check: .venv/.dev-ready
	$(BIN)/ruff check
	$(BIN)/ruff format --check
	$(BIN)/mypy
	$(BIN)/lint-imports
	$(BIN)/python tools/make_docs.py --check

bench: .venv/.dev-ready
	for script in bench/*.py; do $(BIN)/python "$$script" || exit 1; done

docs: .venv/.dev-ready
	$(BIN)/python tools/make_docs.py

format: .venv/.dev-ready
	$(BIN)/ruff check --fix
	$(BIN)/ruff format

# The locks name no registry and hold a hash of every file, for every Python and system.
COMPILE := $(BIN)/uv pip compile pyproject.toml --universal --python-version 3.11 --generate-hashes \
	--no-header --no-emit-index-url --quiet
lock: .venv/.setup-ready
	$(BIN)/uv pip compile --group pyproject.toml:setup --universal --python-version 3.11 --generate-hashes \
		--no-header --no-emit-index-url --quiet --output-file requirements-setup.lock
	$(COMPILE) --output-file requirements.lock
	$(COMPILE) --group dev --output-file requirements-dev.lock

clean:
	rm -rf .venv .pytest_cache .mypy_cache .ruff_cache .import_linter_cache .hypothesis examples/*/out

# Stamps: a step runs again only when the file it reads is newer. A .venv made by hand is taken over as it is.
.venv/.setup-ready: requirements-setup.lock
	@$(PYTHON) -c 'import sys; sys.exit("Python 3.11 or newer is needed: make PYTHON=python3.12 ..." if sys.version_info < (3, 11) else 0)'
	@test -x $(BIN)/python || $(PYTHON) -m venv .venv
	@$(BIN)/python -m pip --version >/dev/null 2>&1 || $(BIN)/python -m ensurepip >/dev/null
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements-setup.lock
	@touch $@

.venv/.runtime-ready: .venv/.setup-ready requirements.lock pyproject.toml
	$(UV) --require-hashes -r requirements.lock
	$(UV) --no-deps --editable .
	@touch $@

.venv/.dev-ready: .venv/.runtime-ready requirements-dev.lock
	$(UV) --require-hashes -r requirements-dev.lock
	@touch $@
