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

-- The same of other views, whose columns had fallen behind what is kept.
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
       body ->> '$.organic'        AS organic
FROM latest WHERE kind = 'plot' AND NOT withdrawn;

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
       l.body ->> '$.frame.profile'       AS bow_profile,
       l.body ->> '$.frame.door_ends'     AS door_ends,
       l.body ->> '$.frame.covered'       AS covered,
       l.body ->> '$.frame.weight_kg_m2'  AS frame_weight_kg_m2,
       l.body ->> '$.line.height_m'       AS line_height_m,
       l.body ->> '$.line.spacing_m'      AS line_spacing_m,
       l.body ->> '$.line.wires'          AS wires,
       l.body ->> '$.line.wire_pull_kn'    AS wire_pull_kn,
       l.body ->> '$.line.wire_height_m'   AS wire_height_m,
       l.body ->> '$.line.brace'           AS end_brace,
       l.body ->> '$.line.brace_span_m'    AS brace_span_m,
       l.body ->> '$.line.tieback_degrees' AS tieback_degrees,
       l.body ->> '$.line.solid_percent'   AS solid_percent,
       CASE WHEN l.body -> '$.line' IS NOT NULL THEN coalesce(l.body ->> '$.line.deer', 0) END AS deer,
       l.body ->> '$.post.section'        AS post_section,
       l.body ->> '$.post.width_mm'       AS post_width_mm,
       l.body ->> '$.post.tube_wall_mm'   AS tube_wall_mm,
       l.body ->> '$.post.depth_m'        AS post_depth_m,
       l.body ->> '$.post.above_m'        AS post_above_m,
       l.body ->> '$.post.set'            AS post_set,
       l.body ->> '$.post.collar_mm'      AS collar_mm,
       l.body ->> '$.post.bell_mm'        AS bell_mm,
       l.body ->> '$.post.helix_mm'       AS helix_mm,
       l.body ->> '$.post.zinc_um'        AS zinc_um,
       CASE WHEN l.body -> '$.post' IS NOT NULL THEN coalesce(l.body ->> '$.post.rigid_floor', 0) END AS rigid_floor,
       CASE WHEN l.body -> '$.post' IS NOT NULL THEN coalesce(l.body ->> '$.post.movement_harmless', 0) END
                                          AS movement_harmless,
       l.body ->> '$.post.load_kn'        AS load_kn,
       l.body ->> '$.note'     AS note
FROM latest AS l LEFT JOIN plots AS p ON p.id = l.body ->> '$.plot'
WHERE l.kind = 'structure' AND NOT l.withdrawn;

DROP VIEW samples;
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
       l.body ->> '$.note'      AS note,
       l.body ->> '$.import'    AS import_id,
       l.body ->  '$.spot'      AS spot
FROM latest AS l LEFT JOIN plots AS p ON p.id = l.body ->> '$.plot'
WHERE l.kind = 'sample' AND NOT l.withdrawn;

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
       CASE l.body ->> '$.seen.what' WHEN 'percolation' THEN l.body ->> '$.seen.minutes' END AS percolation_minutes,
       l.body ->> '$.import'    AS import_id,
       l.body ->  '$.spot'      AS spot
FROM latest AS l
LEFT JOIN plots AS p ON p.id = l.body ->> '$.plot'
LEFT JOIN samples AS s ON s.id = l.body ->> '$.sample'
LEFT JOIN beds AS b ON b.id = l.body ->> '$.seen.bed'
WHERE l.kind = 'observation' AND NOT l.withdrawn;

DROP VIEW crops;
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
       body ->> '$.n_kg_ha'            AS n_kg_ha,
       body ->> '$.p2o5_kg_ha'         AS p2o5_kg_ha,
       body ->> '$.k2o_kg_ha'          AS k2o_kg_ha,
       body ->> '$.note'               AS note
FROM latest WHERE kind = 'crop' AND NOT withdrawn;

DROP VIEW weather_tables;
CREATE VIEW weather_tables AS
SELECT id, number, recorded_at, recorded_by,
       body ->> '$.name'          AS name,
       body ->> '$.what'          AS what,
       body ->> '$.wind_height_m' AS wind_height_m,
       body ->> '$.days[0].date'   AS first_day,
       body ->> '$.days[#-1].date' AS last_day,
       json_array_length(body, '$.days') AS days,
       body ->  '$.columns'       AS column_readings,
       body ->> '$.date_order'    AS date_order,
       body ->> '$.note'          AS note
FROM latest WHERE kind = 'weather_table' AND NOT withdrawn;

