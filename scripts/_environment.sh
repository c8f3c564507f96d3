# Sourced by the scripts beside it: a virtual environment of the checkout, made on first use.
# $1: the extra to install ("" for none). Sets PYTHON. Needs Python 3.11 or newer with venv and pip.
make_environment() {
  local extra="$1" here top venv stamp found
  here="$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)"
  top="$(dirname "$here")"
  venv="$top/.venv"
  PYTHON="$venv/bin/python"
  # What was installed, from which declarations: changed declarations install anew.
  stamp="$venv/installed-${extra:-plain}"
  found="$(cat "$top/pyproject.toml" "$here/constraints.txt" | cksum)"
  [ -x "$PYTHON" ] && [ -f "$stamp" ] && [ "$(cat "$stamp")" = "$found" ] && return 0
  if [ ! -x "$PYTHON" ]; then
    local base
    for base in python3.11 python3.12 python3.13 python3; do
      if command -v "$base" >/dev/null 2>&1 && "$base" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then
        break
      fi
      base=""
    done
    if [ -z "$base" ]; then
      echo "caseload needs Python 3.11 or newer; none was found on the path." >&2
      return 1
    fi
    echo "Setting up, once: a virtual environment in .venv" >&2
    "$base" -m venv "$venv" || { echo "The virtual environment could not be made; is the venv module installed?" >&2; return 1; }
  fi
  echo "Installing what it needs${extra:+ ($extra)} ..." >&2
  "$PYTHON" -m pip install --quiet --disable-pip-version-check --constraint "$here/constraints.txt" \
    --editable "$top${extra:+[$extra]}" >&2 || { echo "Installing failed; nothing was started." >&2; return 1; }
  printf '%s' "$found" > "$stamp"
}
