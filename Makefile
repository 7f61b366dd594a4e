# make run    the window, on the demo journal          make test   everything a change must pass
# make bench  measurements, side by side               make lint   the part of the test that runs nothing
# make lock   the locks anew, from pyproject.toml      make wheel  dist/*.whl
# make clean  away with what was made                  PYTHON=...  another Python than python3

PYTHON ?= python3
BIN := .venv/bin
MAKEFLAGS += --no-print-directory

.DEFAULT_GOAL := run
.PHONY: run test lint bench lock wheel clean python set-up set-up-test

run: set-up
	@$(BIN)/python -m tastebook --demo

test: lint
	QT_QPA_PLATFORM=offscreen $(BIN)/python -m pytest -n auto --dist loadfile --cov=tastebook --cov-branch --cov-report=term

lint: set-up-test
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/lint-imports

bench: set-up-test
	@set -e; for one in benchmarks/*.py; do \
	  echo; echo "== $$one"; QT_QPA_PLATFORM=$${QT_QPA_PLATFORM:-offscreen} $(BIN)/python $$one; done

lock: python
	@$(PYTHON) packaging/lock.py

wheel: set-up
	@$(BIN)/python -m pip wheel --quiet --no-deps --wheel-dir dist . && ls dist/*.whl

clean:
	rm -rf .venv build dist out ./*.egg-info .coverage .coverage.* htmlcov
	rm -rf .mypy_cache .ruff_cache .pytest_cache .hypothesis .import_linter_cache
	find . -name __pycache__ -type d -prune -exec rm -rf {} +

set-up: python
	@$(PYTHON) packaging/set_up.py run

set-up-test: python
	@$(PYTHON) packaging/set_up.py test

python:
	@command -v $(PYTHON) >/dev/null || { \
	  echo "Tastebook needs Python 3.11 or later, and there is no $(PYTHON) here."; \
	  echo "On Debian and its kin this brings it:"; \
	  echo "    sudo apt-get install python3 python3-venv"; exit 1; }
