#!/usr/bin/env bash
# Installs what the tests use and the program does not: a browser, fonts,
# a PDF reader, GNU units, an editor and two npm packages. Does nothing where all is there.
set -euo pipefail
cd "$(dirname "$0")"

root=()
if [ "$(id -u)" -ne 0 ]; then root=(sudo -n); fi
can_install() { command -v apt-get >/dev/null 2>&1 && "${root[@]}" true 2>/dev/null; }

# Command that must be there, and the Debian package that brings it.
missing=()
need() { command -v "$1" >/dev/null 2>&1 || missing+=("$2"); }
if [ -z "${CHROMIUM:-}" ]; then
	need chromium chromium
	# The same without windows, for looking at every page; without it Chromium does that too, slower.
	if can_install; then need chromium-headless-shell chromium-headless-shell; fi
fi
need pdftotext poppler-utils
need units units
need node nodejs
need npm npm
need nvim neovim
# Without a font, text has no width, and a test of layouts tests nothing.
if ! { command -v fc-list && [ -n "$(fc-list)" ]; } >/dev/null 2>&1; then
	missing+=(fontconfig fonts-dejavu-core fonts-liberation)
fi

if [ ${#missing[@]} -gt 0 ]; then
	if ! can_install; then
		echo "The tests need these Debian packages, or what they are called on this system: ${missing[*]}" >&2
		echo "Install them, or set CHROMIUM to the path of a Chromium that is there, and run this again." >&2
		exit 1
	fi
	echo "Installing ${missing[*]}"
	# The lists of a new machine may be older than the packages they name.
	"${root[@]}" apt-get update -qq
	"${root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null
fi

# npm notes in this file what it has laid; a newer lock file asks for it again.
if [ ! node_modules/.package-lock.json -nt package-lock.json ]; then
	echo "Installing the npm packages of package-lock.json"
	npm ci --ignore-scripts --no-audit --no-fund --loglevel=error
	touch node_modules/.package-lock.json
fi
