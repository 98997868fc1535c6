#!/bin/sh
# Installs what the tests need and this machine lacks: Debian packages (which
# takes root) and the npm packages of testdata/. Go fetches its own.
set -eu
cd "$(dirname "$0")/.."

missing=
while IFS='	' read -r package file; do
	case "$package" in ''|'#'*) continue ;; esac
	[ -e "$file" ] || missing="$missing $package"
done <.build/packages.txt
if [ -n "$missing" ]; then
	if [ "$(id -u)" != 0 ]; then
		echo "setup: these Debian packages are missing and only root can install them:$missing" >&2
		echo "setup: run as root: apt-get install --no-install-recommends$missing" >&2
		exit 1
	fi
	echo "setup: installing$missing"
	apt-get update -qq
	# shellcheck disable=SC2086
	DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing >/dev/null
fi

wanted=$(cat testdata/package.json testdata/package-lock.json | sha256sum | cut -d' ' -f1)
mark=testdata/node_modules/.installed
if [ ! -e "$mark" ] || [ "$(cat "$mark")" != "$wanted" ]; then
	echo "setup: installing the npm packages of testdata/"
	(cd testdata && npm ci --loglevel=error)
	printf '%s\n' "$wanted" >"$mark"
fi
