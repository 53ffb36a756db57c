-- The plan of the farm, pictures under it and sampling plans; samples and observations say where they were made.
-- The farm's view gets back what the step before this one left out of it.

ALTER TABLE revision ADD COLUMN structure_id TEXT
    GENERATED ALWAYS AS (json_extract(body, '$.structure')) VIRTUAL REFERENCES entry (id);
ALTER TABLE revision ADD COLUMN sampling_plan_id TEXT
    GENERATED ALWAYS AS (coalesce(json_extract(body, '$.spot.plan'), json_extract(body, '$.repeats'))) VIRTUAL
    REFERENCES entry (id);

DROP VIEW farm;
CREATE VIEW farm AS
SELECT id, number, recorded_at, recorded_by,
       body ->> '$.name'              AS name,
       body ->> '$.latitude_degrees'  AS latitude_degrees,
       body ->> '$.longitude_degrees' AS longitude_degrees,
       body ->> '$.elevation_m'       AS elevation_m,
       body ->> '$.coastal'           AS coastal,
       body ->> '$.arid'              AS arid,
       body ->> '$.units'             AS units,
       body ->> '$.last_frost'        AS last_frost,
       body ->> '$.first_frost'       AS first_frost,
       body ->> '$.winter_low_c'      AS winter_low_c,
       body ->> '$.currency'          AS currency,
       body ->> '$.hour_worth'        AS hour_worth,
       body ->> '$.organic'           AS organic,
       body ->> '$.nutrient_scheme'   AS nutrient_scheme,
       body ->> '$.lime_method'       AS lime_method,
       body ->  '$.cover_endings'     AS cover_endings,
       body ->  '$.grazing'           AS grazing,
       body ->> '$.design_wind_m_s'   AS design_wind_m_s,
       body ->> '$.wind_exposure'     AS wind_exposure,
       body ->> '$.frost_depth_m'     AS frost_depth_m,
       body ->> '$.code_note'         AS code_note,
       body ->> '$.plan_origin.latitude_degrees'  AS plan_origin_latitude_degrees,
       body ->> '$.plan_origin.longitude_degrees' AS plan_origin_longitude_degrees
FROM latest WHERE kind = 'farm' AND NOT withdrawn;

-- Where a sample or an observation was made; the numbers are degrees or metres, as frame says.
CREATE VIEW spots AS
SELECT l.id, l.kind,
       l.body ->> '$.plot'                AS plot_id,
       l.body ->> '$.spot.plan'           AS sampling_plan_id,
       l.body ->> '$.spot.number'         AS point_number,
       l.body ->> '$.spot.at.frame'       AS frame,
       l.body ->> '$.spot.at.at[0]'       AS x,
       l.body ->> '$.spot.at.at[1]'       AS y,
       l.body ->> '$.spot.at.within_m'    AS within_m
FROM latest AS l
WHERE l.kind IN ('sample', 'observation') AND NOT l.withdrawn AND l.body ->> '$.spot' IS NOT NULL;

CREATE VIEW plan_parts AS
SELECT l.id, l.number, l.recorded_at, l.recorded_by,
       l.body ->> '$.kind'         AS kind,
       l.body ->> '$.name'         AS name,
       l.body ->> '$.plot'         AS plot_id,
       p.name                      AS plot_name,
       l.body ->> '$.bed'          AS bed_id,
       l.body ->> '$.structure'    AS structure_id,
       l.body ->> '$.number'       AS number_of,
       l.body ->> '$.why'          AS why,
       l.body ->> '$.outline.frame'     AS frame,
       l.body ->> '$.outline.form.form' AS form,
       l.body ->  '$.outline.form'      AS outline,
       l.body ->> '$.note'         AS note
FROM latest AS l LEFT JOIN plots AS p ON p.id = l.body ->> '$.plot'
WHERE l.kind = 'plan_part' AND NOT l.withdrawn;

CREATE VIEW underlays AS
SELECT id, number, recorded_at, recorded_by,
       body ->> '$.name'            AS name,
       body ->> '$.sha256'          AS sha256,
       body ->> '$.media_type'      AS media_type,
       body ->> '$.width_px'        AS width_px,
       body ->> '$.height_px'       AS height_px,
       body ->  '$.fixed'           AS fixed,
       body ->> '$.opacity_percent' AS opacity_percent,
       body ->> '$.note'            AS note
FROM latest WHERE kind = 'underlay' AND NOT withdrawn;

CREATE VIEW sampling_plans AS
SELECT l.id, l.number, l.recorded_at, l.recorded_by,
       l.body ->> '$.plot'          AS plot_id,
       p.name                       AS plot_name,
       l.body ->> '$.name'          AS name,
       l.body ->> '$.made_on'       AS made_on,
       l.body ->> '$.purpose'       AS purpose,
       l.body ->> '$.design'        AS design,
       l.body ->> '$.seed'          AS seed,
       l.body ->> '$.frame'         AS frame,
       l.body ->> '$.from_cm'       AS from_cm,
       l.body ->> '$.to_cm'         AS to_cm,
       l.body ->> '$.cores_per_bag' AS cores_per_bag,
       l.body ->> '$.bags'          AS bags,
       l.body ->> '$.repeats'       AS repeats_id,
       l.body ->> '$.note'          AS note
FROM latest AS l LEFT JOIN plots AS p ON p.id = l.body ->> '$.plot'
WHERE l.kind = 'sampling_plan' AND NOT l.withdrawn;

-- One row for each point of a sampling plan.
CREATE VIEW sampling_points AS
SELECT s.id AS sampling_plan_id, s.plot_name, s.name AS sampling_plan, s.frame,
       j.value ->> '$.number'  AS number,
       j.value ->> '$.at[0]'   AS x,
       j.value ->> '$.at[1]'   AS y,
       j.value ->> '$.stratum' AS stratum,
       j.value ->> '$.bag'     AS bag
FROM sampling_plans AS s
JOIN latest AS l ON l.id = s.id, json_each(l.body, '$.points') AS j;
