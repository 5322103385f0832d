#!/bin/sh
# The report's tests look at it in a real browser: put Chromium there where
# Debian's packages and the rights to install them are at hand.
set -eu
if command -v chromium >/dev/null 2>&1; then
	exit 0
fi
if [ "$(id -u)" -ne 0 ] || ! command -v apt-get >/dev/null 2>&1; then
	echo "chromium is not installed: the browser tests will be skipped; install it to run them" >&2
	exit 0
fi
apt-get update -qq
DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends chromium >/dev/null
