#include "config.h"

#include "tpt-schema.h"

#include <glib/gi18n-lib.h>

#include "tpt-error.h"

/* OGC GeoPackage 1.3, annex C: the DDL is fixed by the standard. */
static const char geopackage_sql[] =
  "PRAGMA application_id = 0x47504B47;"
  "PRAGMA user_version = 10300;"
  "CREATE TABLE gpkg_spatial_ref_sys (srs_name TEXT NOT NULL, srs_id INTEGER NOT NULL PRIMARY KEY,"
  " organization TEXT NOT NULL, organization_coordsys_id INTEGER NOT NULL, definition TEXT NOT NULL, description TEXT);"
  "INSERT INTO gpkg_spatial_ref_sys VALUES"
  " ('Undefined Cartesian SRS', -1, 'NONE', -1, 'undefined', 'undefined Cartesian coordinate reference system'),"
  " ('Undefined geographic SRS', 0, 'NONE', 0, 'undefined', 'undefined geographic coordinate reference system'),"
  " ('WGS 84 geodetic', 4326, 'EPSG', 4326,"
  "  'GEOGCS[\"WGS 84\",DATUM[\"WGS_1984\",SPHEROID[\"WGS 84\",6378137,298.257223563,AUTHORITY[\"EPSG\",\"7030\"]],"
  "AUTHORITY[\"EPSG\",\"6326\"]],PRIMEM[\"Greenwich\",0,AUTHORITY[\"EPSG\",\"8901\"]],"
  "UNIT[\"degree\",0.0174532925199433,AUTHORITY[\"EPSG\",\"9122\"]],AXIS[\"Latitude\",NORTH],AXIS[\"Longitude\",EAST],"
  "AUTHORITY[\"EPSG\",\"4326\"]]', 'longitude/latitude coordinates in decimal degrees on the WGS 84 spheroid');"
  "CREATE TABLE gpkg_contents (table_name TEXT NOT NULL PRIMARY KEY, data_type TEXT NOT NULL, identifier TEXT UNIQUE,"
  " description TEXT DEFAULT '', last_change DATETIME NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ','now')),"
  " min_x DOUBLE, min_y DOUBLE, max_x DOUBLE, max_y DOUBLE, srs_id INTEGER,"
  " CONSTRAINT fk_gc_r_srs_id FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys(srs_id));"
  "CREATE TABLE gpkg_geometry_columns (table_name TEXT NOT NULL, column_name TEXT NOT NULL,"
  " geometry_type_name TEXT NOT NULL, srs_id INTEGER NOT NULL, z TINYINT NOT NULL, m TINYINT NOT NULL,"
  " CONSTRAINT pk_geom_cols PRIMARY KEY (table_name, column_name), CONSTRAINT uk_gc_table_name UNIQUE (table_name),"
  " CONSTRAINT fk_gc_tn FOREIGN KEY (table_name) REFERENCES gpkg_contents(table_name),"
  " CONSTRAINT fk_gc_srs FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys(srs_id));";

/* Keys that undo may bring back are never given away again: AUTOINCREMENT.
 * Frames and triggers are bulk: they are added and withdrawn by whole batches
 * (batches.active) and stay out of the journal.
 *
 * A frame's code and uuid come from its content, so that the same picture
 * cannot be on record twice, in this copy or in another. */
