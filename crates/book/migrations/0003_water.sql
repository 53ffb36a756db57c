-- Weather, crops, plantings and watering: guards for the links they bring, and a view for each kind.

ALTER TABLE revision ADD COLUMN bed_id TEXT
    GENERATED ALWAYS AS (coalesce(json_extract(body, '$.bed'), json_extract(body, '$.seen.bed'))) VIRTUAL
    REFERENCES entry (id);
ALTER TABLE revision ADD COLUMN crop_id TEXT
    GENERATED ALWAYS AS (json_extract(body, '$.crop.farm_crop')) VIRTUAL REFERENCES entry (id);
ALTER TABLE revision ADD COLUMN supply_id TEXT
    GENERATED ALWAYS AS (json_extract(body, '$.supply')) VIRTUAL REFERENCES entry (id);

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
       body ->> '$.hour_worth'        AS hour_worth
FROM latest WHERE kind = 'farm' AND NOT withdrawn;

DROP VIEW plots;
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
       body ->> '$.cover.et0_factor.low'    AS cover_et0_factor_low,
       body ->> '$.cover.et0_factor.likely' AS cover_et0_factor_likely,
       body ->> '$.cover.et0_factor.high'   AS cover_et0_factor_high,
       body ->> '$.cover.shaded'   AS cover_shaded,
       body ->> '$.use_note'       AS use_note
FROM latest WHERE kind = 'plot' AND NOT withdrawn;

DROP VIEW observations;
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
       l.body ->> '$.seen.finished'           AS jar_finished,
       l.body ->> '$.seen.bed'                AS bed_id,
       b.name                                 AS bed_name,
       CASE l.body ->> '$.seen.what' WHEN 'moisture' THEN l.body ->> '$.seen.from_cm' END AS moisture_from_cm,
       CASE l.body ->> '$.seen.what' WHEN 'moisture' THEN l.body ->> '$.seen.to_cm' END   AS moisture_to_cm,
       l.body ->> '$.seen.reading.feel'               AS moisture_feel,
       l.body ->> '$.seen.reading.tension_kpa'        AS moisture_tension_kpa,
       l.body ->> '$.seen.reading.volumetric_percent' AS moisture_volumetric_percent,
       CASE l.body ->> '$.seen.what' WHEN 'percolation' THEN l.body ->> '$.seen.fall_mm' END AS percolation_fall_mm,
       CASE l.body ->> '$.seen.what' WHEN 'percolation' THEN l.body ->> '$.seen.minutes' END AS percolation_minutes
FROM latest AS l
LEFT JOIN plots AS p ON p.id = l.body ->> '$.plot'
LEFT JOIN samples AS s ON s.id = l.body ->> '$.sample'
LEFT JOIN beds AS b ON b.id = l.body ->> '$.seen.bed'
WHERE l.kind = 'observation' AND NOT l.withdrawn;

-- One row for each layer of the ground.
CREATE VIEW layers AS
SELECT o.id AS observation_id, o.plot_id, o.plot_name, o.seen_on, o.seen_by,
       j.value ->> '$.from_cm'                AS from_cm,
       j.value ->> '$.to_cm'                  AS to_cm,
       j.value ->> '$.class'                  AS class,
       j.value ->> '$.sand_percent'           AS sand_percent,
       j.value ->> '$.clay_percent'           AS clay_percent,
       j.value ->> '$.organic_matter_percent' AS organic_matter_percent,
       j.value ->> '$.packing.density_factor'     AS density_factor,
       j.value ->> '$.packing.bulk_density_g_cm3' AS bulk_density_g_cm3,
       j.value ->> '$.packing.words'              AS packing,
       j.value ->> '$.stones_volume_percent'  AS stones_volume_percent,
       j.value ->> '$.note'                   AS note
FROM observations AS o, json_each(o.seen, '$.layers') AS j
WHERE o.what = 'layers';

