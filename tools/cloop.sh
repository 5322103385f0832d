#!/bin/sh
# Times the daily step of package dynamics in C and in Go, side by side, and
# checks that both give the same numbers. Wants gcc; nothing else does.
# With -update it rewrites dynamics/testdata/step_c.txt.
set -eu
cd "$(dirname "$0")/.."
out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT
c() { gcc -std=c99 -D_POSIX_C_SOURCE=200809L -Wall -ffp-contract=off "$@" -o "$out/step" dynamics/testdata/step.c -lm; }

c -O3
if [ "${1:-}" = -update ]; then
	"$out/step" check >dynamics/testdata/step_c.txt
fi
"$out/step" check | cmp - dynamics/testdata/step_c.txt
echo "C, gcc -O3:"
"$out/step" time
c -O3 -march=native
echo "C, gcc -O3 -march=native:"
"$out/step" time
echo "Go:"
GOMAXPROCS=1 go test ./dynamics -run TestStepLikeC -bench 'Season|SideBySide' -benchmem
