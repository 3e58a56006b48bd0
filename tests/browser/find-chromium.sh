#!/bin/sh
# Prints the path of a Chromium or Chrome that starts, one without a window of its own first: it opens a
# page in half the time. With --whole, the one that people have first. With --install, gets both if they are missing: the
# system's packages where apt-get can install them, else the one that Playwright downloads.
set -u
here=$(cd "$(dirname "$0")" && pwd)
. "$here/apt-install.sh"

# A wrapper that only says how to install the real one does not print a version.
starts() {
	[ -n "$1" ] && [ -x "$1" ] && "$1" --version >/dev/null 2>&1
}

quick=chromium-headless-shell
[ "${1:-}" != "--whole" ] || quick=

print_first() {
	for name in "${CHROMIUM:-}" "$quick" chromium chromium-browser google-chrome google-chrome-stable \
		"/Applications/Chromium.app/Contents/MacOS/Chromium" \
		"/Applications/Google Chrome.app/Contents/MacOS/Google Chrome"; do
		[ -n "$name" ] || continue
		path=$(command -v "$name" 2>/dev/null) || continue
		starts "$path" && echo "$path" && return 0
	done
	path=$(cd "$here" && node -p 'require("@playwright/test").chromium.executablePath()' 2>/dev/null) || return 1
	starts "$path" && echo "$path"
}

if [ "${1:-}" = "--install" ]; then
	print_first >/dev/null || apt_install chromium >&2 || (cd "$here" && npx playwright install chromium) >&2
	# The quicker one is worth a try and no more.
	starts "$(command -v chromium-headless-shell)" || apt_install --no-install-recommends chromium-headless-shell >&2
	print_first && exit 0
	echo "Chromium could be installed neither by apt-get nor by Playwright. Install Chromium or Chrome by hand, or name it in CHROMIUM." >&2
	exit 1
fi
print_first && exit 0
echo "No Chromium or Chrome was found. Install one, name it in CHROMIUM, or run this with --install." >&2
exit 1
