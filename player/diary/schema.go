package diary

import (
	"fmt"
	"strings"

	"dance.example/slowquick/routine"
)

// migrations are the steps from an empty file to the schema that this program knows; the file's
// user_version counts those made. A released step never changes.
//
// Times are milliseconds since 1970, lengths milliseconds, tempi thousandths of a beat a minute. A pass
// is a run-through. A part is a row of figures that passes dance; there are far fewer parts than
// passes, which keeps the file small.
var migrations = []string{`
CREATE TABLE sheet (
	id    INTEGER PRIMARY KEY,
	dance TEXT NOT NULL,
	title TEXT NOT NULL,
	steps TEXT NOT NULL -- a digest of what it dances
);
CREATE TABLE figure (
	id    INTEGER PRIMARY KEY,
	dance TEXT NOT NULL,
	name  TEXT NOT NULL,
	steps TEXT NOT NULL, -- a digest of its chart
	UNIQUE (dance, name, steps)
);
CREATE TABLE part (
	id  INTEGER PRIMARY KEY,
	key TEXT NOT NULL UNIQUE -- its figures' ids, in order
);
CREATE TABLE part_figure (
	part   INTEGER NOT NULL REFERENCES part ON DELETE CASCADE,
	place  INTEGER NOT NULL,
	figure INTEGER NOT NULL REFERENCES figure,
	whole  INTEGER NOT NULL,
	PRIMARY KEY (part, place)
) WITHOUT ROWID;
CREATE TABLE practice (
	id    INTEGER PRIMARY KEY,
	sheet INTEGER NOT NULL REFERENCES sheet,
	began INTEGER NOT NULL,
	took  INTEGER NOT NULL -- of dancing
);
CREATE TABLE pass (
	id       INTEGER PRIMARY KEY,
	practice INTEGER NOT NULL REFERENCES practice ON DELETE CASCADE,
	part     INTEGER NOT NULL REFERENCES part,
	at       INTEGER NOT NULL, -- when it ended
	took     INTEGER NOT NULL,
	tempo    INTEGER NOT NULL,
	side     INTEGER NOT NULL, -- 0 both, 1 leader, 2 follower
	finished INTEGER NOT NULL
);
CREATE INDEX pass_of_practice ON pass (practice);
CREATE TABLE mark (
	pass    INTEGER NOT NULL REFERENCES pass ON DELETE CASCADE,
	place   INTEGER NOT NULL,
	is_join INTEGER NOT NULL, -- of the figure at that place with the one before
	partner INTEGER NOT NULL, -- 0 leader, 1 follower
	PRIMARY KEY (pass, place, is_join, partner)
) WITHOUT ROWID;
`, `
CREATE TABLE session ( -- one that was left, to be resumed
	sheet INTEGER PRIMARY KEY REFERENCES sheet ON DELETE CASCADE,
	steps TEXT NOT NULL, -- of the sheet for which it was planned
	plan  TEXT NOT NULL
);
`, `
-- What was kept before says nothing of who judged it: it stays unjudged. A practice is known by its uid in
-- every copy of a diary, and a run-through in it by its number. What copies share already has the same ids
-- in all of them.
ALTER TABLE pass ADD COLUMN judged INTEGER NOT NULL DEFAULT 0; -- by whom: 1 leader, 2 follower, 3 both
ALTER TABLE pass ADD COLUMN number INTEGER NOT NULL DEFAULT 0;
UPDATE pass SET number = id;
CREATE UNIQUE INDEX pass_number ON pass (practice, number);
DROP INDEX pass_of_practice;
ALTER TABLE mark ADD COLUMN taken_back INTEGER NOT NULL DEFAULT 0;
ALTER TABLE practice ADD COLUMN uid TEXT NOT NULL DEFAULT '';
UPDATE practice SET uid = printf('%d-%d', began, id);
CREATE UNIQUE INDEX practice_uid ON practice (uid);
`, `
CREATE TABLE timing ( -- how well the steps of a sheet were tapped; lengths in microseconds, early is negative
	id     INTEGER PRIMARY KEY,
	uid    TEXT NOT NULL UNIQUE, -- like a practice's
	sheet  INTEGER NOT NULL REFERENCES sheet ON DELETE CASCADE,
	at     INTEGER NOT NULL,
	tempo  INTEGER NOT NULL,
	whole  INTEGER NOT NULL,
	unsure INTEGER NOT NULL,
	drift  INTEGER -- in silence, in millionths; null if it isn't known
);
CREATE TABLE timing_count (
	timing INTEGER NOT NULL REFERENCES timing ON DELETE CASCADE,
	place  INTEGER NOT NULL,
	name   TEXT NOT NULL,
	median INTEGER NOT NULL,
	spread INTEGER NOT NULL,
	taps   INTEGER NOT NULL,
	PRIMARY KEY (timing, place)
) WITHOUT ROWID;
`}

// The largest valid values of columns. A database holds whatever was written into its file, so invalid
// rows are not read, only counted.
const (
	latest  = 253402300799999 // the last millisecond of the year 9999
	longest = 366 * 24 * 60 * 60 * 1000
	fastest = 2 * int64(routine.FastestTempo) // the fastest sheet, at 200 %
	most    = 1<<63 - 1
	aMinute = 60_000_000 // in microseconds
)

// soundRows is, for each table, the condition that a valid row meets.
var soundRows = map[string]string{
	"sheet":       sound(texts("dance", "title", "steps")),
	"figure":      sound(texts("dance", "name", "steps")),
	"part_figure": sound(number("part", 1, most), number("place", 0, 1<<31-1), number("figure", 1, most), number("whole", 0, 1)),
	"practice":    sound(number("sheet", 1, most), number("began", 0, latest), number("took", 0, longest), texts("uid")),
	"pass": sound(number("practice", 1, most), number("part", 1, most), number("at", 0, latest), number("took", 0, longest),
		number("tempo", 1, fastest), number("side", 0, 2), number("finished", 0, 1), number("judged", 0, 3), number("number", 0, most)),
	"timing": sound(number("sheet", 1, most), number("at", 0, latest), number("tempo", 1, fastest), number("whole", -aMinute, aMinute),
		number("unsure", 0, aMinute), texts("uid"), "(drift IS NULL OR "+number("drift", -1e6, 1e6)+")"),
	"timing_count": sound(number("timing", 1, most), number("place", 0, 1<<31-1), number("median", -aMinute, aMinute), number("spread", 0, aMinute),
		number("taps", 1, 1<<31-1), texts("name")),
	"mark": sound(number("pass", 1, most), number("place", 0, 1<<31-1), number("is_join", 0, 1), number("partner", 0, 1), number("taken_back", 0, 1)),
}

func sound(conditions ...string) string { return "(" + strings.Join(conditions, " AND ") + ")" }

// number returns the condition that a column holds a whole number in a range. SQLite orders texts and
// blobs after all numbers, and | drops fractions; asking for the type would take three times as long.
func number(column string, from, to int64) string {
	return fmt.Sprintf("%[1]s BETWEEN %d AND %d AND %[1]s = %[1]s | 0", column, from, to)
}

// texts returns the condition that columns hold text.
func texts(columns ...string) string {
	for i, c := range columns {
		columns[i] = "typeof(" + c + ") = 'text'"
	}
	return strings.Join(columns, " AND ")
}

// only returns a table without its invalid rows.
func only(table string) string {
	return fmt.Sprintf("(SELECT * FROM %[1]s WHERE %[2]s) AS %[1]s", table, soundRows[table])
}
