#include "config.h"

#include "tpt-records.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "tpt-error.h"
#include "tpt-geometry.h"
#include "tpt-records-private.h"

static gboolean
blame (const char **column, const char *name)
{
  if (column != NULL)
    *column = name;
  return FALSE;
}

/* The integer key behind a reference; 0 when unset. */
static gboolean
resolve (TptStore *self, TptRecord *record, const TptColumn *column, gint64 *id, GError **error)
{
  const TptTable *other = tpt_table_get (column->refers);
  g_autofree char *sql = g_strdup_printf ("SELECT id FROM %s WHERE \"%s\" = ?1", other->name, tpt_records_code_column (other->id));
  g_autoptr (TptStmt) stmt = NULL;
  const char *code = tpt_record_get_text (record, column->name);
  GError *failure = NULL;

  *id = 0;
  if (code == NULL)
    return TRUE;
  stmt = tpt_db_prepare (self->db, sql, error);
  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_text (stmt, 1, code);
  if (tpt_stmt_next (stmt, &failure))
    {
      *id = tpt_stmt_int (stmt, 0);
      return TRUE;
    }
  if (failure != NULL)
    g_propagate_error (error, failure);
  else
    g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("there is no %s “%s” in this project"), _(other->singular), code);
  return FALSE;
}

static void
bind_position (TptStmt *stmt, int parameter, TptRecord *record)
{
  g_autoptr (GBytes) point = NULL;
  gconstpointer data;
  gsize size;

  if (!tpt_record_is_set (record, "latitude"))
    return;
  point = tpt_geometry_from_point (tpt_record_get_real (record, "latitude"), tpt_record_get_real (record, "longitude"));
  data = g_bytes_get_data (point, &size);
  tpt_stmt_bind_blob (stmt, parameter, data, size);
}

/* Parameters: 1 the uuid (insert) or the id (update), then one per column. */
static gboolean
bind_row (TptStore *self, TptStmt *stmt, TptRecord *record, const char **fault, GError **error)
{
  const TptTable *table = tpt_record_get_table (record);

  for (guint i = 0; i < table->n_columns; i++)
    {
      const TptColumn *column = &table->columns[i];
      int parameter = (int) i + 2;
      gint64 id;

      if (tpt_records_is_position (table, column))
        bind_position (stmt, parameter, record);
      else if (column->type != TPT_COLUMN_REFERENCE)
        tpt_records_bind_value (stmt, parameter, record, column);
      else if (!resolve (self, record, column, &id, error))
        return blame (fault, column->name);
      else if (id != 0)
        tpt_stmt_bind_int (stmt, parameter, id);
    }
  return TRUE;
}

static GString *
write_insert (const TptTable *table)
{
  GString *sql = g_string_new (NULL);
  GString *values = g_string_new (NULL);

  g_string_append_printf (sql, "INSERT INTO %s (uuid", table->name);
  for (guint i = 0; i < table->n_columns; i++)
    {
      if (tpt_records_is_position (table, &table->columns[i]) && g_str_equal (table->columns[i].name, "longitude"))
        continue;
      g_string_append_printf (sql, ", \"%s\"", tpt_records_is_position (table, &table->columns[i]) ? "geom" : table->columns[i].column);
      g_string_append_printf (values, ", ?%u", i + 2);
    }
  g_string_append_printf (sql, ") VALUES (?1%s)", values->str);
  g_string_free (values, TRUE);
  return sql;
}

static GString *
write_update (const TptTable *table)
{
  GString *sql = g_string_new (NULL);
  const char *comma = "";

  g_string_append_printf (sql, "UPDATE %s SET ", table->name);
  for (guint i = 0; i < table->n_columns; i++)
    {
      if (tpt_records_is_position (table, &table->columns[i]) && g_str_equal (table->columns[i].name, "longitude"))
        continue;
      g_string_append_printf (sql, "%s\"%s\" = ?%u", comma,
                              tpt_records_is_position (table, &table->columns[i]) ? "geom" : table->columns[i].column, i + 2);
      comma = ", ";
    }
  g_string_append (sql, " WHERE id = ?1");
  return sql;
}

