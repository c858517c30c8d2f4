#include "config.h"

#include "tpt-records.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "tpt-error.h"
#include "tpt-geometry.h"
#include "tpt-store-private.h"

/* The position of a station is kept in its geometry, not in two columns. */
static gboolean
is_position (const TptTable *table, const TptColumn *column)
{
  return table->id == TPT_TABLE_STATIONS &&
         (g_str_equal (column->name, "latitude") || g_str_equal (column->name, "longitude"));
}

static const char *
code_column (TptTableId table)
{
  return tpt_table_get (table)->columns[0].column;
}

/* SQL for a column's value as the domain has it: references as codes. */
static void
append_value (GString *sql, const TptTable *table, const TptColumn *column)
{
  if (is_position (table, column))
    g_string_append (sql, "t.geom");
  else if (column->type == TPT_COLUMN_REFERENCE)
    g_string_append_printf (sql, "(SELECT r.\"%s\" FROM %s r WHERE r.id = t.%s)", code_column (column->refers),
                            tpt_table_get (column->refers)->name, column->column);
  else
    g_string_append_printf (sql, "t.\"%s\"", column->column);
}

static const char *
order_of (TptTableId table)
{
  switch (table)
    {
    case TPT_TABLE_DEPLOYMENTS:
    case TPT_TABLE_OBSERVATIONS:
      return "t.start_at, t.id";
    case TPT_TABLE_FITTINGS:
      return "t.from_at, t.id";
    case TPT_TABLE_VISITS:
    case TPT_TABLE_UNIT_LOG:
      return "t.at, t.id";
    case TPT_TABLE_STATIONS:
    case TPT_TABLE_UNITS:
    case TPT_TABLE_READINGS:
    case TPT_TABLE_SPECIES:
    case TPT_TABLE_FRAMES:
    case TPT_TABLE_STOCK:
    case TPT_N_TABLES:
    default:
      return "3, 4, t.id";
    }
}

static GString *
start_select (const TptTable *table)
{
  GString *sql = g_string_new ("SELECT t.id, t.uuid");

  for (guint i = 0; i < table->n_columns; i++)
    {
      g_string_append (sql, ", ");
      append_value (sql, table, &table->columns[i]);
    }
  g_string_append_printf (sql, " FROM %s t", table->name);
  return sql;
}

static void
read_position (TptStmt *stmt, int index, TptRecord *record)
{
  double latitude, longitude;
  gsize size;
  const void *blob = tpt_stmt_blob (stmt, index, &size);

  if (!tpt_geometry_to_point (blob, size, &latitude, &longitude))
    return;
  tpt_record_set_real (record, "latitude", latitude);
  tpt_record_set_real (record, "longitude", longitude);
}

static TptRecord *
read_row (TptStmt *stmt, const TptTable *table)
{
  TptRecord *record = tpt_record_new (table->id);

  tpt_record_set_identity (record, tpt_stmt_int (stmt, 0), tpt_stmt_text (stmt, 1));
  for (guint i = 0; i < table->n_columns; i++)
    {
      const TptColumn *column = &table->columns[i];
      int index = (int) i + 2;

      if (is_position (table, column))
        read_position (stmt, index, record);
      else if (tpt_stmt_is_null (stmt, index))
        continue;
      else if (column->type == TPT_COLUMN_REAL)
        tpt_record_set_real (record, column->name, tpt_stmt_double (stmt, index));
      else if (column->type == TPT_COLUMN_INTEGER)
        tpt_record_set_integer (record, column->name, tpt_stmt_int (stmt, index));
      else if (column->type == TPT_COLUMN_INSTANT)
        tpt_record_set_instant (record, column->name, tpt_stmt_instant (stmt, index));
      else
        tpt_record_set_text (record, column->name, tpt_stmt_text (stmt, index));
    }
  return record;
}

static gboolean
read_names (TptStore *self, TptRecord *record, GError **error)
{
  g_autoptr (TptStmt) stmt = NULL;
  GError *failure = NULL;

  if (tpt_record_get_table (record)->id != TPT_TABLE_SPECIES)
    return TRUE;
  stmt = tpt_db_prepare (self->db, "SELECT language, name FROM common_names WHERE species_id = ?1", error);
  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, tpt_record_get_id (record));
  while (tpt_stmt_next (stmt, &failure))
    tpt_record_set_name (record, tpt_stmt_text (stmt, 0), tpt_stmt_text (stmt, 1));
  if (failure == NULL)
    return TRUE;
  g_propagate_error (error, failure);
  return FALSE;
}

GPtrArray *
tpt_store_list (TptStore *self, TptTableId id, const char *column, const char *value, GError **error)
{
  const TptTable *table = tpt_table_get (id);
  g_autoptr (GString) sql = start_select (table);
  g_autoptr (TptStmt) stmt = NULL;
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func (g_object_unref);
  GError *failure = NULL;

  if (column != NULL)
    {
      const TptColumn *match = &table->columns[tpt_table_find (table, column)];

      g_string_append_printf (sql, " WHERE t.\"%s\" = ", match->column);
      if (match->type == TPT_COLUMN_REFERENCE)
        g_string_append_printf (sql, "(SELECT id FROM %s WHERE \"%s\" = ?1)", tpt_table_get (match->refers)->name,
                                code_column (match->refers));
      else
        g_string_append (sql, "?1");
    }
  g_string_append_printf (sql, " ORDER BY %s", order_of (id));

  stmt = tpt_db_prepare (self->db, sql->str, error);
  if (stmt == NULL)
    return NULL;
  if (column != NULL)
    tpt_stmt_bind_text (stmt, 1, value);
  while (failure == NULL && tpt_stmt_next (stmt, &failure))
    {
      TptRecord *record = read_row (stmt, table);

      g_ptr_array_add (rows, record);
      read_names (self, record, &failure);
    }
  if (failure != NULL)
    {
      g_propagate_error (error, failure);
      return NULL;
    }
  return g_steal_pointer (&rows);
}

