# Installs packages of the system where apt-get may; fails where it may not.
apt_install() {
	command -v apt-get >/dev/null 2>&1 || return 1
	as_root=
	if [ "$(id -u)" -ne 0 ]; then
		command -v sudo >/dev/null 2>&1 || return 1
		as_root=sudo
	fi
	$as_root apt-get -o Acquire::Retries=0 -o Acquire::http::Timeout=30 update -qq && $as_root apt-get install -y -qq "$@"
}
