-- Plots say which plot they are zones of.

ALTER TABLE revision ADD COLUMN zone_of_id TEXT
    GENERATED ALWAYS AS (json_extract(body, '$.zone_of')) VIRTUAL REFERENCES entry (id);

DROP VIEW plots;
CREATE VIEW plots AS
SELECT id, number, recorded_at, recorded_by,
       body ->> '$.name'           AS name,
       body ->> '$.place'          AS place,
       body ->> '$.shape.kind'     AS shape,
       body ->> '$.shape.length_m' AS length_m,
       body ->> '$.shape.width_m'  AS width_m,
       coalesce(body ->> '$.shape.area_m2', (body ->> '$.shape.length_m') * (body ->> '$.shape.width_m')) AS area_m2,
       body ->> '$.slope_percent'  AS slope_percent,
       body ->> '$.root_depth_cm'  AS root_depth_cm,
       body ->> '$.watering'       AS watering,
       body ->> '$.cover.et0_factor.low'    AS cover_et0_factor_low,
       body ->> '$.cover.et0_factor.likely' AS cover_et0_factor_likely,
       body ->> '$.cover.et0_factor.high'   AS cover_et0_factor_high,
       body ->> '$.cover.shaded'   AS cover_shaded,
       body ->> '$.use_note'       AS use_note,
       body ->> '$.organic'        AS organic,
       body ->> '$.zone_of'        AS zone_of_id
FROM latest WHERE kind = 'plot' AND NOT withdrawn;
