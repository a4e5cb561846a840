#!/bin/sh
# Makes the recordings in words/: needs espeak-ng and sox. Each word is spoken by
# espeak-ng (made with 1.51, voice en-gb, 250 words a minute, pitch 45), its
# silence cut off, shortened so that the next count finds it ended, and brought
# to one level. espeak-ng is free software under the GPL, version 3 or later; the
# recordings are its output.
set -eu
cd "$(dirname "$0")"
tmp=$(mktemp -d)
trap 'rm -rf "$tmp"' EXIT
make_word() { # the word, how it is written for the synthesiser, the most seconds it may last
	espeak-ng -v en-gb -s 250 -p 45 -w "$tmp/spoken.wav" "$2"
	sox -D -R "$tmp/spoken.wav" "$tmp/cut.wav" silence 1 0.005 0.8% reverse silence 1 0.005 0.8% reverse
	long=$(soxi -D "$tmp/cut.wav")
	faster=$(awk "BEGIN { f = $long / $3; print (f > 1 ? f : 1) }")
	sox -D -R "$tmp/cut.wav" "$tmp/short.wav" tempo -s "$faster"
	rms=$(sox -D -R "$tmp/short.wav" -n stat 2>&1 | awk '/RMS.*amplitude/ { print $3 }')
	gain=$(awk "BEGIN { print 20 * log(0.09 / $rms) / log(10) }")
	sox -D -R "$tmp/short.wav" -b 16 "words/$1.wav" gain "$gain" fade 0.005 -0 0.02
}
mkdir -p words
for w in one two three four five six seven eight nine ten eleven twelve slow quick step ready; do
	make_word "$w" "$w" 0.28
done
make_word and "and" 0.17
make_word a "uh" 0.14
make_word e "ee" 0.14
make_word cha "chah" 0.2
