#!/bin/sh
# Install Debian's chromium for the tests that look at the pages, where that may be done.
set -eu
if [ "$(id -u)" -eq 0 ] && command -v apt-get >/dev/null 2>&1; then
  export DEBIAN_FRONTEND=noninteractive
  apt-get install -y --no-install-recommends chromium ||
    { apt-get update && apt-get install -y --no-install-recommends chromium; }
  exit
fi
cat >&2 <<'END'
The tests of the pages need the browser chromium, which is not installed here and which only the
administrator may install. On Debian: sudo apt-get install --no-install-recommends chromium
END
exit 1
