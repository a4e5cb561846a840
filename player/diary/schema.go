package diary

// migrations are the steps from an empty file to the schema that this program
// knows; the file's user_version is how many were made. A step that was released
// never changes.
//
// Times are milliseconds since 1970, lengths milliseconds, tempi thousandths of a
// beat a minute. A part is a row of figures as passes dance it; there are far
// fewer of them than passes, which keeps the file small.
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
`}