-- One row for each infiltration ring.
CREATE VIEW rings AS
SELECT o.id AS observation_id, o.plot_id, o.plot_name, o.seen_on, o.seen_by,
       o.seen ->> '$.inside_diameter_mm' AS inside_diameter_mm,
       j.value ->> '$.water.depth_mm'    AS water_depth_mm,
       j.value ->> '$.water.volume_ml'   AS water_volume_ml,
       j.value ->> '$.first_min'         AS first_min,
       j.value ->> '$.second_min'        AS second_min,
       j.value ->> '$.still_stood'       AS still_stood
FROM observations AS o, json_each(o.seen, '$.rings') AS j
WHERE o.what = 'ring_infiltration';

CREATE VIEW weather_normals AS
SELECT id, number, recorded_at, recorded_by,
       body ->> '$.source'        AS source,
       body ->> '$.wind_height_m' AS wind_height_m
FROM latest WHERE kind = 'weather_normals' AND NOT withdrawn;

-- One row for each month of the usual weather; month 1 is January.
CREATE VIEW weather_months AS
SELECT l.id AS normals_id, l.body ->> '$.source' AS source,
       j.key + 1                         AS month,
       j.value ->> '$.tmax_c'            AS tmax_c,
       j.value ->> '$.tmin_c'            AS tmin_c,
       j.value ->> '$.rain_mm'           AS rain_mm,
       j.value ->> '$.rain_days'         AS rain_days,
       j.value ->> '$.rh_mean_percent'   AS rh_mean_percent,
       j.value ->> '$.wind_m_s'          AS wind_m_s,
       j.value ->> '$.radiation_mj_m2_d' AS radiation_mj_m2_d,
       j.value ->> '$.sunshine_h'        AS sunshine_h
FROM latest AS l, json_each(l.body, '$.months') AS j
WHERE l.kind = 'weather_normals' AND NOT l.withdrawn;

CREATE VIEW weather_tables AS
SELECT id, number, recorded_at, recorded_by,
       body ->> '$.name'          AS name,
       body ->> '$.what'          AS what,
       body ->> '$.wind_height_m' AS wind_height_m,
       body ->> '$.days[0].date'   AS first_day,
       body ->> '$.days[#-1].date' AS last_day,
       json_array_length(body, '$.days') AS days,
       body ->> '$.note'          AS note
FROM latest WHERE kind = 'weather_table' AND NOT withdrawn;

-- One row for each day of each weather table.
CREATE VIEW weather_days AS
SELECT l.id AS table_id, l.body ->> '$.name' AS table_name, l.body ->> '$.what' AS what,
       j.value ->> '$.date'              AS date,
       j.value ->> '$.tmax_c'            AS tmax_c,
       j.value ->> '$.tmin_c'            AS tmin_c,
       j.value ->> '$.rain_mm'           AS rain_mm,
       j.value ->> '$.rh_max_percent'    AS rh_max_percent,
       j.value ->> '$.rh_min_percent'    AS rh_min_percent,
       j.value ->> '$.rh_mean_percent'   AS rh_mean_percent,
       j.value ->> '$.dew_point_c'       AS dew_point_c,
       j.value ->> '$.wind_m_s'          AS wind_m_s,
       j.value ->> '$.radiation_mj_m2_d' AS radiation_mj_m2_d,
       j.value ->> '$.sunshine_h'        AS sunshine_h,
       j.value ->> '$.et0_mm'            AS et0_mm
FROM latest AS l, json_each(l.body, '$.days') AS j
WHERE l.kind = 'weather_table' AND NOT l.withdrawn;

CREATE VIEW crops AS
SELECT id, number, recorded_at, recorded_by,
       body ->> '$.name'               AS name,
       body ->> '$.key'                AS key,
       body ->> '$.kc_initial'         AS kc_initial,
       body ->> '$.kc_mid'             AS kc_mid,
       body ->> '$.kc_end'             AS kc_end,
       body ->> '$.initial_days'       AS initial_days,
       body ->> '$.development_days'   AS development_days,
       body ->> '$.mid_days'           AS mid_days,
       body ->> '$.late_days'          AS late_days,
       body ->> '$.root_depth_m'       AS root_depth_m,
       body ->> '$.depletion_fraction' AS depletion_fraction,
       body ->> '$.height_m'           AS height_m,
       body ->> '$.note'               AS note
