#!/bin/sh
# Times engine/reception beside GDAL's viewshed on one thread, runs interleaved,
# and prints medians of CPU milliseconds a place. Needs Go and python3-gdal.
set -eu
cd "$(dirname "$0")"
dir=${1:?usage: compare.sh WORK_DIR}
rounds=${2:-5}
mkdir -p "$dir"
go build -o "$dir/ours" .
[ -f "$dir/grid.bin" ] || "$dir/ours" make "$dir"
export GOMAXPROCS=1 GDAL_NUM_THREADS=1

for k in digs dialled curved stands viewshed; do : > "$dir/$k"; done
i=0
while [ $i -lt "$rounds" ]; do
  for k in digs dialled curved stands; do "$dir/ours" "$k" "$dir" >> "$dir/$k"; done
  /usr/bin/python3 viewshed.py "$dir" | cut -d' ' -f1 >> "$dir/viewshed"
  i=$((i + 1))
done
median() { sort -n "$1" | awk '{v[NR]=$1} END {print v[int((NR+1)/2)]}'; }
for k in digs dialled curved stands; do
  awk -v n="$k" -v a="$(median "$dir/$k")" -v b="$(median "$dir/viewshed")" 'BEGIN {printf "%-10s %9.3f %9.3f %6.3f\n", n, a, b, a/b}'
done
