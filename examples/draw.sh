#!/bin/sh
# Sets everything up and draws an example, the tub alcove or any other file of this folder: sh examples/draw.sh [JOB]
set -eu
cd "$(dirname "$0")/.."
. .ci/set-up
set_up "" libcairo2
exec .venv/bin/elevation draw "${1:-examples/tub-alcove.toml}"
