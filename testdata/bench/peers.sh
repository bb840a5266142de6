#!/usr/bin/env bash
# Measures this project and its peers side by side, in one run, and prints one
# table: what was measured, the goal, and whether it is met. README.md beside
# this file says how.
#
#   testdata/bench/peers.sh            all rows
#   RUNS=3 testdata/bench/peers.sh     fewer runs of each (default 5; slow peers 3)
#   BY=cpu testdata/bench/peers.sh     judge by processor time, on a machine that others use too
#   KEEP=DIR testdata/bench/peers.sh   inputs, peers and every single figure stay in DIR
#
# Exit status: 0 every goal is met, 1 one is not, 2 something could not be
# measured. Needs Go, Node and Python 3; fetches npm packages, and with apt
# (Debian, root) what is missing of ezdxf and GDAL. Writes nothing into the tree.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
runs=${RUNS:-5}
slow=$((runs < 3 ? runs : 3))
by=${BY:-wall}
case $by in
wall) column=1 measured="wall time" ;;
cpu) column=2 measured="processor time (user and system, of all threads)" ;;
*) echo "peers.sh: BY=$by: write wall or cpu" >&2; exit 2 ;;
esac
if [ -n "${KEEP:-}" ]; then
  T=$(mkdir -p "$KEEP" && cd "$KEEP" && pwd)
else
  T=$(mktemp -d)
  trap 'rm -rf "$T"' EXIT
fi
say() { echo "== $*" >&2; }
die() { echo "peers.sh: $*" >&2; exit 2; }
export LC_ALL=C
TIMEFORMAT='%3R %3U %3S'

