#!/usr/bin/env bash
# Makes music whose beats are known, for the tests with the build tag "music":
#
#   make-music.sh FOLDER
#
# Needs a Debian system and, for packages that are missing, root: mma plays its
# grooves to charts that are written here, fluidsynth sounds them and the tunes of
# two games, and the songs of a third are recordings with a tempo map that was made
# to them. In FOLDER are then, for each piece, ID.wav and ID.mid, whose tempo map
# says when the beats are, and pieces.tsv, whose columns are: id, beats in a bar,
# quarters in a beat, seconds of silence before, slowest and fastest tempo among
# which its beat is looked for, in beats a minute (of a dance, its usual range in the
# library; else a quarter around its own, "0 0"), and who made it under what licence;
# and short.wav, .flac, .ogg and .mp3.
# The same each time on one Debian release; 1 GB, some three minutes.
set -euo pipefail
export LC_ALL=C DEBIAN_FRONTEND=noninteractive
folder=${1:?"usage: make-music.sh FOLDER"}
programs=(mma fluidsynth fluid-soundfont-gm timgm6mb-soundfont sox vorbis-tools flac lame aubio-tools soundstretch)
sources=(openttd-openmsx simutrans-data fretsonfire-songs-muldjord fretsonfire-songs-sectoid)
missing=()
for p in "${programs[@]}"; do dpkg -s "$p" >/dev/null 2>&1 || missing+=("$p"); done
if ((${#missing[@]})); then
  apt-get update -qq
  apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null
fi
mkdir -p "$folder"
cd "$folder"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
chmod 755 "$work"
for p in "${sources[@]}"; do # unpacked, not installed
  (cd "$work" && apt-get -qq download "$p" 2>/dev/null && dpkg-deb -x "$p"_*.deb data)
done
: >pieces.tsv
made=0

# sound ID MIDI makes ID.wav of up to 105 s, every third with the lesser sounds, and
# sets silence.
sound() {
  made=$((made + 1))
  silence=$(awk -v n=$made 'BEGIN { printf "%.3f", 0.15 + (n * 0.618034 % 1) * 2 }')
  local font=/usr/share/sounds/sf2/FluidR3_GM.sf2
  ((made % 3)) || font=/usr/share/sounds/sf2/TimGM6mb.sf2
  [ "$2" -ef "$1.mid" ] || cp "$2" "$1.mid"
  fluidsynth -q -ni -r 44100 -g 0.5 -O s16 -T wav -F "$work/raw.wav" "$font" "$1.mid" >/dev/null 2>&1
  sox -D "$work/raw.wav" -r 44100 -c 2 -b 16 "$1.wav" pad "$silence" trim 0 105 gain -n -3 2>/dev/null
}

# chart QUARTERS TEMPO GROOVE INTRO VOICE SEED WAY writes what mma plays. A way is
# "plain"; "free", whose eight bars before are slower and come up to the tempo; "drift",
# whose tempo wanders by two in a hundred every four bars; "turns", with two chords in
# most bars, so that they do not tell where bars begin; "push", most of whose chords come
# half a beat before their bar; "pickup", which a bar begins of which only the tune at its
# end is heard; "drums", whose first eight bars have no chords; "one", with a chord for
# eight bars.
chart() {
  awk -v quarters="$1" -v tempo="$2" -v groove="$3" -v intro="$4" -v voice="$5" -v seed="$6" -v way="$7" '
  function chance() { seed = (seed * 16807) % 2147483647; return seed / 2147483647 } # Park and Miller 1988
  function one(list, a) { return a[int(chance() * split(list, a, " ")) + 1] }
  function begin(g) { print "Groove " g "\nSolo Voice " voice "\nSolo Octave 5\nSolo Volume f\nSolo Articulate 85\nSolo RTime 10" }
  function bar(n, c, d) {
    c = chord[n % 16]; d = c
    if (way == "one") c = d = chord[int(n / 8) % 16]
    if (way == "turns" && chance() < 0.7) d = chord[(n * 7 + 3) % 16]
    melody = ""
    k = split(one(rhythms), lengths, ",")
    for (i = 1; i <= k; i++) melody = melody lengths[i] (lengths[i] ~ /r$/ ? "" : one(tones[i > k / 2 ? d : c])) ";"
    played = d == c ? c : c " / " d
    if (way == "push" && chance() < 0.75) played = c " " chord[(n + 1) % 16] "@" quarters + 0.5
    if (way == "drums" && n < 8) { played = "z"; melody = quarters == 3 ? "2.r;" : "1r;" }
    print n + 1, played, "{" melody "}"
  }
  BEGIN {
    tones["C"] = "c e g"; tones["Am"] = "a c e"; tones["F"] = "f a c"; tones["G7"] = "g b d f"; tones["Dm"] = "d f a"
    tones["Em"] = "e g b"; tones["E7"] = "e g# b d"; tones["A7"] = "a c# e g"; tones["D7"] = "d f# a c"; tones["Bb"] = "b& d f"
    split("C F G7 Am Dm Em", major, " "); split("Am Dm E7 F C A7", minor, " ")
    for (n = 0; n < 16; n++) { # a chord for a bar or two
      if (n && chance() < 0.35) chord[n] = chord[n - 1]
      else chord[n] = seed % 2 ? major[int(chance() * 6) + 1] : minor[int(chance() * 6) + 1]
    }
    rhythms = quarters == 3 ? "2,4 4,4,4 2. 4.,8,4 4,8,8,4 4r,4,4" : "4,4,4,4 2,2 4.,8,2 4,8,8,4,4 8,4,8,2 4r,4,4,4 1 8,8,4,4,4"
    print "RndSeed " int(chance() * 30000) "\nTime " quarters
    n = 0
    if (way == "pickup") { print "Tempo " tempo; begin("None"); print "0 z {" (quarters == 3 ? "2r;4" : "2r;4r;4") one(tones[chord[0]]) ";}" }
    if (intro != "-") {
      print "Tempo " tempo; begin(intro)
      for (; n < 8; n++) { if (way == "free") printf "Tempo %.3f\n", tempo * (0.75 + n * 0.03); bar(n) }
    }
    print "Tempo " tempo; begin(groove)
    last = n + int(100 * tempo / 60 / quarters) - 4
    for (; n < last; n++) {
      if (way == "drift" && n % 4 == 0) printf "Tempo %.3f\n", tempo * (0.98 + chance() * 0.04)
      if (way == "free" && n == last - 3) printf "Tempo %.3f\n", tempo * 0.87
      bar(n)
    }
  }'
}

# dances reads lines of: id, quarters in mma's bar, beats, quarters in a beat, tempo in
# quarters, groove, intro, voice, way, range; and makes what they say.
dances() {
  local id quarters beats quarter tempo groove intro voice way slowest fastest
  while read -r id quarters beats quarter tempo groove intro voice way slowest fastest; do
    chart "$quarters" "$tempo" "$groove" "$intro" "$voice" "$((made * 7919 + 12345))" "$way" >"$work/$id.mma"
    mma -f "$id.mid" "$work/$id.mma" >"$work/log" 2>&1 || { cat "$work/log" >&2; exit 1; }
    sound "$id" "$id.mid"
    printf '%s\t%s\t%s\t%s\t%s\t%s\t%s\n' "$id" "$beats" "$quarter" "$silence" "$slowest" "$fastest" "grooves of mma, GPL-2+; chart of this script" >>pieces.tsv
  done
}

dances <<'LIST'
waltz-1        3 3 1  87   Waltz1        -             Violin     plain  84 96
waltz-2        3 3 1  90   WaltzSus      ArpeggioWaltz Flute      free   84 96
waltz-3        3 3 1  84.5 JazzWaltz     -             Clarinet   plain  84 96
waltz-4        3 3 1  94   FrenchWaltz   -             Accordion  drift  84 96
viennese-1     3 3 1 178   VieneseWaltz  ArpeggioWaltz Strings    plain  162 192
viennese-2     3 3 1 168   FastWaltz     -             Violin     turns  162 192
foxtrot-1      4 4 1 118   FoxTrot1      -             Clarinet   plain  112 128
foxtrot-2      4 4 1 114   Swing         Arpeggio4     TenorSax   turns  112 128
foxtrot-3      4 4 1 126   FoxTrotPlus   Arpeggio4     Trumpet    free   112 128
foxtrot-4      4 4 1 112   EasySwing     -             Piano1     plain  112 128
quickstep-1    4 4 1 202   QuickStepHit  -             Trumpet    plain  180 208
quickstep-2    4 4 1 188   FastSwing     Arpeggio4     Clarinet   drift  180 208
tango-1        4 2 2 128   Tango1        -             Accordion  plain  60 68
tango-2        4 2 2 132   TangoClean    Arpeggio4     Violin     free   60 68
cha-cha-1      4 4 1 120   ChaCha1       Arpeggio8     Flute      plain  112 128
cha-cha-2      4 4 1 126   ChaChaSus     -             Trumpet    turns  112 128
rumba-1        4 4 1 104   Rhumba1       -             AltoSax    plain  96 128
rumba-2        4 4 1 108   RhumbaTriple  Arpeggio8     Flute      free   96 128
rumba-3        4 4 1 116   Beguine       -             Strings    drift  96 128
rumba-4        4 4 1  98   Bolero1       -             Violin     plain  96 128
samba-1        4 2 2 200   Samba         -             Trumpet    plain  96 108
samba-2        4 2 2 208   SambaSus      -             Flute      turns  96 108
jive-1         4 4 1 170   Jive1         -             TenorSax   plain  140 184
jive-2         4 4 1 152   CountrySwing  -             Violin     plain  140 184
jive-3         4 4 1 176   JiveClap      Arpeggio4     Trumpet    drift  140 184
salsa-1        4 4 1 190   SalsaSus      -             Trumpet    plain  160 200
salsa-2        4 4 1 174   Mambo         -             Flute      drift  160 200
mambo-1        4 4 1 196   Mambo1        -             Trumpet    plain  188 204
merengue-1     4 4 1 122   Merengue      -             Accordion  plain  116 128
merengue-2     4 4 1 126   Merengue1     -             TenorSax   turns  116 128
swing-1        4 4 1 140   Swing1        -             Clarinet   plain  136 156
swing-2        4 4 1 148   BigBand       -             TenorSax   plain  136 156
LIST

# The tunes of two games, in the order of their names, whose notes lie on the beats of
# their tempo map: id, beats in a bar, quarters in a beat, file.
open=$work/data/usr/share/games/openttd/baseset/openmsx
simu=$work/data/usr/share/games/simutrans/music
while read -r id beats quarter file licence; do
  sound "$id" "$file"
  printf '%s\t%s\t%s\t%s\t0\t0\t%s\n' "$id" "$beats" "$quarter" "$silence" "$(basename "$file"), $licence" >>pieces.tsv
done <<LIST
game-1   4 1 $open/flying_scotsman.mid GPL-2
game-2   3 1 $open/boogi_marabi_redfarn.mid GPL-2
game-3   4 1 $open/harp_harmony.mid GPL-2
game-4   4 1 $open/moo_redfarn.mid GPL-2
game-5   4 1 $simu/10-Easy-driving.mid Artistic-1.0
game-6   4 1 $simu/14-Last-journey-of-the-Niagara.mid Artistic-1.0
game-7   4 1 $simu/18-Ride-that-train.mid Artistic-1.0
game-8   4 1 $simu/40-alternative.mid Artistic-1.0
LIST

# Recordings with the tempo map of a guitar game.
songs=$work/data/usr/share/games/fretsonfire/data/songs
while IFS='|' read -r id song licence; do
  cp "$songs/$song/notes.mid" "$id.mid"
  oggdec -Q -o "$work/song.wav" "$songs/$song/song.ogg"
  oggdec -Q -o "$work/guitar.wav" "$songs/$song/guitar.ogg"
  sox -D -m "$work/song.wav" "$work/guitar.wav" -r 44100 -c 2 -b 16 "$id.wav" trim 0 105 gain -n -3 2>/dev/null
  printf '%s\t4\t1\t0\t0\t0\t%s\n' "$id" "$song, $licence" >>pieces.tsv
done <<'LIST'
record-1|muldjord/chaos_god|CC-BY-SA-3.0
record-2|muldjord/mutilated_mime|CC-BY-SA-3.0
record-3|sectoid/Feelings|MIT style
LIST
# Other grooves, and charts that are harder.
dances <<'LIST'
waltz-5        3 3 1  92   CountryWaltz1Walk         - Violin    pickup 84 96
waltz-6        3 3 1  89   BroadwayWaltz             - Strings   push   84 96
viennese-3     3 3 1 174   FastJazzWaltz             - Flute     drums  162 192
foxtrot-5      4 4 1 119   NiteJazz                  - TenorSax  one    112 128
foxtrot-6      4 4 1 123   SoftShoe                  - Clarinet  push   112 128
quickstep-3    4 4 1 194   RagTime                   - Clarinet  pickup 180 208
quickstep-4    4 4 1 199   CharlestonWalk            - Trumpet   drums  180 208
cha-cha-3      4 4 1 116   LFusion                   - Flute     push   112 128
rumba-5        4 4 1 106   BossaNova                 - AltoSax   pickup 96 128
rumba-6        4 4 1 101   FolkRock                  - Violin    drums  96 128
bachata-1      4 4 1 127   Son                       - Trumpet   push   115 140
jive-4         4 4 1 158   Twist                     - TenorSax  one    140 184
jive-5         4 4 1 171   50sRock                   - Piano1    push   140 184
salsa-3        4 4 1 181   yamaha/salsa2:Salsa2MainB - Trumpet   pickup 160 200
salsa-4        4 4 1 187   yamaha/salsa1:Salsa1MainA - Flute     push   160 200
disco-1        4 4 1 124   BoneyM                    - Strings   drums  112 136
disco-2        4 4 1 131   casio/dance2:Dance2       - Trumpet   push   112 136
swing-3        4 4 1 145   BigBand1                  - TenorSax  pickup 136 156
swing-4        4 4 1 139   WesternSwing              - Violin    drums  136 156
merengue-3     4 4 1 121   casio/polkafox:PolkaFox   - Accordion plain  116 128
LIST
# Twelve seconds of each kind, for the tests to damage.
sox -D foxtrot-1.wav short.wav trim 20 12
flac -s -f short.wav
oggenc -Q short.wav
lame --quiet short.wav short.mp3
echo "$(wc -l <pieces.tsv) pieces in $PWD"