static const char tables_sql[] =
  "CREATE TABLE settings (key TEXT PRIMARY KEY NOT NULL, value TEXT);"

  "CREATE TABLE journal (id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, uuid TEXT NOT NULL UNIQUE, at DATETIME NOT NULL,"
  " who TEXT, what TEXT NOT NULL, kind TEXT NOT NULL CHECK (kind IN ('do', 'undo', 'redo')),"
  " of_id INTEGER REFERENCES journal(id), schema INTEGER NOT NULL, changeset BLOB NOT NULL);"

  "CREATE TABLE stations (id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, geom POINT, uuid TEXT NOT NULL UNIQUE,"
  " station TEXT NOT NULL UNIQUE, name TEXT, uncertainty_m DOUBLE, elevation_m DOUBLE, feature TEXT, habitat TEXT,"
  " sensitivity TEXT, access TEXT, notes TEXT);"

  "CREATE TABLE tracks (id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, geom GEOMETRY, uuid TEXT NOT NULL UNIQUE,"
  " name TEXT, kind TEXT NOT NULL, source TEXT, notes TEXT);"

  "CREATE TABLE units (id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, uuid TEXT NOT NULL UNIQUE, unit TEXT NOT NULL UNIQUE,"
  " kind TEXT NOT NULL, label TEXT, make TEXT, model TEXT, serial TEXT, acquired DATE, retired DATE, retire_cause TEXT,"
  " housing TEXT, sensor TEXT, chemistry TEXT, cells_series INTEGER, cells_parallel INTEGER, cell_mah DOUBLE,"
  " sleep_ma DOUBLE, awake_ma DOUBLE, awake_s DOUBLE, frame_mas DOUBLE, flash_ws DOUBLE, power_fraction DOUBLE,"
  " capacity_gb DOUBLE, notes TEXT);"

  "CREATE TABLE deployments (id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, uuid TEXT NOT NULL UNIQUE,"
  " deployment TEXT NOT NULL UNIQUE, station_id INTEGER NOT NULL REFERENCES stations(id), start_at DATETIME NOT NULL,"
  " end_at DATETIME, frames_per_trigger INTEGER, frame_mb DOUBLE, sensor_height_m DOUBLE, heading_deg DOUBLE,"
  " focal_mm DOUBLE, focus_m DOUBLE, iso DOUBLE, temperature_c DOUBLE, camera_clock_offset_s DOUBLE, notes TEXT);"
  "CREATE INDEX deployments_station ON deployments(station_id);"

  "CREATE TABLE fittings (id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, uuid TEXT NOT NULL UNIQUE,"
  " deployment_id INTEGER NOT NULL REFERENCES deployments(id), unit_id INTEGER NOT NULL REFERENCES units(id),"
  " from_at DATETIME NOT NULL, to_at DATETIME, UNIQUE (deployment_id, unit_id, from_at));"
  "CREATE INDEX fittings_unit ON fittings(unit_id);"

  "CREATE TABLE visits (id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, uuid TEXT NOT NULL UNIQUE,"
  " visit TEXT NOT NULL UNIQUE, station_id INTEGER NOT NULL REFERENCES stations(id), at DATETIME NOT NULL, people TEXT,"
  " found TEXT, camera_clock TEXT, true_clock DATETIME, frames_on_card INTEGER, left_as TEXT, notes TEXT);"
  "CREATE INDEX visits_station ON visits(station_id, at);"

  "CREATE TABLE readings (id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, uuid TEXT NOT NULL UNIQUE,"
  " visit_id INTEGER NOT NULL REFERENCES visits(id), unit_id INTEGER NOT NULL REFERENCES units(id), state TEXT,"
  " volts DOUBLE, percent DOUBLE, action TEXT, notes TEXT, UNIQUE (visit_id, unit_id));"
  "CREATE INDEX readings_unit ON readings(unit_id);"

  "CREATE TABLE species (id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, uuid TEXT NOT NULL UNIQUE,"
  " scientific_name TEXT NOT NULL UNIQUE, rank TEXT, sensitivity TEXT);"
  "CREATE TABLE common_names (id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, uuid TEXT NOT NULL UNIQUE,"
  " species_id INTEGER NOT NULL REFERENCES species(id), language TEXT NOT NULL, name TEXT NOT NULL,"
  " UNIQUE (species_id, language));"

  "CREATE TABLE batches (id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, uuid TEXT NOT NULL UNIQUE,"
  " batch TEXT NOT NULL UNIQUE, deployment_id INTEGER REFERENCES deployments(id), taken_at DATETIME NOT NULL,"
  " source TEXT, folder TEXT, clock_read TEXT, clock_true DATETIME, clock_offset_s DOUBLE, frames INTEGER NOT NULL,"
  " bytes INTEGER NOT NULL, duplicates INTEGER NOT NULL, first_at DATETIME, last_at DATETIME,"
  " active BOOLEAN NOT NULL DEFAULT 0);"
  "CREATE INDEX batches_deployment ON batches(deployment_id);"
  "CREATE TABLE set_aside (id INTEGER PRIMARY KEY NOT NULL, uuid TEXT NOT NULL, batch_id INTEGER NOT NULL REFERENCES batches(id)"
  " ON DELETE CASCADE, file TEXT NOT NULL, reason TEXT NOT NULL, kept_as TEXT);"
  "CREATE INDEX set_aside_batch ON set_aside(batch_id);"

  "CREATE TABLE triggers (id INTEGER PRIMARY KEY NOT NULL, uuid TEXT NOT NULL, batch_id INTEGER NOT NULL"
  " REFERENCES batches(id) ON DELETE CASCADE, deployment_id INTEGER NOT NULL REFERENCES deployments(id),"
  " start_at DATETIME, end_at DATETIME, frames INTEGER NOT NULL);"
  "CREATE INDEX triggers_deployment ON triggers(deployment_id, start_at, batch_id);"
  "CREATE INDEX triggers_batch ON triggers(batch_id);"

  "CREATE TABLE frames (id INTEGER PRIMARY KEY NOT NULL, uuid TEXT NOT NULL, frame TEXT NOT NULL UNIQUE,"
  " batch_id INTEGER NOT NULL REFERENCES batches(id) ON DELETE CASCADE, deployment_id INTEGER NOT NULL"
  " REFERENCES deployments(id), trigger_id INTEGER REFERENCES triggers(id) ON DELETE SET NULL, file TEXT NOT NULL,"
  " camera_time TEXT, time_source TEXT, at DATETIME, sha256 TEXT, bytes INTEGER, damage TEXT);"
  "CREATE INDEX frames_deployment ON frames(deployment_id, at, batch_id);"
  "CREATE INDEX frames_batch ON frames(batch_id);"
  "CREATE INDEX frames_trigger ON frames(trigger_id);"

  "CREATE TABLE observations (id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, uuid TEXT NOT NULL UNIQUE,"
  " observation TEXT NOT NULL UNIQUE, deployment_id INTEGER NOT NULL REFERENCES deployments(id),"
  " trigger_id INTEGER REFERENCES triggers(id), frame_id INTEGER REFERENCES frames(id), start_at DATETIME NOT NULL,"
  " end_at DATETIME, type TEXT NOT NULL, species_id INTEGER REFERENCES species(id), count INTEGER, sex TEXT,"
  " life_stage TEXT, behaviour TEXT, individual TEXT, identified_by TEXT, identified_at DATETIME, certainty DOUBLE,"
  " notes TEXT);"
  "CREATE INDEX observations_deployment ON observations(deployment_id, start_at);"
  "CREATE INDEX observations_species ON observations(species_id, deployment_id, start_at, end_at, count);"
  "CREATE INDEX observations_trigger ON observations(trigger_id);"
  "CREATE INDEX observations_frame ON observations(frame_id);"

  "INSERT INTO gpkg_contents (table_name, data_type, identifier, description, srs_id) VALUES"
  " ('stations', 'features', 'Stations', 'Places where a rig stands or stood', 4326),"
  " ('tracks', 'features', 'Tracks', 'Trails, rivers, boundaries', 4326),"
  " ('units', 'attributes', 'Units', 'Pieces of equipment', NULL),"
  " ('deployments', 'attributes', 'Deployments', 'A rig at a station from a start to an end', NULL),"
  " ('fittings', 'attributes', 'Fittings', 'A unit in a deployment from a start to an end', NULL),"
  " ('visits', 'attributes', 'Visits', 'Somebody at a station', NULL),"
  " ('readings', 'attributes', 'Readings', 'The state of a unit seen on a visit', NULL),"
  " ('species', 'attributes', 'Species', '', NULL),"
  " ('common_names', 'attributes', 'Common names', 'Names of species by language', NULL),"
  " ('batches', 'attributes', 'Card batches', 'What came home on one card', NULL),"
  " ('set_aside', 'attributes', 'Files set aside', 'Files of a card that could not be read as pictures', NULL),"
  " ('triggers', 'attributes', 'Triggers', 'The frames of one firing', NULL),"
  " ('frames', 'attributes', 'Frames', 'Pictures and clips', NULL),"
  " ('observations', 'attributes', 'Observations', 'What a frame or trigger shows', NULL);"
  "INSERT INTO gpkg_geometry_columns VALUES ('stations', 'geom', 'POINT', 4326, 0, 0),"
  " ('tracks', 'geom', 'GEOMETRY', 4326, 2, 0);";