FROM latest WHERE kind = 'crop' AND NOT withdrawn;

-- Below, bed_name is empty where the bed was withdrawn.
CREATE VIEW plantings AS
SELECT l.id, l.number, l.recorded_at, l.recorded_by,
       b.plot_id                AS plot_id,
       b.plot_name              AS plot_name,
       l.body ->> '$.bed'       AS bed_id,
       b.name                   AS bed_name,
       l.body ->> '$.crop.catalogue' AS catalogue_crop,
       l.body ->> '$.crop.farm_crop' AS crop_id,
       c.name                   AS crop_name,
       l.body ->> '$.planted_on' AS planted_on,
       l.body ->> '$.how'       AS how,
       l.body ->> '$.harvest_on' AS harvest_on,
       l.body ->> '$.ended_on'  AS ended_on,
       l.body ->> '$.mulch.of'  AS mulch,
       l.body ->> '$.mulch.covered_percent' AS mulch_covered_percent,
       l.body ->> '$.note'      AS note
FROM latest AS l
LEFT JOIN beds AS b ON b.id = l.body ->> '$.bed'
LEFT JOIN crops AS c ON c.id = l.body ->> '$.crop.farm_crop'
WHERE l.kind = 'planting' AND NOT l.withdrawn;

CREATE VIEW water_supplies AS
SELECT id, number, recorded_at, recorded_by,
       body ->> '$.name'             AS name,
       body ->> '$.flow_l_min'       AS flow_l_min,
       body ->> '$.ec_ds_m'          AS ec_ds_m,
       body ->> '$.sodium_mg_l'      AS sodium_mg_l,
       body ->> '$.calcium_mg_l'     AS calcium_mg_l,
       body ->> '$.magnesium_mg_l'   AS magnesium_mg_l,
       body ->> '$.bicarbonate_mg_l' AS bicarbonate_mg_l,
       body ->> '$.note'             AS note
FROM latest WHERE kind = 'water_supply' AND NOT withdrawn;

CREATE VIEW watering_systems AS
SELECT l.id, l.number, l.recorded_at, l.recorded_by,
       b.plot_id                AS plot_id,
       b.plot_name              AS plot_name,
       l.body ->> '$.bed'       AS bed_id,
       b.name                   AS bed_name,
       l.body ->> '$.supply'    AS supply_id,
       w.name                   AS supply_name,
       l.body ->> '$.delivery.kind'           AS kind,
       l.body ->> '$.delivery.flow_l_h_per_m' AS flow_l_h_per_m,
       l.body ->> '$.delivery.flow_l_h'       AS flow_l_h,
       l.body ->> '$.delivery.spacing_m'      AS spacing_m,
       l.body ->> '$.delivery.lines'          AS lines,
       l.body ->> '$.delivery.rate_mm_h'      AS rate_mm_h,
       l.body ->> '$.efficiency_percent'      AS efficiency_percent,
       l.body ->> '$.wetted_percent'          AS wetted_percent,
       l.body ->> '$.note'      AS note
FROM latest AS l
LEFT JOIN beds AS b ON b.id = l.body ->> '$.bed'
LEFT JOIN water_supplies AS w ON w.id = l.body ->> '$.supply'
WHERE l.kind = 'watering_system' AND NOT l.withdrawn;

CREATE VIEW waterings AS
SELECT l.id, l.number, l.recorded_at, l.recorded_by,
       b.plot_id                AS plot_id,
       b.plot_name              AS plot_name,
       l.body ->> '$.bed'       AS bed_id,
       b.name                   AS bed_name,
       l.body ->> '$.on'        AS watered_on,
       l.body ->> '$.amount.minutes'  AS minutes,
       l.body ->> '$.amount.depth_mm' AS depth_mm,
       l.body ->> '$.amount.volume_l' AS volume_l,
       l.body ->> '$.note'      AS note
FROM latest AS l LEFT JOIN beds AS b ON b.id = l.body ->> '$.bed'
WHERE l.kind = 'watering' AND NOT l.withdrawn;
