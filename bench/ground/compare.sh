#!/bin/sh
# Times engine/ground beside CGAL and gdal_grid on one thread, runs interleaved,
# and prints medians of CPU seconds with their ratio. Needs Go, g++, libcgal-dev
# and gdal-bin. SETS names some of the sets.
set -eu
cd "$(dirname "$0")"
dir=${1:?usage: compare.sh WORK_DIR}
rounds=${2:-5}
mkdir -p "$dir"
go build -o "$dir/ours" .
g++ -O3 -DNDEBUG -o "$dir/cgal" cgal/triangulate.cpp -lgmp -lmpfr
[ -f "$dir/twice1m.bin" ] || "$dir/ours" make "$dir"
export GOMAXPROCS=1

median() { sort -n "$1" | awk '{v[NR]=$1} END {print v[int((NR+1)/2)]}'; }
row() { awk -v n="$1" -v a="$(median "$2")" -v b="$(median "$3")" 'BEGIN {printf "%-22s %8.3f %8.3f %6.2f\n", n, a, b, a/b}'; }

printf '%-22s %8s %8s %6s\n' set ours other ratio
for s in ${SETS:-random1m random5m breaks1m grid1m decimal1m east1m clusters1m circle1m twice1m}; do
  : > "$dir/a"; : > "$dir/b"; : > "$dir/ac"; : > "$dir/bc"
  i=0
  while [ $i -lt "$rounds" ]; do
    "$dir/ours" run "$dir/$s.bin" 3 > "$dir/o"; sed -n 1p "$dir/o" >> "$dir/ac"; sed -n '2,$p' "$dir/o" >> "$dir/a"
    "$dir/cgal" "$dir/$s.bin" 3 > "$dir/o"; sed -n 1p "$dir/o" >> "$dir/bc"; sed -n '2,$p' "$dir/o" >> "$dir/b"
    i=$((i + 1))
  done
  row "$s warm" "$dir/a" "$dir/b"
  row "$s cold" "$dir/ac" "$dir/bc"
done

"$dir/ours" csv "$dir/random100k.bin" > "$dir/random100k.csv"
cat > "$dir/random100k.vrt" <<VRT
<OGRVRTDataSource><OGRVRTLayer name="random100k">
<SrcDataSource relativeToVRT="1">random100k.csv</SrcDataSource><GeometryType>wkbPoint</GeometryType>
<GeometryField encoding="PointFromColumns" x="x" y="y" z="z"/></OGRVRTLayer></OGRVRTDataSource>
VRT
: > "$dir/a"; : > "$dir/b"
# cpu COMMAND… prints the CPU seconds, user and system, of a command.
cpu() { TIMEFORMAT='%U %S' bash -c 'time "$@" > /dev/null' cpu "$@" 2>&1 | awk '{print $1+$2}'; }
i=0
while [ $i -lt "$rounds" ]; do
  "$dir/ours" heights "$dir/random100k.bin" 3 | sed -n '2,$p' >> "$dir/a"
  cpu gdal_grid -q -a linear:radius=0 -txe 0 1000 -tye 0 1000 -outsize 1000 1000 -ot Float64 --config GDAL_NUM_THREADS 1 -l random100k "$dir/random100k.vrt" "$dir/out.tif" >> "$dir/b"
  i=$((i + 1))
done
row "heights" "$dir/a" "$dir/b"