# ---------------------------------------------------------------- what is needed
python=/usr/bin/python3 # Debian's, which python3-ezdxf belongs to
[ -x $python ] || python=python3
need=()
$python -c 'import ezdxf' 2>/dev/null || need+=(python3-ezdxf)
command -v ogrinfo >/dev/null || need+=(gdal-bin)
[ -x /usr/bin/time ] || need+=(time)
command -v node >/dev/null || need+=(nodejs)
command -v npm >/dev/null || need+=(npm)
if [ ${#need[@]} -gt 0 ]; then
  say "installing ${need[*]}"
  export DEBIAN_FRONTEND=noninteractive
  apt-get update -qq && apt-get install -y -qq "${need[@]}" >/dev/null || die "could not install ${need[*]}"
fi
if [ ! -d "$T/npm/node_modules/gcode-toolpath" ]; then
  say "gcode-toolpath 3.0.0 and dxf-parser 1.1.2 from npm"
  mkdir -p "$T/npm"
  npm install --prefix "$T/npm" --no-audit --no-fund --silent gcode-toolpath@3.0.0 dxf-parser@1.1.2 || die "npm could not install the peers"
fi
export NODE_PATH=$T/npm/node_modules

say "building" # as .ci/release does: what people run
export CGO_ENABLED=0 GOFLAGS="-trimpath -tags=nethttpomithttp2"
(cd "$root" && go build -gcflags "crypto/...=-l" -ldflags "-s -w" -o "$T/starwright" ./cmd/starwright && go build -o "$T/driver" ./testdata/bench/driver)
sw=$T/starwright driver=$T/driver
# The directory the peers' own files lie in must not decide what is measured.
cd "$T"
mkdir -p in runs
rm -rf packet made runs/*

say "inputs"
"$driver" inputs in
"$sw" make -o packet >/dev/null
declare -A file=([raster]=slot-left [again]=slot-left [pieces]=jigs-1)
sizes=(10000 100000 1000000 3000000)
for kind in raster again pieces; do
  for n in "${sizes[@]}"; do
    "$driver" long $kind "$n" packet/gcode/${file[$kind]}.nc in/$kind-$n.nc
  done
done
"$driver" long raster 10000000 - in/raster-10000000.nc
stars() { # a job of so many stars whose jig kit, laminated from thin sheet, has some 200 parts
  sed "s/@STARS@/$1/" "$here/stars.toml.in"
}
counts=(250 500 1000 2000)
for n in "${counts[@]}"; do stars "$n" >in/stars-$n.toml; done

# ---------------------------------------------------------------- measuring
# once NAME COMMAND...: one run, noted in runs/NAME as "wall cpu MB", seconds.
# An exit status of 1 is a verdict on a file, not a failure to measure.
once() {
  local name=$1 status=0
  shift
  { time /usr/bin/time -f %M -o runs/.mem "$@" >runs/.out 2>runs/.err || status=$?; } 2>runs/.time
  [ "$status" -le 1 ] || { cat runs/.err >&2; die "$name: exit status $status of $*"; }
  awk -v mem="$(tail -1 runs/.mem)" '{printf "%s %.3f %.1f\n", $1, $2 + $3, mem * 1024 / 1e6}' runs/.time >>runs/"$name"
}
low() { sort -g -k"$2,$2" runs/"$1" | awk -v c="$2" 'NR == 1 {print $c}'; }
best() { low "$1" $column; }                                       # least time
cpu() { low "$1" 2; }                                              # least processor time
least() { low "$1" 3; }                                            # least memory: the peers'
most() { sort -gr -k3,3 runs/"$1" | awk 'NR == 1 {print $3}'; }    # most memory: ours
# proof KIND N: check of a packet in which one program is the long one.
proof() {
  cp in/$1-$2.nc packet/gcode/${file[$1]}.nc
  once check-$1-$2 "$sw" check packet gcode/${file[$1]}.nc
}

load=$(cut -d' ' -f1 /proc/loadavg)
say "read and replay"
for i in $(seq "$runs"); do
  [ "$i" -gt "$slow" ] || once peer-replay node "$here/peer.cjs" gcode-toolpath in/million.nc
  once replay "$driver" replay in/million.nc
  grep -q '^1010008 blocks, 1010002 moves, 0 findings' runs/.out || die "replay: $(cat runs/.out)"
  once replay-long "$driver" replay in/raster-10000000.nc
  for n in "${sizes[@]}"; do
    proof raster "$n"
    proof again "$n"
    [ "$n" -gt 1000000 ] || proof pieces "$n"
  done
done

say "drawings"
for i in $(seq "$runs"); do
  [ "$i" -gt "$slow" ] || once peer-ezdxf-write $python "$here/peer.py" write in/ezdxf.dxf
  [ "$i" -gt "$slow" ] || once peer-ezdxf-read $python "$here/peer.py" read in/outlines.dxf
  once dxfwrite "$driver" dxfwrite in/ours.dxf
  once peer-gdal ogrinfo -ro -al -so in/outlines.dxf
  grep -q 'Feature Count: 2000[0-9]' runs/.out || die "GDAL did not read the outlines"
  once dxfread "$driver" dxfread in/outlines.dxf
  grep -q '^20000 contours, 0 findings' runs/.out || die "dxfread: $(cat runs/.out)"
  once dxfjudge "$driver" dxfjudge in/outlines.dxf
  once peer-dxf-parser node "$here/peer.cjs" dxf-parser in/outlines.dxf
done

say "the whole program"
for i in $(seq $((2 * runs))); do
  rm -rf made
  once make "$sw" make -o made
  once plan "$sw" plan
  once version "$sw" version
done
say "the first stage of plan"
# A process cannot stop there, so that its time is the benchmark's: nanoseconds of
# one stage, in the form of once.
for i in $(seq "$runs"); do
  (cd "$root" && go test -run '^$' -bench '^BenchmarkStart$' -benchtime 20x ./cmd/internal/packet) |
    awk '/^BenchmarkStart/ {printf "%.4f %.4f 0\n", $3 / 1e9, $3 / 1e9}' >>"$T/runs/start"
done
[ "$(wc -l <runs/start)" = "$runs" ] || die "the first stage was not timed"
for i in $(seq "$slow"); do
  for n in "${counts[@]}"; do
    rm -rf made
    once batch-$n "$sw" make in/stars-$n.toml -o made
  done
done
"$sw" plan in/stars-1000.toml --json >in/plan.json
jigparts=$(cat made/gcode/jigs-*.nc | awk '/^\(Cuts: / {n += $2} END {print n + 0}')

# ---------------------------------------------------------------- the table
missed=0
row() { printf '%-58s %11s %14s %10s %14s  %s\n' "$@"; }
# judge VALUE LIMIT SENSE: met or NOT MET; SENSE is "most" or "least".
judge() { awk -v v="$1" -v l="$2" -v s="$3" 'BEGIN {print ((s == "most" ? v + 0 <= l + 0 : v + 0 >= l + 0) ? "met" : "NOT MET")}'; }
line() { # what, ours, peer, ratio, goal, verdict
  row "$@"
  [ "$6" != "NOT MET" ] || missed=$((missed + 1))
}
ratio() { awk -v a="$1" -v b="$2" 'BEGIN {printf "%.1f", a / b}'; }
faster() { # what, ours, peer, times
  local r
  r=$(ratio "$(best "$3")" "$(best "$2")")
  line "$1" "$(best "$2") s" "$(best "$3") s" "$r x" ">= $4 x" "$(judge "$r" "$4" least)"
}
memory() { line "$1" "$(most "$2") MB" "-" "-" "<= $3 MB" "$(judge "$(most "$2")" "$3" most)"; }
seconds() { line "$1" "$(best "$2") s" "-" "-" "<= $3 s" "$(judge "$(best "$2")" "$3" most)"; }
# growth KIND A B C: processor time from B to C blocks against that from A to
# B, held against n log n; what every run costs falls out of the differences.
growth() {
  local r g
  r=$(awk -v a="$(cpu check-$1-$2)" -v b="$(cpu check-$1-$3)" -v c="$(cpu check-$1-$4)" 'BEGIN {d = b - a; if (d < 0.001) d = 0.001; printf "%.2f", (c - b) / d}')
  g=$(awk -v a="$2" -v b="$3" -v c="$4" 'BEGIN {printf "%.2f", 1.25 * (c * log(c) - b * log(b)) / (b * log(b) - a * log(a))}')
  line "  $1: $3 to $4 against $2 to $3" "$r" "-" "-" "<= $g" "$(judge "$r" "$g" most)"
}

echo "$(date +%F), $(nproc) processors of $(awk -F': *' '/model name/ {print $2; exit}' /proc/cpuinfo), load $load at the start and $(cut -d' ' -f1 /proc/loadavg) at the end"
echo "$(go version | cut -d' ' -f3), node $(node --version), ezdxf $($python -c 'import ezdxf; print(ezdxf.__version__)'), $(ogrinfo --version | cut -d, -f1)"
echo "Least $measured of $runs runs ($slow of the slow peers), process start and file reading included; most memory of ours, least of a peer's"
[ $by = cpu ] || awk -v l="$load" -v n="$(nproc)" 'BEGIN {if (l > n / 2) print "Others were using the machine: judge by BY=cpu, or run this again when it is quiet"}'
row work ours peer ratio goal ""
row "--- RS-274, 1,010,008 blocks" "" "" "" "" ""
faster "read and replay, against gcode-toolpath" replay peer-replay 80
memory "  memory" replay 64
memory "  memory, 10,000,000 blocks" replay-long 64
line "  memory of gcode-toolpath" - "$(least peer-replay) MB" - - ""
for kind in raster again pieces; do
  case $kind in
  raster) what="cut in the wrong place, 1,000 findings" ;;
  again) what="a slot cut over and over, passes" ;;
  pieces) what="a sheet in short lines, passes" ;;
  esac
  times=30
  [ $kind != pieces ] || times=12 # lines of 0.02 mm, each over hundreds of others
  faster "full check, $what" check-$kind-1000000 peer-replay $times
  memory "  memory" check-$kind-1000000 256
done
row "--- growth of the check, processor time" "" "" "" "" ""
for kind in raster again pieces; do
  line "  $kind: s at ${sizes[*]}" "$(for n in "${sizes[@]}"; do [ -f runs/check-$kind-$n ] && printf '%s ' "$(cpu check-$kind-$n)"; done)" "" "" "" ""
  [ $kind = pieces ] || growth $kind 10000 1000000 3000000
done
row "--- DXF, 20,000 closed outlines of four corners" "" "" "" "" ""
faster "write, against ezdxf" dxfwrite peer-ezdxf-write 60
faster "read, against GDAL" dxfread peer-gdal 2
line "  memory, against GDAL" "$(most dxfread) MB" "$(least peer-gdal) MB" "$(ratio "$(least peer-gdal)" "$(most dxfread)") x" "less" "$(judge "$(most dxfread)" "$(least peer-gdal)" most)"
line "  read and judged, against GDAL's reading" "$(best dxfjudge) s" "$(best peer-gdal) s" "$(ratio "$(best peer-gdal)" "$(best dxfjudge)") x" - ""
line "  reading by dxf-parser, by ezdxf" - "$(best peer-dxf-parser), $(best peer-ezdxf-read) s" - - ""
row "--- the program, cold" "" "" "" "" ""
seconds "make, built-in job, whole packet" make 0.4
memory "  memory" make 150
seconds "plan, built-in job" plan 0.03
# The goal was set where a start took 0.003 s; another machine takes longer to begin.
line "  a mere start: version" "$(best version) s" "-" "-" "" ""
beyond=$(awk -v p="$(best plan)" -v v="$(best version)" 'BEGIN {printf "%.3f", p - v}')
line "  what plan does beyond that" "$beyond s" "-" "-" "<= 0.027 s" "$(judge "$beyond" 0.027 most)"
seconds "  its first stage: numbers and star" start 0.008
seconds "1,000 stars, 6 stations, nest of $jigparts jig parts" batch-1000 3
line "  s at ${counts[*]} stars" "$(for n in "${counts[@]}"; do printf '%s ' "$(best batch-$n)"; done)" "" "" "" ""
r=$(ratio "$(best batch-2000)" "$(best batch-250)")
line "  2,000 stars against 250" "$r x" - - "<= 8 x" "$(judge "$r" 8 most)"
row "--- length of the programs of that batch, as plan reports it" "" "" "" "" ""
$python - in/plan.json >runs/.length <<'PY'
import json, sys
sheets = [s for s in json.load(open(sys.argv[1]))["sheets"]]
def pair(a, b):
    have = [s for s in sheets if s.get(b)]
    return sum(s[a] for s in have), sum(s[b] for s in have)
for a, b in (("travel_mm", "travel_bound_mm"), ("blocks", "blocks_bound")):
    have, bound = pair(a, b)
    print(a, round(have), round(bound), "%.3f" % (have / bound if bound else 0))
PY
while read -r what have bound r; do
  if [ "$bound" = 0 ]; then
    line "  $what" "$have" "no bound" - "reported" "NOT MET"
  else
    line "  $what, against the lower bound" "$have" "$bound" "$r x" "reported" "met"
  fi
done <runs/.length
if [ "$missed" -gt 0 ]; then
  echo "$missed goals are NOT MET"
  exit 1
fi
echo "every goal is met"
