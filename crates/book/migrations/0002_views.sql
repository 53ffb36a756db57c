-- Guards that keep the log a log, and views that let any SQLite tool read the book.

CREATE TRIGGER revision_is_never_changed BEFORE UPDATE ON revision
BEGIN SELECT RAISE(ABORT, 'a revision is never changed: add a new one'); END;
CREATE TRIGGER revision_is_never_deleted BEFORE DELETE ON revision
BEGIN SELECT RAISE(ABORT, 'a revision is never deleted: add one with withdrawn = 1'); END;
CREATE TRIGGER entry_is_never_changed BEFORE UPDATE ON entry
BEGIN SELECT RAISE(ABORT, 'an entry is never changed'); END;
CREATE TRIGGER entry_is_never_deleted BEFORE DELETE ON entry
BEGIN SELECT RAISE(ABORT, 'an entry is never deleted: withdraw it'); END;
CREATE TRIGGER attachment_is_never_changed BEFORE UPDATE ON attachment
BEGIN SELECT RAISE(ABORT, 'an attached file is never changed: attach another'); END;
CREATE TRIGGER attachment_is_never_deleted BEFORE DELETE ON attachment
BEGIN SELECT RAISE(ABORT, 'an attached file is never deleted'); END;
CREATE TRIGGER revision_follows_the_last BEFORE INSERT ON revision
WHEN NEW.number <> (SELECT coalesce(max(number), 0) + 1 FROM revision WHERE entry_id = NEW.entry_id)
BEGIN SELECT RAISE(ABORT, 'a revision takes the number after the last'); END;

-- The current revision of each record, withdrawn ones too.
CREATE VIEW latest AS
SELECT e.id, e.kind, r.sequence, r.number, r.recorded_at, r.recorded_by, r.withdrawn, r.reason, r.body
FROM entry AS e
JOIN revision AS r ON r.entry_id = e.id
WHERE r.number = (SELECT max(number) FROM revision WHERE entry_id = e.id);

-- Every revision ever made, oldest first.
CREATE VIEW history AS
SELECT r.sequence, e.id, e.kind, r.number, r.recorded_at, r.recorded_by, r.withdrawn, r.reason, r.body
FROM revision AS r
JOIN entry AS e ON e.id = r.entry_id
ORDER BY r.sequence;

CREATE VIEW farm AS
SELECT id, number, recorded_at, recorded_by,
       body ->> '$.name'              AS name,
       body ->> '$.latitude_degrees'  AS latitude_degrees,
       body ->> '$.longitude_degrees' AS longitude_degrees,
       body ->> '$.units'             AS units,
       body ->> '$.last_frost'        AS last_frost,
       body ->> '$.first_frost'       AS first_frost,
       body ->> '$.currency'          AS currency,
       body ->> '$.hour_worth'        AS hour_worth
FROM latest WHERE kind = 'farm' AND NOT withdrawn;

CREATE VIEW plots AS
SELECT id, number, recorded_at, recorded_by,
       body ->> '$.name'           AS name,
       body ->> '$.place'          AS place,
       body ->> '$.shape.length_m' AS length_m,
       body ->> '$.shape.width_m'  AS width_m,
       coalesce(body ->> '$.shape.area_m2', (body ->> '$.shape.length_m') * (body ->> '$.shape.width_m')) AS area_m2,
       body ->> '$.slope_percent'  AS slope_percent,
       body ->> '$.root_depth_cm'  AS root_depth_cm,
       body ->> '$.watering'       AS watering,
       body ->> '$.use_note'       AS use_note
FROM latest WHERE kind = 'plot' AND NOT withdrawn;

-- Below, plot_name is empty where the plot was withdrawn.
CREATE VIEW beds AS
SELECT l.id, l.number, l.recorded_at, l.recorded_by,
       l.body ->> '$.plot'     AS plot_id,
       p.name                  AS plot_name,
       l.body ->> '$.name'     AS name,
       l.body ->> '$.length_m' AS length_m,
       l.body ->> '$.width_m'  AS width_m,
       l.body ->> '$.count'    AS count
FROM latest AS l LEFT JOIN plots AS p ON p.id = l.body ->> '$.plot'
WHERE l.kind = 'bed' AND NOT l.withdrawn;

CREATE VIEW structures AS
SELECT l.id, l.number, l.recorded_at, l.recorded_by,
       l.body ->> '$.plot'     AS plot_id,
       p.name                  AS plot_name,
       l.body ->> '$.name'     AS name,
       l.body ->> '$.kind'     AS kind,
       l.body ->> '$.length_m' AS length_m,
       l.body ->> '$.width_m'  AS width_m,
       l.body ->> '$.note'     AS note
