#!/bin/sh
# Prints the browsers to walk through, as walk.mjs wants them named; what is missing is installed where
# apt-get can. WebKit is driven on a screen that xvfb makes up.
set -u
. "$(dirname "$0")/../browser/apt-install.sh"

first() {
	for name in "$@"; do command -v "$name" && return 0; done
	return 1
}

firefox() { first "${FIREFOX:-firefox-esr}" firefox; }
webkit() { first xvfb-run >/dev/null && first xauth >/dev/null && first "${WEBKIT_DRIVER:-WebKitWebDriver}"; }

firefox >/dev/null || apt_install --no-install-recommends firefox-esr >&2
webkit >/dev/null || apt_install --no-install-recommends webkit2gtk-driver xvfb xauth >&2
firefox >/dev/null || webkit >/dev/null || {
	echo "There is neither Firefox nor a WebKit driver, and apt-get could install none. Name one in FIREFOX or WEBKIT_DRIVER." >&2
	exit 1
}
path=$(firefox) && echo "firefox=$path" || echo "No Firefox was found: not walked through." >&2
path=$(webkit) && echo "webkit=$path" || echo "No WebKitWebDriver was found: not walked through." >&2
