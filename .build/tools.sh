#!/bin/sh
# Says what is missing before anything fails for want of it.
set -eu
cd "$(dirname "$0")/.."
need_go=$(sed -n 's/^go \([0-9.]*\).*/\1/p' go.mod)
need_node=20.11

# older A B: is version A older than B?
older() {
	[ "$1" != "$2" ] && [ "$(printf '%s\n%s\n' "$1" "$2" | sort -V | head -n 1)" = "$1" ]
}

have_go=$(go env GOVERSION 2>/dev/null | sed 's/^go//') || have_go=
if [ -z "$have_go" ] || older "$have_go" "$need_go"; then
	echo "make: Go $need_go or newer is needed, here is ${have_go:-none} (Debian's own package is too old: take it from the Go project)" >&2
	exit 1
fi
have_node=$(node --version 2>/dev/null | sed 's/^v//') || have_node=
if [ -z "$have_node" ] || older "$have_node" "$need_node"; then
	echo "make: Node $need_node or newer is needed, here is ${have_node:-none}" >&2
	exit 1
fi