DROP VIEW laboratories;
CREATE VIEW laboratories AS
SELECT id, number, recorded_at, recorded_by,
       body ->> '$.name'           AS name,
       coalesce(json_array_length(body, '$.columns'), 0) AS columns,
       body ->  '$.columns'        AS column_meanings,
       body ->> '$.basis_depth_cm' AS basis_depth_cm,
       body ->> '$.note'           AS note
FROM latest WHERE kind = 'laboratory' AND NOT withdrawn;

DROP VIEW imports;
CREATE VIEW imports AS
SELECT l.id, l.number, l.recorded_at, l.recorded_by,
       l.body ->> '$.file_name'   AS file_name,
       l.body ->> '$.laboratory'  AS laboratory_id,
       b.name                     AS laboratory,
       l.body ->> '$.file_sha256' AS file_sha256,
       l.body ->> '$.rows'        AS table_rows,
       l.body ->  '$.columns'     AS column_meanings,
       l.body ->  '$.remarks'     AS remarks,
       l.body ->> '$.note'        AS note
FROM latest AS l LEFT JOIN laboratories AS b ON b.id = l.body ->> '$.laboratory'
WHERE l.kind = 'import' AND NOT l.withdrawn;

DROP VIEW materials;
CREATE VIEW materials AS
SELECT id, number, recorded_at, recorded_by,
       body ->> '$.key'                     AS key,
       body ->> '$.name'                    AS name,
       body ->> '$.analysis.n_percent'      AS n_percent,
       body ->> '$.analysis.p2o5_percent'   AS p2o5_percent,
       body ->> '$.analysis.k2o_percent'    AS k2o_percent,
       body ->> '$.analysis.ca_percent'     AS ca_percent,
       body ->> '$.analysis.mg_percent'     AS mg_percent,
       body ->> '$.analysis.s_percent'      AS s_percent,
       body ->> '$.analysis.b_percent'      AS b_percent,
       body ->> '$.analysis.zn_percent'     AS zn_percent,
       body ->> '$.analysis.mn_percent'     AS mn_percent,
       body ->> '$.analysis.cu_percent'     AS cu_percent,
       body ->> '$.analysis.fe_percent'     AS fe_percent,
       body ->> '$.analysis.cl_percent'     AS cl_percent,
       body ->> '$.analysis.na_percent'     AS na_percent,
       body ->> '$.moisture_percent'        AS moisture_percent,
       body ->> '$.neutralizing_percent'    AS neutralizing_percent,
       body ->  '$.sieves'                  AS sieves,
       body ->> '$.density_kg_m3'           AS density_kg_m3,
       body ->> '$.sold.bag_kg'             AS bag_kg,
       body ->> '$.sold.load_m3'            AS load_m3,
       body ->> '$.sold.load_t'             AS load_t,
       body ->> '$.sold.jug_l'              AS jug_l,
       body ->> '$.price'                   AS price,
       body ->> '$.organic'                 AS organic,
       body ->> '$.available_n_percent'     AS available_n_percent,
       body ->> '$.carbon_nitrogen'         AS carbon_nitrogen,
       body ->> '$.ec_ds_m'                 AS ec_ds_m,
       body ->> '$.note'                    AS note
FROM latest WHERE kind = 'material' AND NOT withdrawn;

DROP VIEW jobs;
CREATE VIEW jobs AS
SELECT l.id, l.number, l.recorded_at, l.recorded_by,
       l.body ->> '$.key'        AS key,
       l.body ->> '$.plot'       AS plot_id,
       p.name                    AS plot_name,
       l.body ->> '$.bed'        AS bed_id,
       b.name                    AS bed_name,
       l.body ->> '$.as_planned.what'  AS what,
       l.body ->> '$.as_planned.place' AS place,
       l.body ->> '$.as_planned.from'  AS from_day,
       l.body ->> '$.as_planned.to'    AS to_day,
       l.body ->  '$.as_planned.materials' AS materials,
       l.body ->> '$.choice'     AS choice,
       l.body ->> '$.until'      AS until,
       l.body ->  '$.changed'    AS changed,
       l.body ->> '$.reason'     AS reason,
       l.body ->> '$.done.on'    AS done_on,
       l.body ->> '$.done.note'  AS done_note
FROM latest AS l
LEFT JOIN plots AS p ON p.id = l.body ->> '$.plot'
LEFT JOIN beds AS b ON b.id = l.body ->> '$.bed'
WHERE l.kind = 'job' AND NOT l.withdrawn;

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