FROM latest AS l LEFT JOIN plots AS p ON p.id = l.body ->> '$.plot'
WHERE l.kind = 'structure' AND NOT l.withdrawn;

CREATE VIEW samples AS
SELECT l.id, l.number, l.recorded_at, l.recorded_by,
       l.body ->> '$.plot'      AS plot_id,
       p.name                   AS plot_name,
       l.body ->> '$.taken_on'  AS taken_on,
       l.body ->> '$.from_cm'   AS from_cm,
       l.body ->> '$.to_cm'     AS to_cm,
       l.body ->> '$.cores'     AS cores,
       l.body ->> '$.taken_by'  AS taken_by,
       l.body ->> '$.bag_label' AS bag_label,
       l.body ->> '$.note'      AS note
FROM latest AS l LEFT JOIN plots AS p ON p.id = l.body ->> '$.plot'
WHERE l.kind = 'sample' AND NOT l.withdrawn;

-- What was seen is one JSON object; the columns after it pull out what fits a column.
CREATE VIEW observations AS
SELECT l.id, l.number, l.recorded_at, l.recorded_by,
       l.body ->> '$.plot'      AS plot_id,
       p.name                   AS plot_name,
       l.body ->> '$.sample'    AS sample_id,
       s.bag_label              AS bag_label,
       l.body ->> '$.seen_on'   AS seen_on,
       l.body ->> '$.seen_by'   AS seen_by,
       l.body ->> '$.note'      AS note,
       l.body ->> '$.seen.what' AS what,
       l.body ->  '$.seen'      AS seen,
       l.body ->> '$.seen.sand_percent'  AS sand_percent,
       l.body ->> '$.seen.silt_percent'  AS silt_percent,
       l.body ->> '$.seen.clay_percent'  AS clay_percent,
       CASE l.body ->> '$.seen.what' WHEN 'organic_matter' THEN l.body ->> '$.seen.percent' END AS organic_matter_percent,
       l.body ->> '$.seen.mass_percent'       AS gravel_mass_percent,
       l.body ->> '$.seen.volume_percent'     AS gravel_volume_percent,
       l.body ->> '$.seen.density_factor'     AS density_factor,
       l.body ->> '$.seen.bulk_density_g_cm3' AS bulk_density_g_cm3,
       l.body ->> '$.seen.words'              AS packing,
       l.body ->> '$.seen.ec_ds_m'            AS ec_ds_m,
       l.body ->> '$.seen.finished'           AS jar_finished
FROM latest AS l
LEFT JOIN plots AS p ON p.id = l.body ->> '$.plot'
LEFT JOIN samples AS s ON s.id = l.body ->> '$.sample'
WHERE l.kind = 'observation' AND NOT l.withdrawn;

-- One row for each sign found.
CREATE VIEW signs AS
SELECT o.id AS observation_id, o.plot_id, o.plot_name, o.seen_on, o.seen_by,
       j.value ->> '$.sign' AS sign,
       coalesce(j.value ->> '$.from_cm', j.value ->> '$.at_cm') AS depth_cm,
       j.value AS details
FROM observations AS o, json_each(o.seen, '$.signs') AS j
WHERE o.what = 'signs';

CREATE VIEW decisions AS
SELECT l.id, l.number, l.recorded_at, l.recorded_by,
       l.body ->> '$.plot'       AS plot_id,
       p.name                    AS plot_name,
       l.body ->> '$.finding_id' AS finding_id,
       l.body ->> '$.choice'     AS choice,
       l.body ->> '$.reason'     AS reason
FROM latest AS l LEFT JOIN plots AS p ON p.id = l.body ->> '$.plot'
WHERE l.kind = 'decision' AND NOT l.withdrawn;

CREATE VIEW notes AS
SELECT l.id, l.number, l.recorded_at, l.recorded_by,
       l.body ->> '$.plot' AS plot_id,
       p.name              AS plot_name,
       l.body ->> '$.text' AS text
FROM latest AS l LEFT JOIN plots AS p ON p.id = l.body ->> '$.plot'
WHERE l.kind = 'note' AND NOT l.withdrawn;

CREATE VIEW photos AS
SELECT l.id, l.number, l.recorded_at, l.recorded_by,
       l.body ->> '$.plot'        AS plot_id,
       p.name                     AS plot_name,
       l.body ->> '$.observation' AS observation_id,
       l.body ->> '$.sha256'      AS sha256,
       l.body ->> '$.media_type'  AS media_type,
       l.body ->> '$.caption'     AS caption
FROM latest AS l LEFT JOIN plots AS p ON p.id = l.body ->> '$.plot'
WHERE l.kind = 'photo' AND NOT l.withdrawn;