static gboolean
insert_row (TptStore *self, TptRecord *record, const char **column, GError **error)
{
  g_autoptr (GString) sql = write_insert (tpt_record_get_table (record));
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db, sql->str, error);
  g_autofree char *uuid = tpt_record_get_uuid (record) != NULL ? g_strdup (tpt_record_get_uuid (record)) : tpt_store_new_uuid (self);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_text (stmt, 1, uuid);
  if (!bind_row (self, stmt, record, column, error) || !tpt_stmt_run (stmt, error))
    return FALSE;
  tpt_record_set_identity (record, tpt_db_last_id (self->db), uuid);
  return TRUE;
}

static gboolean
update_row (TptStore *self, TptRecord *record, const char **column, GError **error)
{
  g_autoptr (GString) sql = write_update (tpt_record_get_table (record));
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db, sql->str, error);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, tpt_record_get_id (record));
  return bind_row (self, stmt, record, column, error) && tpt_stmt_run (stmt, error);
}

static gboolean
write_names (TptStore *self, TptRecord *record, TptRecord *old, GError **error)
{
  g_autoptr (TptStmt) put = tpt_db_prepare (self->db,
                                            "INSERT INTO common_names (uuid, species_id, language, name) VALUES (?1, ?2, ?3, ?4)"
                                            " ON CONFLICT (species_id, language) DO UPDATE SET name = ?4",
                                            error);
  g_autoptr (TptStmt) drop =
    tpt_db_prepare (self->db, "DELETE FROM common_names WHERE species_id = ?1 AND language = ?2", error);
  GHashTable *names = tpt_record_get_names (record);
  g_autoptr (GList) languages = g_list_sort (g_hash_table_get_keys (names), (GCompareFunc) strcmp);
  g_autoptr (GList) before = old != NULL ? g_hash_table_get_keys (tpt_record_get_names (old)) : NULL;

  if (put == NULL || drop == NULL)
    return FALSE;
  for (GList *l = languages; l != NULL; l = l->next)
    {
      g_autofree char *uuid = tpt_store_new_uuid (self);

      tpt_stmt_bind_text (put, 1, uuid);
      tpt_stmt_bind_int (put, 2, tpt_record_get_id (record));
      tpt_stmt_bind_text (put, 3, l->data);
      tpt_stmt_bind_text (put, 4, g_hash_table_lookup (names, l->data));
      if (!tpt_stmt_run (put, error))
        return FALSE;
    }
  for (GList *l = before; l != NULL; l = l->next)
    {
      if (g_hash_table_contains (names, l->data))
        continue;
      tpt_stmt_bind_int (drop, 1, tpt_record_get_id (record));
      tpt_stmt_bind_text (drop, 2, l->data);
      if (!tpt_stmt_run (drop, error))
        return FALSE;
    }
  return TRUE;
}

/* A unit is in one rig at a time. (A DATETIME column has numeric affinity: a
 * bare '9999' would be compared as a number, and every text is more than that.) */
static gboolean
check_fitting (TptStore *self, TptRecord *record, const char **column, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "SELECT d.deployment FROM fittings f JOIN deployments d ON d.id = f.deployment_id"
                    " WHERE f.unit_id = (SELECT id FROM units WHERE unit = ?1) AND f.id <> ?2"
                    " AND f.from_at < coalesce(?4, '9999-12-31') AND coalesce(f.to_at, '9999-12-31') > ?3 LIMIT 1",
                    error);
  GError *failure = NULL;

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_text (stmt, 1, tpt_record_get_text (record, "unit"));
  tpt_stmt_bind_int (stmt, 2, tpt_record_get_id (record));
  tpt_stmt_bind_instant (stmt, 3, tpt_record_get_instant (record, "from"));
  tpt_stmt_bind_instant (stmt, 4, tpt_record_get_instant (record, "to"));
  if (tpt_stmt_next (stmt, &failure))
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("unit “%s” is in deployment “%s” at that time"),
                   tpt_record_get_text (record, "unit"), tpt_stmt_text (stmt, 0));
      return blame (column, "unit");
    }
  if (failure != NULL)
    g_propagate_error (error, failure);
  return failure == NULL;
}

static gboolean
check_against_project (TptStore *self, TptRecord *record, const char **column, GError **error)
{
  if (!tpt_record_check (record, column, error))
    return FALSE;
  return tpt_record_get_table (record)->id != TPT_TABLE_FITTINGS || check_fitting (self, record, column, error);
}