/* Results any GIS can read. Before SQLite 3.41 an aggregate has no declared
 * type; a first SELECT of real columns that returns nothing lends the compound
 * its types. The interval is the project's; the gap is measured from the last
 * frame of the records before. */
static const char views_sql[] =
  "CREATE VIEW detections AS WITH records AS ("
  "  SELECT o.id, o.species_id, d.station_id, o.start_at, coalesce(o.count, 1) AS animals,"
  "   max(coalesce(o.end_at, o.start_at)) OVER (PARTITION BY d.station_id, o.species_id ORDER BY o.start_at, o.id"
  "    ROWS BETWEEN UNBOUNDED PRECEDING AND 1 PRECEDING) AS before"
  "  FROM observations o JOIN deployments d ON d.id = o.deployment_id WHERE o.type = 'animal' AND o.species_id IS NOT NULL)"
  " SELECT o.id AS OGC_FID, s.station AS station, p.scientific_name AS scientific_name, o.start_at AS start_at,"
  "  o.count AS animals FROM observations o, stations s, species p WHERE 0"
  " UNION ALL SELECT r.id, s.station, p.scientific_name, r.start_at, r.animals"
  "  FROM records r JOIN stations s ON s.id = r.station_id JOIN species p ON p.id = r.species_id"
  "  WHERE r.before IS NULL OR round((julianday(r.start_at) - julianday(r.before)) * 86400000) >= 60000 *"
  "   coalesce((SELECT CAST(value AS REAL) FROM settings WHERE key = 'independence_min'), 30);"

  "CREATE VIEW station_detections AS"
  " SELECT s.id AS OGC_FID, s.geom AS geom, s.station AS station, s.name AS name, o.count AS detections,"
  "  o.species_id AS species, o.start_at AS last_seen FROM stations s, observations o WHERE 0"
  " UNION ALL SELECT s.id, s.geom, s.station, s.name, count(d.station), count(DISTINCT d.scientific_name), max(d.start_at)"
  "  FROM stations s LEFT JOIN detections d ON d.station = s.station GROUP BY s.id;"

  "CREATE VIEW species_station_detections AS"
  " SELECT o.id AS OGC_FID, s.geom AS geom, s.station AS station, p.scientific_name AS scientific_name,"
  "  o.count AS detections, o.start_at AS first_seen, o.start_at AS last_seen FROM observations o, stations s, species p WHERE 0"
  " UNION ALL SELECT min(d.OGC_FID), s.geom, d.station, d.scientific_name, count(*), min(d.start_at), max(d.start_at)"
  "  FROM detections d JOIN stations s ON s.station = d.station GROUP BY d.station, d.scientific_name;"

  "INSERT INTO gpkg_contents (table_name, data_type, identifier, description, srs_id) VALUES"
  " ('detections', 'attributes', 'Detections', 'Independent records of a species at a station', NULL),"
  " ('station_detections', 'features', 'Detections per station', '', 4326),"
  " ('species_station_detections', 'features', 'Detections per species and station', '', 4326);"
  "INSERT INTO gpkg_geometry_columns VALUES ('station_detections', 'geom', 'POINT', 4326, 0, 0),"
  " ('species_station_detections', 'geom', 'POINT', 4326, 0, 0);";

