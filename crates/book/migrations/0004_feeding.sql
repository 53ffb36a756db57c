-- Laboratory reports, the shelf, what was spread and harvested, and jobs: guards for the links they bring,
-- and a view for each kind.

ALTER TABLE revision ADD COLUMN planting_id TEXT
    GENERATED ALWAYS AS (json_extract(body, '$.planting')) VIRTUAL REFERENCES entry (id);
ALTER TABLE revision ADD COLUMN material_id TEXT
    GENERATED ALWAYS AS (coalesce(json_extract(body, '$.spread.shelf'), json_extract(body, '$.material'))) VIRTUAL
    REFERENCES entry (id);
ALTER TABLE revision ADD COLUMN laboratory_id TEXT
    GENERATED ALWAYS AS (json_extract(body, '$.laboratory')) VIRTUAL REFERENCES entry (id);
ALTER TABLE revision ADD COLUMN import_id TEXT
    GENERATED ALWAYS AS (json_extract(body, '$.import')) VIRTUAL REFERENCES entry (id);

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
       body ->> '$.lime_method'       AS lime_method
FROM latest WHERE kind = 'farm' AND NOT withdrawn;

DROP VIEW plantings;
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
       l.body ->> '$.yield_goal_kg' AS yield_goal_kg,
       l.body ->> '$.note'      AS note
FROM latest AS l
LEFT JOIN beds AS b ON b.id = l.body ->> '$.bed'
LEFT JOIN crops AS c ON c.id = l.body ->> '$.crop.farm_crop'
WHERE l.kind = 'planting' AND NOT l.withdrawn;

-- One row for each figure of each laboratory report.
CREATE VIEW lab_figures AS
SELECT o.id AS observation_id, o.plot_id, o.plot_name, o.bag_label, o.seen_on,
       o.seen ->> '$.laboratory'     AS laboratory,
       o.seen ->> '$.number'         AS number,
       o.seen ->> '$.basis_depth_cm' AS basis_depth_cm,
       o.seen ->> '$.free_lime'      AS free_lime,
       j.value ->> '$.analyte'       AS analyte,
       j.value ->> '$.procedure'     AS procedure,
       j.value ->> '$.unit'          AS unit,
       j.value ->> '$.amount.exactly' AS value,
       j.value ->> '$.amount.below'  AS below,
       j.value ->> '$.amount.above'  AS above
FROM observations AS o, json_each(o.seen, '$.figures') AS j
WHERE o.what = 'lab_report';

CREATE VIEW laboratories AS
SELECT id, number, recorded_at, recorded_by,
       body ->> '$.name'           AS name,
       coalesce(json_array_length(body, '$.columns'), 0) AS columns,
       body ->> '$.basis_depth_cm' AS basis_depth_cm,
       body ->> '$.note'           AS note
FROM latest WHERE kind = 'laboratory' AND NOT withdrawn;

CREATE VIEW imports AS
SELECT l.id, l.number, l.recorded_at, l.recorded_by,
       l.body ->> '$.file_name'   AS file_name,
       l.body ->> '$.laboratory'  AS laboratory_id,
       b.name                     AS laboratory,
       l.body ->> '$.file_sha256' AS file_sha256,
       l.body ->> '$.rows'        AS table_rows,
       l.body ->> '$.note'        AS note
FROM latest AS l LEFT JOIN laboratories AS b ON b.id = l.body ->> '$.laboratory'
WHERE l.kind = 'import' AND NOT l.withdrawn;

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
       body ->> '$.price'                   AS price,
       body ->> '$.organic'                 AS organic,
       body ->> '$.available_n_percent'     AS available_n_percent,
       body ->> '$.carbon_nitrogen'         AS carbon_nitrogen,
       body ->> '$.ec_ds_m'                 AS ec_ds_m,
       body ->> '$.note'                    AS note
FROM latest WHERE kind = 'material' AND NOT withdrawn;

-- Below, material is empty where the material was withdrawn.
CREATE VIEW stocks AS
SELECT l.id, l.number, l.recorded_at, l.recorded_by,
       l.body ->> '$.material' AS material_id,
       m.name                  AS material,
       l.body ->> '$.on'       AS changed_on,
       l.body ->> '$.what'     AS what,
       l.body ->> '$.kg'       AS kg,
       l.body ->> '$.note'     AS note
FROM latest AS l LEFT JOIN materials AS m ON m.id = l.body ->> '$.material'
WHERE l.kind = 'stock' AND NOT l.withdrawn;

CREATE VIEW applications AS
SELECT l.id, l.number, l.recorded_at, l.recorded_by,
       l.body ->> '$.plot'     AS plot_id,
       p.name                  AS plot_name,
       l.body ->> '$.bed'      AS bed_id,
       b.name                  AS bed_name,
       l.body ->> '$.on'       AS spread_on,
       l.body ->> '$.spread.shelf'     AS material_id,
       m.name                          AS material,
       l.body ->> '$.spread.catalogue' AS catalogue_material,
       l.body ->> '$.kg'       AS kg,
       l.body ->> '$.placed'   AS placed,
       l.body ->> '$.job'      AS job,
       l.body ->> '$.note'     AS note
FROM latest AS l
LEFT JOIN plots AS p ON p.id = l.body ->> '$.plot'
LEFT JOIN beds AS b ON b.id = l.body ->> '$.bed'
LEFT JOIN materials AS m ON m.id = l.body ->> '$.spread.shelf'
WHERE l.kind = 'application' AND NOT l.withdrawn;

CREATE VIEW harvests AS
SELECT l.id, l.number, l.recorded_at, l.recorded_by,
       p.plot_id                 AS plot_id,
       p.plot_name               AS plot_name,
       p.bed_id                  AS bed_id,
       p.bed_name                AS bed_name,
       l.body ->> '$.planting'   AS planting_id,
       coalesce(p.crop_name, p.catalogue_crop) AS crop,
       l.body ->> '$.on'         AS harvested_on,
       l.body ->> '$.kg'         AS kg,
       l.body ->> '$.note'       AS note
FROM latest AS l LEFT JOIN plantings AS p ON p.id = l.body ->> '$.planting'
WHERE l.kind = 'harvest' AND NOT l.withdrawn;

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
       l.body ->> '$.choice'     AS choice,
       l.body ->> '$.until'      AS until,
       l.body ->> '$.reason'     AS reason,
       l.body ->> '$.done.on'    AS done_on,
       l.body ->> '$.done.note'  AS done_note
FROM latest AS l
LEFT JOIN plots AS p ON p.id = l.body ->> '$.plot'
LEFT JOIN beds AS b ON b.id = l.body ->> '$.bed'
WHERE l.kind = 'job' AND NOT l.withdrawn;