gboolean
tpt_store_save (TptStore *self, TptRecord *record, TptSaved *saved, const char **column, GError **error)
{
  const TptTable *table = tpt_record_get_table (record);
  g_autoptr (TptRecord) old = NULL;
  GError *failure = NULL;
  TptSaved outcome = TPT_SAVED_UNCHANGED;

  g_return_val_if_fail (self->action != NULL, FALSE);

  old = tpt_record_get_id (record) != 0 ? tpt_records_find_by_id (self, table, tpt_record_get_id (record), &failure)
                                        : tpt_store_find_like (self, record, &failure);
  if (failure != NULL)
    {
      g_propagate_error (error, failure);
      return FALSE;
    }
  if (old != NULL)
    tpt_record_set_identity (record, tpt_record_get_id (old), tpt_record_get_uuid (old));

  if (old == NULL || !tpt_record_equal (old, record))
    {
      if (!check_against_project (self, record, column, error) ||
          !(old != NULL ? update_row (self, record, column, error) : insert_row (self, record, column, error)))
        return FALSE;
      outcome = old != NULL ? TPT_SAVED_UPDATED : TPT_SAVED_ADDED;
      if (table->id == TPT_TABLE_SPECIES && !write_names (self, record, old, error))
        return FALSE;
    }
  if (saved != NULL)
    *saved = outcome;
  return TRUE;
}

static gboolean
run_with_id (TptStore *self, const char *sql, gint64 id, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db, sql, error);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, id);
  return tpt_stmt_run (stmt, error);
}

/* The common names of a species are a part of it, and go when it can go. */
static gboolean
remove_names (TptStore *self, TptRecord *record, GError **error)
{
  return tpt_record_get_table (record)->id != TPT_TABLE_SPECIES ||
         run_with_id (self,
                      "DELETE FROM common_names WHERE species_id = ?1"
                      " AND NOT EXISTS (SELECT 1 FROM observations WHERE species_id = ?1)",
                      tpt_record_get_id (record), error);
}

gboolean
tpt_store_remove (TptStore *self, TptRecord *record, GError **error)
{
  const TptTable *table = tpt_record_get_table (record);
  g_autofree char *sql = g_strdup_printf ("DELETE FROM %s WHERE id = ?1", table->name);
  GError *failure = NULL;

  g_return_val_if_fail (self->action != NULL, FALSE);

  if (remove_names (self, record, &failure) && run_with_id (self, sql, tpt_record_get_id (record), &failure))
    return TRUE;
  if (g_error_matches (failure, TPT_ERROR, TPT_ERROR_DATA))
    {
      g_clear_error (&failure);
      g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("%s “%s” has a history on record and stays"), _(table->singular),
                   tpt_record_get_code (record));
    }
  else
    g_propagate_error (error, failure);
  return FALSE;
}

gboolean
tpt_store_check_stations (TptStore *self, const char *const *stations, GError **error)
{
  for (guint i = 0; stations != NULL && stations[i] != NULL; i++)
    {
      GError *failure = NULL;
      g_autoptr (TptRecord) station = tpt_store_find (self, TPT_TABLE_STATIONS, stations[i], &failure);

      if (failure != NULL)
        g_propagate_error (error, failure);
      else if (station == NULL)
        g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("There is no station “%s” in this project"), stations[i]);
      if (station == NULL)
        return FALSE;
    }
  return TRUE;
}

char *
tpt_store_find_free_code (TptStore *self, const char *sql, const char *stem, const char *dash, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db, sql, error);

  if (stmt == NULL)
    return NULL;
  for (int number = 1;; number++)
    {
      g_autofree char *code = g_strdup_printf ("%s%s%02d", stem, dash, number);
      gboolean taken;

      tpt_stmt_bind_text (stmt, 1, code);
      if (!tpt_stmt_next (stmt, error))
        return NULL;
      taken = tpt_stmt_int (stmt, 0) > 0;
      if (!tpt_stmt_run (stmt, error))
        return NULL;
      if (!taken)
        return g_steal_pointer (&code);
    }
}

char *
tpt_store_make_code (TptStore *self, TptTableId id, const char *stem, GError **error)
{
  g_autofree char *sql = g_strdup_printf ("SELECT count(*) FROM %s WHERE \"%s\" = ?1", tpt_table_get (id)->name, tpt_records_code_column (id));

  return tpt_store_find_free_code (self, sql, stem, "-", error);
}
