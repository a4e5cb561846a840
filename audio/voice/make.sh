#!/bin/sh
# Makes the recordings in words/: needs espeak-ng, sox and flac. Each word is spoken by
# espeak-ng (made with 1.51, 250 to 300 words a minute, pitch 45), its silence cut off,
# shortened so that the next count finds it ended, and brought to one level, or as near to
# it as its peaks allow. espeak-ng is free software under the GPL, version 3 or later; the
# recordings are its output.
#
# What teachers say for slow and quick in other languages is common practice.
set -eu
cd "$(dirname "$0")"
tmp=$(mktemp -d)
trap 'rm -rf "$tmp"' EXIT
make_word() { # the language's folder, the word in English, how it is written for the synthesiser, the most seconds it may last
	espeak-ng -v "$voice" -s "$speed" -p 45 -w "$tmp/spoken.wav" "$3"
	sox -D -R "$tmp/spoken.wav" "$tmp/cut.wav" silence 1 0.005 0.8% reverse silence 1 0.005 0.8% reverse
	long=$(soxi -D "$tmp/cut.wav")
	faster=$(awk "BEGIN { f = $long / $4; print (f > 1 ? f : 1) }")
	sox -D -R "$tmp/cut.wav" "$tmp/short.wav" tempo -s "$faster"
	rms=$(sox -D -R "$tmp/short.wav" -n stat 2>&1 | awk '/RMS.*amplitude/ { print $3 }')
	peak=$(sox -D -R "$tmp/short.wav" -n stat 2>&1 | awk '/Maximum amplitude/ { a = $3 } /Minimum amplitude/ { b = -$3 } END { print (a > b ? a : b) }')
	gain=$(awk "BEGIN { g = 0.09 / $rms; if (g * $peak > 0.74) g = 0.74 / $peak; print 20 * log(g) / log(10) }")
	sox -D -R "$tmp/short.wav" -b 16 "$tmp/word.wav" gain "$gain" fade 0.005 -0 0.02
	flac -s -8 -f --no-padding -o "words/$1/$2.flac" "$tmp/word.wav"
}
# speaks makes a language: its folder, espeak-ng's voice, words a minute, and its words for one to twelve, slow
# and quick, then and.
speaks() {
	language=$1 voice=$2 speed=$3
	shift 3
	mkdir -p "words/$language"
	for english in one two three four five six seven eight nine ten eleven twelve slow quick; do
		make_word "$language" "$english" "$1" 0.28
		shift
	done
	make_word "$language" and "$1" 0.17
}
speaks english en-gb 250 one two three four five six seven eight nine ten eleven twelve slow quick and
speaks german de 280 eins zwei drei vier fünf sechs sieben acht neun zehn elf zwölf lang kurz und
speaks french fr-fr 280 un deux trois quatre cinq six sept huit neuf dix onze douze lent vite et
speaks spanish es 300 uno dos tres cuatro cinco seis siete ocho nueve diez once doce lento rápido y
speaks italian it 280 uno due tre quattro cinque sei sette otto nove dieci undici dodici lento veloce e
voice=en-gb speed=250
make_word english step step 0.28
make_word english ready ready 0.28
make_word english a uh 0.14
make_word english e ee 0.14
make_word english cha chah 0.2