/* Frames of a withdrawn batch are kept for a redo, but nobody sees them. */
static void
append_counts (GString *sql, const TptTable *table)
{
  if (table->id == TPT_TABLE_FRAMES)
    g_string_append (sql, " AND t.batch_id IN (SELECT id FROM batches WHERE active)");
}

static TptRecord *
find_where (TptStore *self, const TptTable *table, TptStmt *stmt, GError **error)
{
  g_autoptr (TptRecord) record = NULL;

  if (!tpt_stmt_next (stmt, error))
    return NULL;
  record = read_row (stmt, table);
  return read_names (self, record, error) ? g_steal_pointer (&record) : NULL;
}

TptRecord *
tpt_store_find (TptStore *self, TptTableId id, const char *code, GError **error)
{
  const TptTable *table = tpt_table_get (id);
  g_autoptr (GString) sql = start_select (table);
  g_autoptr (TptStmt) stmt = NULL;

  g_string_append_printf (sql, " WHERE t.\"%s\" = ?1", code_column (id));
  append_counts (sql, table);
  stmt = tpt_db_prepare (self->db, sql->str, error);
  if (stmt == NULL)
    return NULL;
  tpt_stmt_bind_text (stmt, 1, code);
  return find_where (self, table, stmt, error);
}

static void
append_match (GString *sql, const TptColumn *column, guint parameter)
{
  if (column->type == TPT_COLUMN_REFERENCE)
    g_string_append_printf (sql, "t.%s = (SELECT id FROM %s WHERE \"%s\" = ?%u)", column->column,
                            tpt_table_get (column->refers)->name, code_column (column->refers), parameter);
  else
    g_string_append_printf (sql, "t.\"%s\" = ?%u", column->column, parameter);
}

static void
bind_value (TptStmt *stmt, int parameter, TptRecord *record, const TptColumn *column)
{
  if (!tpt_record_is_set (record, column->name))
    tpt_stmt_bind_null (stmt, parameter);
  else if (column->type == TPT_COLUMN_REAL)
    tpt_stmt_bind_double (stmt, parameter, tpt_record_get_real (record, column->name));
  else if (column->type == TPT_COLUMN_INTEGER)
    tpt_stmt_bind_int (stmt, parameter, tpt_record_get_integer (record, column->name, 0));
  else if (column->type == TPT_COLUMN_INSTANT)
    tpt_stmt_bind_instant (stmt, parameter, tpt_record_get_instant (record, column->name));
  else
    tpt_stmt_bind_text (stmt, parameter, tpt_record_get_text (record, column->name));
}

static TptRecord *
find_by_id (TptStore *self, const TptTable *table, gint64 id, GError **error)
{
  g_autoptr (GString) sql = start_select (table);
  g_autoptr (TptStmt) stmt = NULL;

  g_string_append (sql, " WHERE t.id = ?1");
  stmt = tpt_db_prepare (self->db, sql->str, error);
  if (stmt == NULL)
    return NULL;
  tpt_stmt_bind_int (stmt, 1, id);
  return find_where (self, table, stmt, error);
}

TptRecord *
tpt_store_find_like (TptStore *self, TptRecord *like, GError **error)
{
  const TptTable *table = tpt_record_get_table (like);
  g_autoptr (GString) sql = start_select (table);
  g_autoptr (TptStmt) stmt = NULL;

  for (guint i = 0; i < table->n_key; i++)
    {
      g_string_append (sql, i == 0 ? " WHERE " : " AND ");
      append_match (sql, &table->columns[i], i + 1);
    }
  append_counts (sql, table);
  stmt = tpt_db_prepare (self->db, sql->str, error);
  if (stmt == NULL)
    return NULL;
  for (guint i = 0; i < table->n_key; i++)
    bind_value (stmt, (int) i + 1, like, &table->columns[i]);
  return find_where (self, table, stmt, error);
}

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
  g_autofree char *sql = g_strdup_printf ("SELECT id FROM %s WHERE \"%s\" = ?1", other->name, code_column (other->id));
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

      if (is_position (table, column))
        bind_position (stmt, parameter, record);
      else if (column->type != TPT_COLUMN_REFERENCE)
        bind_value (stmt, parameter, record, column);
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
      if (is_position (table, &table->columns[i]) && g_str_equal (table->columns[i].name, "longitude"))
        continue;
      g_string_append_printf (sql, ", \"%s\"", is_position (table, &table->columns[i]) ? "geom" : table->columns[i].column);
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
      if (is_position (table, &table->columns[i]) && g_str_equal (table->columns[i].name, "longitude"))
        continue;
      g_string_append_printf (sql, "%s\"%s\" = ?%u", comma,
                              is_position (table, &table->columns[i]) ? "geom" : table->columns[i].column, i + 2);
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

  old = tpt_record_get_id (record) != 0 ? find_by_id (self, table, tpt_record_get_id (record), &failure)
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
  g_autofree char *sql = g_strdup_printf ("SELECT count(*) FROM %s WHERE \"%s\" = ?1", tpt_table_get (id)->name, code_column (id));

  return tpt_store_find_free_code (self, sql, stem, "-", error);
}