/* What happens to units between visits, and what lies on the shelf. */
static const char shelf_sql[] =
  "ALTER TABLE units ADD COLUMN cell_size TEXT;"
  "ALTER TABLE readings ADD COLUMN replacement_id INTEGER REFERENCES units(id);"

  "CREATE TABLE unit_log (id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, uuid TEXT NOT NULL UNIQUE,"
  " entry TEXT NOT NULL UNIQUE, unit_id INTEGER NOT NULL REFERENCES units(id), at DATETIME NOT NULL, what TEXT NOT NULL,"
  " cause TEXT, by_whom TEXT, notes TEXT);"
  "CREATE INDEX unit_log_unit ON unit_log(unit_id, at);"

  "CREATE TABLE stock (id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, uuid TEXT NOT NULL UNIQUE,"
  " item TEXT NOT NULL UNIQUE, what TEXT NOT NULL, label TEXT, cell_size TEXT, chemistry TEXT, cell_mah DOUBLE,"
  " capacity_gb DOUBLE, pieces INTEGER NOT NULL, place TEXT, notes TEXT);"

  "INSERT INTO gpkg_contents (table_name, data_type, identifier, description, srs_id) VALUES"
  " ('unit_log', 'attributes', 'Unit log', 'What happened to a unit apart from visits', NULL),"
  " ('stock', 'attributes', 'Stock', 'What lies on the shelf by the piece', NULL);";

