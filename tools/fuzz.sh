#!/bin/sh
# Run every fuzz target of the module for a while: tools/fuzz.sh 30s
set -eu
for package in $(go list ./...); do
	for target in $(go test -list '^Fuzz' "$package" | grep '^Fuzz' || true); do
		echo "$package $target"
		go test -run '^$' -fuzz "^$target\$" -fuzztime "${1:-30s}" "$package"
	done
done
