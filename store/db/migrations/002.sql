-- Pits outlive their burns: every version that was ever told, the latest in force.
CREATE TABLE pit (
  sequence INTEGER PRIMARY KEY REFERENCES arrival,
  name TEXT NOT NULL,
  body TEXT NOT NULL                -- JSON
) STRICT;
CREATE INDEX pit_by_name ON pit (name, sequence);
