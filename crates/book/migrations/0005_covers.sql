-- Cover crops: views for them and their seed. The farm tells how it ends covers and what may graze, a water
-- supply its nitrate.

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
       body ->  '$.grazing'           AS grazing
FROM latest WHERE kind = 'farm' AND NOT withdrawn;

DROP VIEW water_supplies;
CREATE VIEW water_supplies AS
SELECT id, number, recorded_at, recorded_by,
       body ->> '$.name'             AS name,
       body ->> '$.flow_l_min'       AS flow_l_min,
       body ->> '$.ec_ds_m'          AS ec_ds_m,
       body ->> '$.sodium_mg_l'      AS sodium_mg_l,
       body ->> '$.calcium_mg_l'     AS calcium_mg_l,
       body ->> '$.magnesium_mg_l'   AS magnesium_mg_l,
       body ->> '$.bicarbonate_mg_l' AS bicarbonate_mg_l,
       body ->> '$.nitrate_n_mg_l'   AS nitrate_n_mg_l,
       body ->> '$.note'             AS note
FROM latest WHERE kind = 'water_supply' AND NOT withdrawn;

-- Below, bed_name is empty where the bed was withdrawn.
CREATE VIEW covers AS
SELECT l.id, l.number, l.recorded_at, l.recorded_by,
       b.plot_id                AS plot_id,
       b.plot_name              AS plot_name,
       l.body ->> '$.bed'       AS bed_id,
       b.name                   AS bed_name,
       l.body ->  '$.seeds'     AS seeds,
       l.body ->> '$.sown_on'   AS sown_on,
       l.body ->> '$.sown'      AS sown,
       l.body ->> '$.end_by'    AS end_by,
       l.body ->> '$.ended.on'  AS ended_on,
       l.body ->> '$.ended.how' AS ended_how,
       l.body ->> '$.stand.stage' AS stage,
       l.body ->> '$.stand.biomass.how'           AS biomass_by,
       l.body ->> '$.stand.biomass.kg'            AS cut_kg,
       l.body ->> '$.stand.biomass.area_m2'       AS cut_area_m2,
       l.body ->> '$.stand.biomass.dried'         AS cut_dried,
       l.body ->> '$.stand.biomass.height_cm'     AS height_cm,
       l.body ->> '$.stand.biomass.cover_percent' AS cover_percent,
       l.body ->> '$.stand.nitrogen_percent'      AS nitrogen_percent,
       l.body ->> '$.note'      AS note
FROM latest AS l LEFT JOIN beds AS b ON b.id = l.body ->> '$.bed'
WHERE l.kind = 'cover' AND NOT l.withdrawn;

-- One row for each part of what was sown.
CREATE VIEW cover_seeds AS
SELECT c.id AS cover_record_id, c.plot_name, c.bed_name, c.sown_on,
       j.value ->> '$.cover'      AS cover,
       j.value ->> '$.rate_kg_ha' AS rate_kg_ha
FROM covers AS c, json_each(c.seeds) AS j;
