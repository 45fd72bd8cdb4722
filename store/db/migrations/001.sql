-- Times are microseconds since 1970-01-01T00:00Z; values are degC (km/h for wind, % for drive).

CREATE TABLE burn (
  number INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE,
  title TEXT NOT NULL,
  state TEXT NOT NULL CHECK (state IN ('live', 'closed', 'kept')),
  scale TEXT NOT NULL CHECK (scale IN ('F', 'C')),
  matters_k REAL,
  timezone TEXT NOT NULL,
  pit TEXT NOT NULL,                -- JSON
  on_world_clock INTEGER NOT NULL,  -- 0: times of its samples count from 0
  lit_us INTEGER NOT NULL,
  closed_us INTEGER,
  document TEXT,                    -- of a kept burn: path of its burn.toml
  content TEXT UNIQUE               -- of a kept burn: SHA-256 over its files
) STRICT;

-- Everything that arrived, in order. Samples: one row a batch, with the span of its stamps.
CREATE TABLE arrival (
  sequence INTEGER PRIMARY KEY,
  burn INTEGER REFERENCES burn,
  first_us INTEGER,
  last_us INTEGER
) STRICT;
CREATE INDEX arrival_of_burn ON arrival (burn, sequence);

-- The channels of a burn, with sums that spare the list of burns a walk over all samples.
CREATE TABLE channel (
  burn INTEGER NOT NULL REFERENCES burn,
  number INTEGER NOT NULL,
  name TEXT NOT NULL,
  samples INTEGER NOT NULL,
  first_us INTEGER NOT NULL,
  last_us INTEGER NOT NULL,
  PRIMARY KEY (burn, number),
  UNIQUE (burn, name)
) STRICT, WITHOUT ROWID;

CREATE TABLE sample (
  burn INTEGER NOT NULL,
  channel INTEGER NOT NULL,
  at_us INTEGER NOT NULL,
  value REAL,                       -- NULL: the sensor said "missing"
  arrived INTEGER NOT NULL,         -- arrival.sequence
  PRIMARY KEY (burn, channel, at_us)
) STRICT, WITHOUT ROWID;

-- What was told of a burn: written once, never changed, never deleted.
CREATE TABLE record (
  sequence INTEGER PRIMARY KEY REFERENCES arrival,
  burn INTEGER NOT NULL REFERENCES burn,
  id TEXT NOT NULL,
  corrects TEXT NOT NULL,           -- id of the record it stands in for; '' for none
  teller TEXT NOT NULL,
  written_us INTEGER NOT NULL,
  kind TEXT NOT NULL,
  body TEXT NOT NULL,               -- JSON
  UNIQUE (burn, id)
) STRICT;

-- The files of a kept burn, byte for byte.
CREATE TABLE file (
  burn INTEGER NOT NULL REFERENCES burn,
  path TEXT NOT NULL,
  size INTEGER NOT NULL,            -- before compression
  packed BLOB NOT NULL,             -- zlib
  UNIQUE (burn, path)
) STRICT;
