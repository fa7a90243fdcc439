#!/bin/sh
# Sets everything up and runs the tests: sh tests/run.sh [pytest arguments]
set -eu
cd "$(dirname "$0")/.."
. .ci/set-up
set_up "[dev]" libcairo2 poppler-utils qpdf w3c-sgml-lib
exec .venv/bin/python -m pytest "$@"
