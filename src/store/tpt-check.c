#include "config.h"

#include <glib/gi18n-lib.h>

#include "tpt-schema.h"
#include "tpt-store-private.h"

static void
report (GPtrArray *problems, const char *format, ...) G_GNUC_PRINTF (2, 3);

static void
report (GPtrArray *problems, const char *format, ...)
{
  va_list args;

  va_start (args, format);
  g_ptr_array_add (problems, g_strdup_vprintf (format, args));
  va_end (args);
}

static gboolean
check_integrity (TptDb *db, GPtrArray *problems, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (db, "PRAGMA integrity_check", error);
  GError *failure = NULL;

  if (stmt == NULL)
    return FALSE;
  while (tpt_stmt_next (stmt, &failure))
    if (g_strcmp0 (tpt_stmt_text (stmt, 0), "ok") != 0)
      report (problems, _("The file is damaged: %s"), tpt_stmt_text (stmt, 0));
  if (failure == NULL)
    return TRUE;
  g_propagate_error (error, failure);
  return FALSE;
}

static gboolean
check_references (TptDb *db, GPtrArray *problems, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (db, "PRAGMA foreign_key_check", error);
  GError *failure = NULL;

  if (stmt == NULL)
    return FALSE;
  while (tpt_stmt_next (stmt, &failure))
    report (problems, _("Row %d of %s refers to a row of %s that is not there"), (int) tpt_stmt_int (stmt, 1),
            tpt_stmt_text (stmt, 0), tpt_stmt_text (stmt, 2));
  if (failure == NULL)
    return TRUE;
  g_propagate_error (error, failure);
  return FALSE;
}

/* Each query counts rows that must not be there. */
static const struct {
  const char *sql;
  const char *says;
} rules[] = {
  { "SELECT count(*) FROM gpkg_contents c WHERE NOT EXISTS (SELECT 1 FROM sqlite_schema s WHERE s.name = c.table_name)",
    N_("The list of contents names %d tables that are not in the file") },
  { "SELECT count(*) FROM gpkg_geometry_columns g WHERE g.table_name NOT IN (SELECT table_name FROM gpkg_contents)",
    N_("%d geometry columns belong to no listed table") },
  { "SELECT 4 - count(*) FROM gpkg_contents WHERE table_name IN ('stations', 'tracks', 'units', 'frames')",
    N_("%d tables are missing from the list of contents") },
  { "SELECT count(*) FROM stations WHERE geom IS NOT NULL AND (length(geom) < 29 OR substr(geom, 1, 2) <> X'4750')",
    N_("%d stations have a position that cannot be read") },
  { "SELECT count(*) FROM deployments WHERE end_at < start_at", N_("%d deployments end before they start") },
  { "SELECT count(*) FROM fittings WHERE to_at < from_at", N_("%d fittings end before they start") },
  { "SELECT count(*) FROM observations WHERE end_at < start_at", N_("%d observations end before they start") },
  { "SELECT count(*) FROM batches b WHERE b.frames <> (SELECT count(*) FROM frames f WHERE f.batch_id = b.id)",
    N_("%d card batches hold another number of frames than was taken in") },
  { "SELECT count(*) FROM triggers t WHERE t.frames <> (SELECT count(*) FROM frames f WHERE f.trigger_id = t.id)",
    N_("%d triggers hold another number of frames than was grouped") },
  { "SELECT count(*) FROM frames f JOIN batches b ON b.id = f.batch_id WHERE f.deployment_id <> b.deployment_id",
    N_("%d frames belong to another deployment than their card batch") },
  { "SELECT count(*) FROM journal WHERE kind <> 'do' AND of_id IS NULL", N_("%d entries of the journal undo nothing") },
  { "SELECT count(*) FROM journal WHERE of_id >= id", N_("%d entries of the journal refer to a later one") },
  { "SELECT count(*) FROM journal WHERE length(changeset) = 0", N_("%d entries of the journal are empty") },
  { "SELECT count(*) FROM frames WHERE file LIKE '/%' OR file LIKE '../%' OR file LIKE '%/../%'",
    N_("%d frames point outside the project’s folder") },
};

static gboolean
check_rules (TptDb *db, GPtrArray *problems, GError **error)
{
  gint64 number;

  for (gsize i = 0; i < G_N_ELEMENTS (rules); i++)
    {
      if (!tpt_db_query_int (db, rules[i].sql, &number, error))
        return FALSE;
      if (number != 0)
        {
          g_autofree char *count = g_strdup_printf ("%" G_GINT64_FORMAT, number);
          g_auto (GStrv) parts = g_strsplit (_(rules[i].says), "%d", 2);

          report (problems, "%s%s%s", parts[0], count, parts[1] != NULL ? parts[1] : "");
        }
    }
  return TRUE;
}

static gboolean
check_header (TptDb *db, GPtrArray *problems, GError **error)
{
  gint64 application_id, user_version;

  if (!tpt_db_query_int (db, "PRAGMA application_id", &application_id, error) ||
      !tpt_db_query_int (db, "PRAGMA user_version", &user_version, error))
    return FALSE;
  if (application_id != TPT_APPLICATION_ID)
    report (problems, _("The file does not say that it is a GeoPackage"));
  if (user_version < 10200 || user_version >= 20000)
    report (problems, _("The file says it is GeoPackage version %d"), (int) user_version);
  return TRUE;
}

GPtrArray *
tpt_store_check (TptStore *self, GError **error)
{
  g_autoptr (GPtrArray) problems = g_ptr_array_new_with_free_func (g_free);

  if (!check_header (self->db, problems, error) || !check_integrity (self->db, problems, error) ||
      !check_references (self->db, problems, error) || !check_rules (self->db, problems, error))
    return NULL;
  return g_steal_pointer (&problems);
}
