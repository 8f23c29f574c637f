#!/usr/bin/env bash
# Installs what is missing, builds everything and runs every test; the last line counts them.
#
#   bash tests/run.sh              the ordinary build
#   bash tests/run.sh --sanitize   under the address and undefined-behaviour sanitizers
#
# LOADLIGHT_BUILD_DIR chooses the build folder (default: build, or build-sanitize).
set -euo pipefail
here=$(cd "$(dirname "$0")/.." && pwd)
cd "$here"

sanitize=OFF
build=${LOADLIGHT_BUILD_DIR:-build}
if [ "${1:-}" = --sanitize ]; then
  sanitize=ON
  build=${LOADLIGHT_BUILD_DIR:-build-sanitize}
  export LSAN_OPTIONS=suppressions=$here/tests/leaks.supp:print_suppressions=0
fi

bash tests/install-packages.sh build test
launcher=()
command -v ccache >/dev/null && launcher=(-DCMAKE_CXX_COMPILER_LAUNCHER=ccache)
cmake -S . -B "$build" -G Ninja -DLOADLIGHT_SANITIZE=$sanitize "${launcher[@]}"
cmake --build "$build"

report=$build/tests.xml
rm -f "$report"
status=0
ctest --test-dir "$build" --output-on-failure -j "$(nproc)" --no-tests=error --output-junit tests.xml || status=$?
[ -f "$build/Testing/tests.xml" ] && report=$build/Testing/tests.xml
python3 tests/count.py "$report" || status=1
exit $status
