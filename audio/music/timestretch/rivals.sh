#!/usr/bin/env bash
# Installs the programs that `go test -tags rivals` compares this package with.
set -euo pipefail
for program in rubberband soundstretch sox; do
  if ! command -v "$program" >/dev/null; then
    apt-get update -qq && apt-get install -y -qq rubberband-cli soundstretch sox >/dev/null
    break
  fi
done
