# What cli/run and tests/run share: the packages of the machine, and building without noise.
# shellcheck shell=bash
# shellcheck disable=SC2034  # used by the scripts that source this one

root=$(dirname -- "$(dirname -- "$(readlink -f -- "${BASH_SOURCE[0]}")")")
build=$root/.build
release=$build/release
program=$release/bin/slipcase

build_packages=(
  g++ cmake ninja-build pkg-config
  libboost-dev libcli11-dev libcsv-dev libedit-dev libfmt-dev libyaml-cpp-dev nlohmann-json3-dev
)
test_packages=(
  ccache clang clang-format clang-tidy libclang-rt-14-dev
  doctest-dev libbenchmark-dev libgmp-dev
)

say() { printf 'slipcase: %s\n' "$*" >&2; }

# logged NAME COMMAND...: the output goes into .build/NAME.log and is shown only if it fails.
logged() {
  local log=$build/$1.log
  shift
  "$@" >"$log" 2>&1 </dev/null && return
  say "this failed: $*"
  tail -n 60 "$log" >&2
  say "the whole output is in $log"
  return 1
}

# One process at a time may work on the build folder; the others wait for it.
lock_build() {
  exec 9>"$build/lock"
  flock -n 9 && return
  say "waiting for another run to finish building"
  flock 9
}
unlock_build() { exec 9>&-; }

missing_packages() {
  comm -13 \
    <(dpkg-query -W -f '${db:Status-Abbrev} ${Package}\n' "$@" 2>/dev/null |
      sed -n 's/^ii *//p' | sort) \
    <(printf '%s\n' "$@" | sort)
}

install_packages() {
  local -a as_root=()
  if ((EUID != 0)); then
    # sudo may ask for a password only where somebody can type it.
    if ! command -v sudo >/dev/null || { ! sudo -n true 2>/dev/null && [[ ! -t 0 ]]; }; then
      say "these Debian packages are missing, and this user may not install them: $*"
      say "install them with: apt-get install $*"
      return 3
    fi
    sudo -v || return 3
    as_root=(sudo)
  fi
  say "installing Debian packages: $*"
  local -a apt=("${as_root[@]}" env DEBIAN_FRONTEND=noninteractive
    apt-get -o DPkg::Lock::Timeout=300)
  logged packages "${apt[@]}" update || say "going on with the package lists that are there"
  logged packages "${apt[@]}" install --yes --no-install-recommends "$@" || return 3
}

# need_packages KIND PACKAGE...: installs what is missing. The stamp saves the question next time; it
# is older than this file as soon as the lists above change.
need_packages() {
  local stamp=$build/packages.$1
  shift
  [[ $stamp -nt $root/cli/setup.sh ]] && return
  if command -v dpkg-query >/dev/null; then
    local -a missing
    mapfile -t missing < <(missing_packages "$@")
    if ((${#missing[@]} > 0)); then
      install_packages "${missing[@]}" || return
    fi
  else
    say "this is not Debian, so nothing was installed; needed are what Debian calls: $*"
  fi
  touch "$stamp"
}

# Whether FOLDER can be built; CMake refuses a build folder that has moved with its project.
configured() {
  [[ -f $1/build.ninja ]] &&
    grep -qxF "CMAKE_HOME_DIRECTORY:INTERNAL=$root" "$1/CMakeCache.txt"
}

# configure FOLDER OPTION...
configure() {
  local folder=$1
  shift
  configured "$folder" || rm -rf "$folder"
  logged configure cmake -S "$root" -B "$folder" -G Ninja -D SLIPCASE_UNITY=ON "$@"
}

# Says so if the command after it takes longer than two seconds.
announced() {
  local text=$1 announcer code=0
  shift
  { sleep 2 >/dev/null 2>&1 && say "$text"; } 9>&- &
  announcer=$!
  "$@" || code=$?
  kill "$announcer" 2>/dev/null || true
  wait "$announcer" 2>/dev/null || true
  return "$code"
}

# Leaves an up-to-date program at $program.
prepare_program() {
  mkdir -p "$build"
  lock_build
  need_packages build "${build_packages[@]}" || exit
  configured "$release" || configure "$release" -D SLIPCASE_TESTS=OFF || exit 3
  announced "building, the first time takes a few minutes (log: .build/build.log)" \
    logged build cmake --build "$release" --target slipcase_cli || exit 3
  unlock_build
}
