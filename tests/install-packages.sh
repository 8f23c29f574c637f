#!/usr/bin/env bash
# Installs what is missing of tests/debian-packages.txt. Arguments: the kinds wanted, "build", "test".
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)

wanted=$(for kind in "$@"; do awk -v kind="$kind" '$1 == kind { print $2 }' "$here/debian-packages.txt"; done)
# Node.js from elsewhere brings its own npm, and Debian's cannot be installed beside it.
missing=$(for package in $wanted; do
  [ "$package" = npm ] && command -v npm >/dev/null && continue
  dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null | grep -qx installed || echo "$package"
done)
[ -n "$missing" ] || exit 0

as_root=
[ "$(id -u)" -eq 0 ] || as_root=sudo
echo "Installing:" $missing
export DEBIAN_FRONTEND=noninteractive
$as_root apt-get update -q
# shellcheck disable=SC2086
$as_root apt-get install -q -y --no-install-recommends $missing