/* Naming: what a frame tells of itself, scores, second opinions, marks, and
 * what was done about a camera's clock.
 *
 * An observation counts unless its opinion is 2 or more: a second person's word
 * is kept beside the first's and enters no result. A trigger whose frames went
 * to another stays, with no frames, so that undo finds it. */
static const char naming_sql[] =
  "ALTER TABLE batches ADD COLUMN camera_model TEXT;"
  "ALTER TABLE batches ADD COLUMN camera_serial TEXT;"
  "ALTER TABLE frames ADD COLUMN place INTEGER;"
  "ALTER TABLE frames ADD COLUMN kind TEXT;"
  "ALTER TABLE frames ADD COLUMN temperature_c DOUBLE;"
  "ALTER TABLE frames ADD COLUMN flash BOOLEAN;"
  "ALTER TABLE frames ADD COLUMN sequence INTEGER;"
  "ALTER TABLE triggers ADD COLUMN blank_score DOUBLE;"
  "ALTER TABLE observations ADD COLUMN opinion INTEGER;"
  "CREATE INDEX observations_beside ON observations(trigger_id) WHERE opinion >= 2;"

  "CREATE TABLE frame_marks (id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, uuid TEXT NOT NULL UNIQUE,"
  " frame_id INTEGER NOT NULL REFERENCES frames(id) ON DELETE CASCADE, mark TEXT NOT NULL, by_whom TEXT,"
  " at DATETIME NOT NULL, UNIQUE (frame_id, mark));"

  "CREATE TABLE clock_pieces (id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, uuid TEXT NOT NULL UNIQUE,"
  " batch_id INTEGER NOT NULL REFERENCES batches(id) ON DELETE CASCADE, first_place INTEGER NOT NULL,"
  " frames INTEGER NOT NULL, why TEXT NOT NULL, anchor TEXT, shift_s DOUBLE NOT NULL, drift_s_per_day DOUBLE NOT NULL);"
  "CREATE INDEX clock_pieces_batch ON clock_pieces(batch_id, first_place);"

  "INSERT INTO gpkg_contents (table_name, data_type, identifier, description, srs_id) VALUES"
  " ('frame_marks', 'attributes', 'Marks', 'Frames put aside for a purpose', NULL),"
  " ('clock_pieces', 'attributes', 'Clock corrections', 'What was added to the readings of a camera', NULL);"

  "DROP VIEW detections;"
  "CREATE VIEW detections AS WITH records AS ("
  "  SELECT o.id, o.species_id, d.station_id, o.start_at, coalesce(o.count, 1) AS animals,"
  "   max(coalesce(o.end_at, o.start_at)) OVER (PARTITION BY d.station_id, o.species_id ORDER BY o.start_at, o.id"
  "    ROWS BETWEEN UNBOUNDED PRECEDING AND 1 PRECEDING) AS before"
  "  FROM observations o JOIN deployments d ON d.id = o.deployment_id WHERE o.type = 'animal'"
  "   AND o.species_id IS NOT NULL AND coalesce(o.opinion, 1) < 2)"
  " SELECT o.id AS OGC_FID, s.station AS station, p.scientific_name AS scientific_name, o.start_at AS start_at,"
  "  o.count AS animals FROM observations o, stations s, species p WHERE 0"
  " UNION ALL SELECT r.id, s.station, p.scientific_name, r.start_at, r.animals"
  "  FROM records r JOIN stations s ON s.id = r.station_id JOIN species p ON p.id = r.species_id"
  "  WHERE r.before IS NULL OR round((julianday(r.start_at) - julianday(r.before)) * 86400000) >= 60000 *"
  "   coalesce((SELECT CAST(value AS REAL) FROM settings WHERE key = 'independence_min'), 30);";

