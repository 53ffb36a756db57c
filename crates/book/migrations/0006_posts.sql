-- What structures stand on, what was found of ground to build on, and the farm's wind and frost.

DROP VIEW structures;
CREATE VIEW structures AS
SELECT l.id, l.number, l.recorded_at, l.recorded_by,
       l.body ->> '$.plot'     AS plot_id,
       p.name                  AS plot_name,
       l.body ->> '$.name'     AS name,
       l.body ->> '$.kind'     AS kind,
       l.body ->> '$.length_m' AS length_m,
       l.body ->> '$.width_m'  AS width_m,
       coalesce(l.body ->> '$.planned', 0) AS planned,
       l.body ->> '$.frame.wall_m'        AS wall_m,
       l.body ->> '$.frame.ridge_m'       AS ridge_m,
       l.body ->> '$.frame.bow_spacing_m' AS bow_spacing_m,
       l.body ->> '$.line.height_m'       AS line_height_m,
       l.body ->> '$.line.spacing_m'      AS line_spacing_m,
       l.body ->> '$.line.wires'          AS wires,
       l.body ->> '$.post.section'        AS post_section,
       l.body ->> '$.post.width_mm'       AS post_width_mm,
       l.body ->> '$.post.depth_m'        AS post_depth_m,
       l.body ->> '$.post.set'            AS post_set,
       l.body ->> '$.post.collar_mm'      AS collar_mm,
       l.body ->> '$.note'     AS note
FROM latest AS l LEFT JOIN plots AS p ON p.id = l.body ->> '$.plot'
WHERE l.kind = 'structure' AND NOT l.withdrawn;

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
       body ->> '$.currency'          AS currency,
       body ->> '$.hour_worth'        AS hour_worth,
       body ->> '$.organic'           AS organic,
       body ->> '$.nutrient_scheme'   AS nutrient_scheme,
       body ->> '$.lime_method'       AS lime_method,
       body ->> '$.design_wind_m_s'   AS design_wind_m_s,
       body ->> '$.wind_exposure'     AS wind_exposure,
       body ->> '$.frost_depth_m'     AS frost_depth_m,
       body ->> '$.code_note'         AS code_note
FROM latest WHERE kind = 'farm' AND NOT withdrawn;
