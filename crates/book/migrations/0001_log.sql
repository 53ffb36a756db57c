-- The log of revisions. A record is one entry; what it says is in its revisions, numbered from 1.
-- Revisions are added and never changed: a correction is a further revision, and so is a withdrawal.

CREATE TABLE entry (
    id   TEXT NOT NULL PRIMARY KEY,  -- UUID version 7
    kind TEXT NOT NULL
) STRICT;

CREATE TABLE attachment (
    sha256     TEXT NOT NULL PRIMARY KEY,  -- of the bytes, lower-case hexadecimal
    media_type TEXT NOT NULL,
    bytes      BLOB NOT NULL
) STRICT;

CREATE TABLE revision (
    sequence    INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,  -- order of writing over the whole book
    entry_id    TEXT    NOT NULL REFERENCES entry (id),
    number      INTEGER NOT NULL CHECK (number >= 1),
    recorded_at TEXT    NOT NULL,  -- UTC, RFC 3339
    recorded_by TEXT    NOT NULL,
    withdrawn   INTEGER NOT NULL DEFAULT 0 CHECK (withdrawn IN (0, 1)),
    reason      TEXT    NOT NULL DEFAULT '',
    body        TEXT    NOT NULL CHECK (json_valid(body)),
    -- The links stand in the body; these columns let SQLite guard them.
    plot_id        TEXT GENERATED ALWAYS AS (json_extract(body, '$.plot')) STORED REFERENCES entry (id),
    sample_id      TEXT GENERATED ALWAYS AS (json_extract(body, '$.sample')) STORED REFERENCES entry (id),
    observation_id TEXT GENERATED ALWAYS AS (json_extract(body, '$.observation')) STORED REFERENCES entry (id),
    sha256         TEXT GENERATED ALWAYS AS (json_extract(body, '$.sha256')) STORED REFERENCES attachment (sha256),
    UNIQUE (entry_id, number)
) STRICT;