/* Observations brought in before are told the trigger they fall on: the one that
 * holds their start, else the first that starts within them. */
static const char linking_sql[] =
  "UPDATE observations SET trigger_id = l.trigger_id FROM (SELECT o.id AS id, coalesce("
  " (SELECT CASE WHEN n.end_at >= o.start_at THEN n.id END FROM (SELECT t.id, t.end_at FROM triggers t"
  "   JOIN batches b ON b.id = t.batch_id WHERE t.deployment_id = o.deployment_id AND t.start_at <= o.start_at"
  "   AND b.active ORDER BY t.start_at DESC LIMIT 1) n),"
  " (SELECT t.id FROM triggers t JOIN batches b ON b.id = t.batch_id WHERE t.deployment_id = o.deployment_id"
  "   AND t.start_at > o.start_at AND t.start_at <= o.end_at AND b.active ORDER BY t.start_at LIMIT 1)) AS trigger_id"
  "  FROM observations o WHERE o.trigger_id IS NULL AND o.frame_id IS NULL) l"
  " WHERE observations.id = l.id AND l.trigger_id IS NOT NULL;";

static const char *const step_1[] = { geopackage_sql, tables_sql, NULL };
static const char *const step_2[] = { views_sql, NULL };

static const char *const step_3[] = { shelf_sql, NULL };
static const char *const step_4[] = { naming_sql, linking_sql, NULL };

static const char *const *const steps[TPT_SCHEMA_VERSION] = { step_1, step_2, step_3, step_4 };

gboolean
tpt_schema_read_version (TptDb *db, gint64 *version, GError **error)
{
  gint64 application_id, ours;

  if (!tpt_db_query_int (db, "PRAGMA application_id", &application_id, error) ||
      !tpt_db_query_int (db, "SELECT count(*) FROM sqlite_schema WHERE type = 'table' AND name IN ('settings', 'journal', 'stations')",
                         &ours, error))
    return FALSE;
  if (application_id != TPT_APPLICATION_ID || ours != 3)
    {
      g_set_error_literal (error, TPT_ERROR, TPT_ERROR_PROJECT,
                           application_id == TPT_APPLICATION_ID
                             ? _("This is a GeoPackage of another program, not a Tapetum project")
                             : _("This is not a Tapetum project"));
      return FALSE;
    }
  if (!tpt_db_query_int (db, "SELECT CAST(value AS INTEGER) FROM settings WHERE key = 'schema'", version, error))
    return FALSE;
  if (*version >= 1)
    return TRUE;
  g_set_error_literal (error, TPT_ERROR, TPT_ERROR_PROJECT, _("This project is damaged: it does not say its file version"));
  return FALSE;
}

static gboolean
stamp (TptDb *db, int version, TptInstant now, GError **error)
{
  g_autoptr (TptStmt) schema =
    tpt_db_prepare (db, "INSERT INTO settings VALUES ('schema', ?1) ON CONFLICT (key) DO UPDATE SET value = ?1", error);
  g_autoptr (TptStmt) contents = tpt_db_prepare (db, "UPDATE gpkg_contents SET last_change = ?1", error);
  g_autofree char *number = g_strdup_printf ("%d", version);

  if (schema == NULL || contents == NULL)
    return FALSE;
  tpt_stmt_bind_text (schema, 1, number);
  tpt_stmt_bind_instant (contents, 1, now);
  return tpt_stmt_run (schema, error) && tpt_stmt_run (contents, error);
}

gboolean
tpt_schema_migrate (TptDb *db, int from, int to, TptInstant now, GError **error)
{
  for (int step = from; step < to; step++)
    for (const char *const *sql = steps[step]; *sql != NULL; sql++)
      if (!tpt_db_exec (db, *sql, error))
        return FALSE;

  return from == to || stamp (db, to, now, error);
}
