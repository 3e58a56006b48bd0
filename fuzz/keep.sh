#!/bin/sh
# Keeps what a fuzzer found, as little of it as covers the same: keep.sh TARGET FOUND
#
# At most MOST files of MOST_BYTES each, those that cover most first; the other seeds go.
set -eu
target=$1 found=$2
MOST=380 MOST_BYTES=4000
here=$(cd "$(dirname "$0")" && pwd)
least=$(mktemp -d)
trap 'rm -rf "$least"' EXIT
cargo +nightly fuzz run --fuzz-dir "$here" "$target" "$least" "$here/corpus/$target" "$found" -- \
    -set_cover_merge=1 -max_len=$MOST_BYTES -timeout=60
rm -f "$here/corpus/$target"/*
# The merge writes what adds most first.
ls -tr "$least" | head -n $MOST | while read -r name; do
    cp "$least/$name" "$here/corpus/$target/$name"
done
echo "$(ls "$here/corpus/$target" | wc -l) inputs are kept for $target"
